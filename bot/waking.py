"""Waking hours as a cook says them, put as a plan file writes them: "7 to half past ten" is 07:00-22:30."""

from __future__ import annotations

import re

from scheduler.planfile import text as plantext

EVERY_DAY = "every day|everyday|daily|all week|always|usually|normally|mostly"
WEEKDAYS = {
    "weekdays": "mon-fri", "weekday": "mon-fri", "working days": "mon-fri", "workdays": "mon-fri",
    "during the week": "mon-fri", "weekends": "sat-sun", "weekend": "sat-sun", "at weekends": "sat-sun",
}  # fmt: skip
DAY = "(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*"
SPOKEN = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
HALF = re.compile(r"half(?: past)? (\d{1,2})")
QUARTER = re.compile(r"(?:a )?quarter (past|to) (\d{1,2})")
CLOCK = r"(\d{1,2})(?:[:.h]?(\d{2})|h)?(?: ?(am|pm|a|p))?"
A_STRETCH = re.compile(rf"(?:({DAY}(?:-{DAY})?(?: {DAY}(?:-{DAY})?)*) )?{CLOCK}-{CLOCK}")
NOISE = re.compile(
    r"\b(?:i am|i'm|i get|i wake|i|am|is|awake|up|get|wake|at|from|between|around|about|in the|of the|and go|go to"
    r"|to bed|to sleep|sleep|bed|on|the|o'clock|oclock|hours|my|we|are|hrs|then)\b"
)
OF_A_DAY = re.compile(r"\b(\d{1,2}(?:[:.]\d{2})?) (?:morning|in morning)\b")
OF_A_NIGHT = re.compile(r"\b(\d{1,2}(?:[:.]\d{2})?) (?:evening|night|afternoon)\b")
DAYS_APART = re.compile(rf"({DAY}) ?(?:to|till|until|through|–|-) ?({DAY})")
DAYS_TOGETHER = re.compile(rf"({DAY}) and ({DAY})")
AND_TO_BED = re.compile(
    r"(?:\band|,) (?:i )?(?:am )?(?:go )?(?:to |in )?(?:bed|sleep|asleep)(?: at| by)? (?=\d)|\band (?=\d)"
)
ASLEEP = re.compile(r"\b(?:asleep|(?<!to )sleep)\b")
TO = re.compile(r" ?(?:\bto\b|\btill\b|\buntil\b|\bthrough\b|–|—|-) ?")
EARLIEST_BED, LATEST_BED, NOON, MIDNIGHT = 20, 3, 12, 24 * 60


def waking_hours(said: str) -> str | None:
    """Hours as `awake:` takes them, or None where any of it is not certain."""
    plain = _plain(said)
    if ASLEEP.search(plain):
        return None
    pieces = [piece for piece in re.split(r"[;,\n]| and (?=[a-z])", plain) if piece.strip()]
    found = [_stretch(piece) for piece in pieces]
    if not found or None in found:
        return None
    written = ", ".join(piece for piece in found if piece is not None)
    return written if _reads(written) else None


def _reads(written: str) -> bool:
    """Whether a plan file could say so, every day of the week and each once."""
    try:
        spans = plantext.weekly_hours(written)
    except plantext.TextError:
        return False
    days = [day for span in spans for day in span.days]
    return sorted(days) == list(range(7))


def _plain(said: str) -> str:
    """Small letters, figures for words, days and signs as a plan file has them."""
    text = " ".join(said.casefold().replace("’", "'").split()).strip(" .!")
    text = re.sub(r"(?<=\d) ?([ap])\.?m\b\.?", r"\1m", text)
    text = re.sub(r"\bmidnight\b", "24:00", re.sub(r"\b(?:noon|midday)\b", "12:00", text))
    for word, figure in SPOKEN.items():
        text = re.sub(rf"\b{word}(?: thirty\b)", f"{figure}:30", text)
        text = re.sub(rf"\b{word}\b", str(figure), text)
    text = HALF.sub(r"\1:30", text)
    text = QUARTER.sub(_quarter, text)
    for words in sorted(WEEKDAYS, key=len, reverse=True):
        text = re.sub(rf"\b{words}\b:?", WEEKDAYS[words], text)
    text = DAYS_TOGETHER.sub(r"\1 \2", DAYS_APART.sub(r"\1-\2", text))
    text = AND_TO_BED.sub("- ", text)
    return re.sub(rf"\b(?:{EVERY_DAY})\b", " ", text)


def _quarter(match: re.Match[str]) -> str:
    hour = int(match[2])
    return f"{hour}:15" if match[1] == "past" else f"{(hour - 1) % 24}:45"


def _stretch(said: str) -> str | None:
    """ "mon-fri 06:30-22:00" of one stretch of days and hours."""
    text = " ".join(NOISE.sub(" ", TO.sub("-", said)).split())
    text = OF_A_NIGHT.sub(r"\1 pm", OF_A_DAY.sub(r"\1 am", text))
    text = re.sub(r" ?- ?", "-", re.sub(r"(?<=[a-z]):(?= |\d)", " ", text)).strip(" -")
    match = A_STRETCH.fullmatch(" ".join(text.split()))
    if match is None:
        return None
    days, hour, minute, half, last_hour, last_minute, last_half = match.groups()
    start = _clock(hour, minute, half)
    end = _bedtime(_clock(last_hour, last_minute, last_half), said=bool(last_half))
    if start is None or end is None or not _likely(start, end):
        return None
    named = ", ".join(days.split()) + " " if days else ""
    return f"{named}{_written(start)}-{_written(end)}"


def _clock(hour: str, minute: str | None, half: str | None) -> int | None:
    """Minutes since midnight; None for a time there is not."""
    hours, minutes = int(hour), int(minute or 0)
    if half and not 1 <= hours <= NOON:
        return None
    if half:
        hours = hours % NOON + (NOON if half.startswith("p") else 0)
    total = hours * 60 + minutes
    return total if total <= 24 * 60 and minutes < 60 else None


def _bedtime(end: int | None, said: bool) -> int | None:
    """A bedtime of "half past ten" is in the evening, "12" is midnight; None for one that may be either."""
    if end is None or said or end > NOON * 60:
        return end or (None if end is None else MIDNIGHT)
    if end + NOON * 60 >= EARLIEST_BED * 60:
        return end + NOON * 60
    return end if end <= LATEST_BED * 60 else None


def _likely(start: int, end: int) -> bool:
    """Whether somebody may be awake so: for more than four hours, and not all day and night."""
    lasts = (end - start) % (24 * 60)
    return 4 * 60 < lasts < 23 * 60


def _written(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"
