"""Which time zone a cook's words mean: an IANA name, a city, a country, or hours from Greenwich."""

from __future__ import annotations

import re
import unicodedata
import zoneinfo
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from difflib import get_close_matches
from functools import cache
from importlib import resources

from bot.big_cities import ABBREVIATIONS, CITIES, WELL_KNOWN
from scheduler.commands import ZonesMeant

MOST = 3
LEAST_LIKE = 0.8
LEADING = re.compile(
    r"^(?:(?:i am|i'm|im|i live|we are|we're|we live|my kitchen is|the kitchen is|it is|it's|kitchen|near|in|at|from"
    r"|hello|hi|my|time ?zone|zone|is|the) )+"
)
OFFSET = re.compile(r"(?:utc|gmt) ?([+\-−]) ?(\d{1,2})(?::?([0-5]\d))?")
NOT_PLACES = ("Etc/", "SystemV/", "US/", "posix/", "right/")
WINTER, SUMMER = datetime(2026, 1, 15, 12, tzinfo=UTC), datetime(2026, 7, 15, 12, tzinfo=UTC)


def zones_meant(said: str) -> ZonesMeant:
    """The zones a cook's words may mean: certain by a name, a city or a country of one clock; else the nearest."""
    wanted = _key(LEADING.sub("", " ".join(said.casefold().split()).strip(" .!?")))
    if offset := OFFSET.fullmatch(wanted.replace("_", " ")):
        return ZonesMeant(tuple(_at_offset(_offset(offset)))[:MOST])
    for known in (_by_name(), _by_city(), _by_country()):
        for key in _spellings(wanted):
            if key in known:
                zones = _of_different_clocks(known[key])
                return ZonesMeant(zones[:MOST], certain=len(zones) == 1)
    return ZonesMeant(_nearest(wanted))


def _key(text: str) -> str:
    """Words without capitals, accents or commas: "sao_paulo"."""
    bare = "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return "_".join(bare.replace("_", " ").replace(",", " ").split()).casefold()


def _spellings(wanted: str) -> Iterator[str]:
    """The words as they are, then without what follows the city: "lisbon portugal"."""
    words = wanted.split("_")
    return ("_".join(words[:count]) for count in range(len(words), 0, -1))


def _of_different_clocks(zones: tuple[str, ...]) -> tuple[str, ...]:
    """One zone for each clock kept, the best known first."""
    found: dict[tuple[timedelta | None, ...], str] = {}
    for zone in sorted(zones, key=lambda name: name not in WELL_KNOWN):
        found.setdefault(_clock(zone), zone)
    return tuple(found.values())


def _nearest(wanted: str) -> tuple[str, ...]:
    """Zones whose names are much like it."""
    if wanted in ABBREVIATIONS:
        return ABBREVIATIONS[wanted]
    cities, names = _by_city(), _by_name()
    close = get_close_matches(wanted, [*cities, *names], n=MOST, cutoff=LEAST_LIKE)
    found = [zone for key in close for zone in (cities.get(key) or names[key])]
    return tuple(dict.fromkeys(found))[:MOST]


def _offset(match: re.Match[str]) -> timedelta:
    sign, hours, minutes = match.groups()
    ahead = timedelta(hours=int(hours), minutes=int(minutes or 0))
    return ahead if sign == "+" else -ahead


def _at_offset(offset: timedelta) -> Iterator[str]:
    """Well-known zones that keep those hours, all the year round before part of it.

    Hours from Greenwich name no zone: they do not say when the clocks change.
    """
    for times in (2, 1):
        yield from (zone for zone in WELL_KNOWN if _clock(zone).count(offset) == times)


@cache
def _clock(zone: str) -> tuple[timedelta | None, ...]:
    """How far from Greenwich a zone is in January and in July."""
    there = zoneinfo.ZoneInfo(zone)
    return tuple(moment.astimezone(there).utcoffset() for moment in (WINTER, SUMMER))


Known = dict[str, tuple[str, ...]]


@cache
def _by_name() -> Known:
    """Names with a place in them: "EST" and the like never change their clocks, which is seldom meant."""
    named = [name for name in sorted(zoneinfo.available_timezones()) if "/" in name]
    return {_key(name): (name,) for name in [*named, "UTC"]}


@cache
def _by_city() -> Known:
    """The last part of every zone's name, and big cities that have no zone of their own name."""
    found: dict[str, list[str]] = {}
    for name in sorted(zoneinfo.available_timezones()):
        if "/" in name and not name.startswith(NOT_PLACES):
            found.setdefault(_key(name.rsplit("/", 1)[1]), []).append(name)
    cities = {city: tuple(zones) for city, zones in found.items()}
    return {**cities, **{_key(city): (zone,) for city, zone in CITIES.items()}}


@cache
def _by_country() -> Known:
    """Every country's zones, from the tables that come with the zones (tzdata: zone.tab, iso3166.tab)."""
    names = {code: _key(name) for code, name in _table("iso3166.tab")}
    found: dict[str, list[str]] = {}
    for code, _, zone in (row[:3] for row in _table("zone.tab")):
        found.setdefault(names[code], []).append(zone)
    countries = {country: tuple(zones) for country, zones in found.items()}
    return countries | dict.fromkeys(("usa", "us", "america"), countries["united_states"])


def _table(name: str) -> list[list[str]]:
    text = (resources.files("tzdata.zoneinfo") / name).read_text(encoding="utf-8")
    return [line.split("\t") for line in text.splitlines() if line and not line.startswith("#")]
