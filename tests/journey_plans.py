"""The plans that journeys live through: a Sunday table with a pickle, and the same without."""

from __future__ import annotations

HEAD = """\
# A Sunday table: radishes that ferment, beans that soak overnight, a loaf that rises in the night.
crockbell: 1
title: {title}
serves: 4
serve: {serve}
zone: Europe/Paris
kitchen:
  awake: 07:00-22:30
  gear: {{burner: 2, oven: 1}}
components:
"""
PICKLE = """\
  - name: Radish pickle
    optional: true
    steps:
      - name: Salt and jar the radishes
        hands-on: 20 min
        amounts: {radishes: 600 g, salt: 2.5 % of radishes}
      - name: Radishes ferment
        unattended: 4 d to 5 d 12 h
        until: pleasantly sour
        usually: 5 d
        at: 19 C
        tend: {name: Vent the lid, every: 1 d, for: 3 d, hands-on: 2 min}
        keeps: 1 d
      - name: Put the radishes in the cold
        unattended: at least 6 h
        at: 4 C
        keeps: 20 d
"""
BEANS_AND_BREAD = """\
  - name: White beans
    steps:
      - name: Soak the beans
        unattended: 12 h to 14 h
        amounts: {dried white beans: 400 g, water: 1.5 L}
      - name: Drain the beans
        hands-on: 5 min
      - name: Simmer the beans
        nearby: 1 h 15 min
        gear: [burner]
        keeps: 6 h
  - name: Rye loaf
    steps:
      - name: Mix the dough
        hands-on: 15 min
        amounts: {rye flour: 500 g, water: 400 g, salt: 2 % of rye flour}
      - name: Dough rises
        unattended: 8 h to 10 h
        keeps: 30 min
      - name: Shape the loaf
        hands-on: 10 min
      - name: Loaf proves
        nearby: 1 h to 1 h 30 min
        until: a dent springs back slowly
        usually: 1 h 15 min
      - name: Bake the loaf
        nearby: 45 min
        oven: 220 C
        keeps: 1 d
  - name: Table
    steps:
      - name: Dress the beans and carry everything out
        after: [AFTER]
        hands-on: 20 min
        keeps: 5 min
"""


def sunday(serve: str = "2026-03-22 13:00", title: str = "Sunday table") -> str:
    """A plan of twelve steps over nine days."""
    rest = BEANS_AND_BREAD.replace("AFTER", "Radish pickle, White beans, Rye loaf")
    return HEAD.format(title=title, serve=serve) + PICKLE + rest


def overnight(serve: str = "2026-03-22 13:00", title: str = "Beans and bread") -> str:
    """The same without the pickle: nine steps, from one evening to the next noon."""
    rest = BEANS_AND_BREAD.replace("AFTER", "White beans, Rye loaf")
    return HEAD.format(title=title, serve=serve) + rest
