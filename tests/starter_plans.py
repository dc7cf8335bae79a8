"""Plans with a starter that ripens, and the chats in which they are cooked, for tests."""

from __future__ import annotations

from datetime import datetime, timedelta

from tests.talk_kit import ZONE, Talk, at

LOAF = """\
crockbell: 1
title: Sunday bread
serve: 2026-05-10 19:30
zone: Europe/Lisbon
kitchen:
  awake: 06:30-23:00
  gear: {oven: 1}
components:
  - name: Loaf
    steps:
      - name: Feed the starter
        hands-on: 5 min
        amounts: {starter: 60 g, flour: 60 g, water: 60 g}
      - name: Starter ripens
        ripens: {ratio: 1:1:1, at: 22 C}
        keeps: 1 h
      - name: Mix the dough
        hands-on: 20 min
        amounts: {flour: 800 g, water: 560 g, salt: 2 % of flour, ripe starter: 180 g}
      - name: Dough rises
        unattended: 3 h to 4 h
        keeps: 1 h
      - name: Bake the loaf
        nearby: 50 min
        oven: 230 C
        keeps: 1 d
"""
"""A loaf from a starter that is fed in the morning; served on Sunday the 10th of May."""


def with_ripens(text: str, source: str = LOAF) -> str:
    """The loaf with other lines in the place of what its starter says."""
    return source.replace("        ripens: {ratio: 1:1:1, at: 22 C}\n", text)


def served(day: int, source: str = LOAF) -> str:
    """The loaf for another day of May."""
    return source.replace("2026-05-10", f"2026-05-{day:02}")


def on_day(day: int, clock: str) -> datetime:
    return at(f"2026-05-{day:02} {clock}")


def cooked(talk: Talk, day: int, took: timedelta, source: str = LOAF) -> Talk:
    """The loaf of that day cooked up to its ripe starter, which was fed at the planned time and took so long."""
    talk.clock.move_to(max(talk.now, on_day(day - 1, "12:00")))
    talk.send(served(day, source))
    talk.press("Use this plan")
    fed = talk.slot("Feed the starter").end
    talk.wait_until(fed)
    talk.say("fed the starter")
    talk.wait_until(fed + took)
    talk.say("the starter is ripe")
    return talk


def settled(day: int = 1) -> Talk:
    """A cook who has been here a while, on that day of May at noon."""
    return Talk(on_day(day, "12:00"))


__all__ = ["LOAF", "ZONE", "cooked", "on_day", "served", "settled", "with_ripens"]
