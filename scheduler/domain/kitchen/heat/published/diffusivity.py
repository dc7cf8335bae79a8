"""How fast warmth spreads in foods, in m2/s; the lower, the longer it takes and the safer the sum."""

from __future__ import annotations

# The handbook's table, of ASHRAE origin as remembered (read in a copy).
FOODS = {
    "beef chuck": 1.23e-7,
    "beef round": 1.33e-7,
    "beef tongue": 1.32e-7,
    "codfish": 1.22e-7,
    "corned beef": 1.32e-7,
    "halibut": 1.47e-7,
    "ham, smoked": 1.18e-7,
    "baked beans": 1.68e-7,
    "potato flesh": 1.70e-7,
    "potato, mashed": 1.23e-7,
    "lima bean puree": 1.80e-7,
    "pea puree": 1.82e-7,
    "tomato pulp": 1.48e-7,
    "banana flesh": 1.18e-7,
    "strawberry": 1.27e-7,
    "squash": 1.71e-7,
}
PLAUSIBLE = (0.9e-7, 1.9e-7)
"""The envelope of these and of a textbook's steak and egg (worked out): anything else is refused."""
