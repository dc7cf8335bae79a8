"""Small plan texts of our own that tests share."""

from __future__ import annotations

SMALL = """\
crockbell: 1
title: Toast and jam
serve: 2026-05-02 09:00
zone: Europe/Lisbon
kitchen:
  awake: 06:30-23:00
  gear: {grill: 1}
components:
  - name: Jam
    steps:
      - name: Boil the jam
        nearby: 40 min
        keeps: 60 d
  - name: Toast
    steps:
      - name: Toast the bread
        hands-on: 5 min
        gear: grill
        after: Jam
        keeps: 5 min
"""
"""The least that has some of everything: two components, gear, an `after`."""

EVERY_KEY = """\
# Lunch in the garden: every key of the format at least once.
crockbell: 1
title: Lunch in the garden
serves: 6
serve: 2026-06-20 13:00
zone: Europe/Madrid
kitchen:
  awake: [mon-fri 06:30-22:30, sat-sun 08:00-23:30]
  away: [mon-fri 08:30-17:45, 2026-06-17 18:00-23:00, 2026-06-12 18:00 - 2026-06-14 21:00]
  cooks:
    Ada: {awake: 06:00-22:00, away: fri-mon 10:00-11:00}
    Noor: {}
  gear: {burner: 2, oven: 1, mixer: 1}

components:
  - name: Carrot pickle
    optional: true
    steps:
      - name: Salt the carrots
        hands-on: 20 min
        buy: 2 d before
        amounts:
          carrots: 800 g
          water: 1.2 kg
          brine salt: 3 % of water + carrots
          eggs: 3
          bay leaves: 8 pieces
      - name: Carrots ferment
        unattended: 5 d to 9 d
        until: sour and crisp
        usually: 1 w
        at: 66 F
        tend: {name: Vent the lid, every: 1 d, for: 4 d, hands-on: 2 min}
        caution: mould
      - name: Chill the carrots
        unattended: at least 4 h
        at: 4 C
        keeps: 30 d

  - name: Flatbread
    steps:
      - name: Mix the dough
        hands-on: 12 min
        gear: mixer
        cook: noor
        amounts: {flour: 500 g, water: 325 ml, salt: 2 % of flour}
      - name: Dough rises
        nearby: 1 h 30 min to 3 h
        until: doubled
        tend: {every: 30 min, hands-on: 90 s}
      - name: Bake the flatbread
        hands-on: 25 min
        oven: 450 F
        between: [sat 09:00-13:00, sun 09:00-12:00]
        on: [sat, 2026-06-20]
        keeps: 2 h

  - name: Soup
    steps:
      - name: Simmer the soup
        nearby: 45 min
        gear: [burner, burner]
      - name: Rest the soup
        unattended: 10 min
        wait: 30 min to 2 h

  - name: Table
    steps:
      - name: Warm the plates
        unattended: 15 min
        optional: true
      - name: Lay the table
        hands-on: 15 min
        after: [carrot pickle, Flatbread / Bake the flatbread, rest the soup]
        wait: 5 min
        between: 11:00-13:00
        on: sat-sun
        keeps: 10 min
"""
"""Twelve steps that use every key of the format at least once."""


def with_steps(*steps: str, kitchen: str = "gear: {burner: 2, oven: 1}") -> str:
    """A plan of one component, each of whose steps is given as a flow mapping's inside."""
    lines = [f"      - {{{step}}}" for step in steps]
    head = f"crockbell: 1\ntitle: Supper\nkitchen: {{{kitchen}}}\ncomponents:\n  - name: Dish\n    steps:\n"
    return head + "\n".join(lines) + "\n"
