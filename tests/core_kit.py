"""A supper whose duck is heated in a water bath and whose pork in an oven, for the tests of heat in plans."""

from __future__ import annotations

from scheduler.domain.heats import heat_of
from scheduler.domain.kitchen.heat.heating import Heated
from scheduler.domain.plan import Step
from tests.talk_kit import Talk, number, on, with_supper

BATH, OVEN = "Duck in the bath", "Roast the pork"
DUCK = """\
crockbell: 1
title: Duck supper
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen:
  awake: 07:00-23:00
  gear: {water bath: 1, oven: 1}
components:
  - name: Duck
    steps:
      - name: Salt and bag the duck
        hands-on: 15 min
        amounts: {duck breasts: 900 g, salt: 1 % of duck breasts}
      - name: Duck in the bath
        unattended: 1 h to 8 h
        gear: [water bath]
        core: {shape: slab, thickness: 35 mm, at: 57 C, start: 4 C}
      - name: Chill the duck
        unattended: 30 min
        keeps: 1 h
      - name: Sear the duck
        hands-on: 10 min
        keeps: 10 min
"""
PORK = """\
crockbell: 1
title: Pork supper
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen:
  awake: 07:00-23:00
  gear: {oven: 1}
components:
  - name: Pork
    steps:
      - name: Roast the pork
        oven: 150 C
        nearby: 1 h to 5 h
        until: brown all over
        usually: 3 h
        core: {shape: cylinder, thickness: 70 mm, at: 65 C, start: 4 C, food: meat}
        keeps: 2 h
"""


def bagged() -> Talk:
    """Saturday 11:30: the duck has just gone into the bath."""
    talk = with_supper(on(8, "20:00"), DUCK)
    talk.wait_until(on(9, "11:30"))
    talk.say("bagged the duck")
    return talk


def step_of(talk: Talk, name: str = BATH) -> Step:
    view = talk.view()
    return view.step(number(view, name))


def heat(step: Step) -> Heated:
    found = heat_of(step)
    assert found is not None
    return found
