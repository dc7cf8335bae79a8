"""Which time zone a cook's words mean."""

from __future__ import annotations

import zoneinfo
from datetime import datetime, timedelta

import pytest

from bot.big_cities import ABBREVIATIONS, CITIES, WELL_KNOWN
from bot.zones import zones_meant


@pytest.mark.parametrize(
    ("said", "zone"),
    [
        ("Paris", "Europe/Paris"),
        ("Europe/Paris", "Europe/Paris"),
        ("europe/paris", "Europe/Paris"),
        ("new york", "America/New_York"),
        ("I'm in Lisbon", "Europe/Lisbon"),
        ("Lisbon, Portugal", "Europe/Lisbon"),
        ("my kitchen is in Porto.", "Europe/Lisbon"),
        ("São Paulo", "America/Sao_Paulo"),
        ("sao paulo", "America/Sao_Paulo"),
        ("Zürich", "Europe/Zurich"),
        ("near Milan", "Europe/Rome"),
        ("France", "Europe/Paris"),
        ("Germany", "Europe/Berlin"),
        ("the UK", "Europe/London"),
        ("UTC", "UTC"),
    ],
)
def test_a_place_is_certain(said: str, zone: str) -> None:
    """A zone, a city or a country of one clock, however it is written."""
    found = zones_meant(said)
    assert found.certain and found.names == (zone,)


@pytest.mark.parametrize(
    ("said", "first"),
    [
        ("Berlni", "Europe/Berlin"),
        ("new yrok", "America/New_York"),
        ("UTC+2", "Africa/Johannesburg"),
        ("utc +5:30", "Asia/Kolkata"),
        ("GMT-3:30", "America/St_Johns"),
        ("EST", "America/New_York"),
        ("United States", "America/New_York"),
        ("Spain", "Europe/Madrid"),
    ],
)
def test_what_is_not_certain_is_offered(said: str, first: str) -> None:
    """A slip, hours from Greenwich, a country of several clocks: the likeliest first, and never taken."""
    found = zones_meant(said)
    assert found.names[0] == first and not found.certain and len(found.names) <= 3


def test_hours_from_greenwich_are_kept_by_every_zone_offered() -> None:
    """UTC+2 offers what is two hours ahead for some of the year at least."""
    names = zones_meant("UTC+2").names
    assert len(names) == 3
    for name in names:
        days = (datetime(2026, month, 15, tzinfo=zoneinfo.ZoneInfo(name)) for month in (1, 7))
        assert timedelta(hours=2) in [day.utcoffset() for day in days]


@pytest.mark.parametrize("said", ["", "  ", "xyzzy", "🙂", "utc+99", "a" * 5000, "?!"])
def test_what_means_nothing_offers_nothing(said: str) -> None:
    """Nothing is guessed out of thin air, and nothing fails."""
    found = zones_meant(said)
    assert found.names == () and not found.certain


def test_every_zone_named_in_our_lists_exists() -> None:
    """The lists of cities were written from memory; the zones they name are the tz database's."""
    named = {*CITIES.values(), *WELL_KNOWN, *(zone for zones in ABBREVIATIONS.values() for zone in zones)}
    assert named <= zoneinfo.available_timezones()
