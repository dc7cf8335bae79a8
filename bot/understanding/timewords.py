"""Finding the times in plain words: a table of rules, tried in order."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from bot.understanding.patterns import either
from bot.understanding.saidtime import SOME_YEAR, Clock, Day, Said, Value

MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
LONGEST = timedelta(days=365)

Parts = dict[str, str]
Reader = Callable[[Parts], Value | None]

PLACEHOLDER = re.compile(r"([A-Z]+)#(\d+)#")


def split(words: str) -> Said:
    """Plain words (see `plainwords.plain`) with every time in them set apart."""
    found: list[Value] = []
    text = words
    for rule in TABLE:
        text = rule.apply(text, found)
    times = tuple((kind, found[int(number)]) for kind, number in PLACEHOLDER.findall(text))
    return Said(re.sub(r"\s+", " ", PLACEHOLDER.sub(r"\1", text)), times)


@dataclass(frozen=True, slots=True)
class Rule:
    """Text that matches becomes `kind`; what the group `keep` matched stays in front of it.

    `read` gets the named groups that matched, and the whole match as "all"; None from it means no time.
    """

    kind: str
    pattern: re.Pattern[str]
    read: Reader

    def apply(self, text: str, found: list[Value]) -> str:
        def one(match: re.Match[str]) -> str:
            parts = {name: part for name, part in match.groupdict().items() if part is not None}
            value = self.read({**parts, "all": match[0]})
            if value is None:
                return match[0]
            found.append(value)
            return f"{parts.get('keep', '')}{self.kind}#{len(found) - 1}#"

        return self.pattern.sub(one, text)


def _rule(kind: str, pattern: str, read: Reader) -> Rule:
    return Rule(kind, re.compile(r"(?<![\w#.:])" + pattern), read)


def _whole(part: Parts) -> Value | None:
    return part["all"]


# ---------------------------------------------------------------- lengths

UNITS = {
    "h": HOUR, "hour": HOUR, "m": MINUTE, "min": MINUTE, "s": MINUTE / 60, "sec": MINUTE / 60,
    "second": MINUTE / 60, "seconds": MINUTE / 60, "d": 24 * HOUR, "day": 24 * HOUR, "week": 168 * HOUR,
    "wk": 168 * HOUR,
}  # fmt: skip
UNIT = rf"(?:{'|'.join(sorted(UNITS, key=len, reverse=True))})\b"
FIXED = {
    "half (?:an |a )?hour|a half hour": 30, "(?:a )?quarter (?:of an )?hour": 15,
    "(?:3 quarters|3/4) (?:of )?an hour": 45, "(?:an|a|1) hour and (?:a )?half": 90,
    "an hour and a quarter": 75,
}  # fmt: skip
LENGTH = (
    r"(?:(?P<hours>\d{1,2}) ?(?:hour|h)(?: and)? ?(?P<minutes>[0-5]?\d) ?(?:min|m)?\b(?!:)"
    rf"|(?P<fixed>{'|'.join(FIXED)})\b"
    r"|(?:an?|1) (?P<one>hour|day|week)\b"
    rf"|(?P<number>\d{{1,4}}(?:[.,]\d{{1,2}})?) ?(?P<unit>{UNIT}))"
    r"(?: or so\b| ?ish\b)?"
)
ROUGHLY = rf"(?:{either('about, around, like, some, roughly, say, maybe, another, another good, a good')} )?"
BARE = r"(?P<bare>\d{1,3})"
"""A number that can only be minutes."""

BARE_ENDS = r"(?=\s*(?:$|[,.;?]|(?:on|for|please|then|more|to|or|and|ok|thanks|left|i|at|though|time)\b))"
TAKES_MINUTES = (
    r"(?P<keep>(?:another|extra|timer(?: for| of)?|snooze(?: for| it)?|late by|behind by|late|wait|needs?"
    r"|give (?:me|us|it|them|him|the \w+(?: \w+)?)(?: another| about)?) )"
)
VAGUE = (
    r"(?:(?:in|give (?:me|us)|just|for|after) )?"
    r"(?:(?:a|1|one) (?:bit|while|sec|second|min|moment|tick|mo|jiffy|few)"
    r"|a (?:few|couple)(?: more)?(?: min| sec)?|a little (?:bit|while)|a bit more time)"
    r"(?: later)?(?=$|[,.?]| (?:for|please|to|and|i|then|ok|still|it)\b)"
)
SOON = r"(?:in a (?:bit|while|sec|second|min|moment|few)|(?<!as )soon(?! as)|shortly|later on)\b"
MOMENT_AGO = r"(?:a|1|one) (?:few|couple|second|sec|moment|min)(?: of)?(?: min| sec)? ago\b"


def _length(part: Parts) -> Value | None:
    if "fixed" in part:
        return next(MINUTE * minutes for said, minutes in FIXED.items() if re.fullmatch(said, part["fixed"]))
    if "hours" in part:
        return int(part["hours"]) * HOUR + int(part["minutes"]) * MINUTE
    if "one" in part:
        return UNITS[part["one"]]
    if "bare" in part:
        return int(part["bare"]) * MINUTE
    return min(float(part["number"].replace(",", ".")) * UNITS[part["unit"]], LONGEST)


LENGTHS = (
    _rule("AGO", rf"{ROUGHLY}{LENGTH} (?:ago|back)\b", _length),
    _rule("AHEAD", rf"in {ROUGHLY}{LENGTH}(?: is time\b| time\b)?", _length),
    _rule("AHEAD", rf"in {ROUGHLY}{BARE}{BARE_ENDS}", _length),
    _rule("AHEAD", rf"{LENGTH} from now\b", _length),
    _rule("AGO", MOMENT_AGO, lambda part: 2 * MINUTE),
    _rule("VAGUE", VAGUE, _whole),
    _rule("LEN", r"(?P<number>\d{1,3}) more (?P<unit>hour|min|sec|day)\b", _length),
    _rule("LEN", LENGTH, _length),
    _rule("LEN", rf"{TAKES_MINUTES}{BARE}{BARE_ENDS}", _length),
    _rule("LEN", rf"{BARE}(?= (?:more|late|behind|longer|extra)\b(?! \w+s\b))", _length),
    _rule("LEN", rf"(?<=^){BARE}(?= ?$)", _length),
)

# ---------------------------------------------------------------- clocks

IN_PART = r"(?:in the|this) (?:morning|afternoon|evening)|at night|tonight"
LOOK_AT_PART = rf"(?:(?= (?P<part>{IN_PART})\b))?"
TAIL = rf"(?: ?(?P<half>am|pm)\b)?(?: ?ish\b| or so\b| sharp\b| oclock\b)?{LOOK_AT_PART}"
HOUR_OF, MINUTE_OF = r"(?P<hour>[01]?\d|2[0-3])", r"(?P<minute>[0-5]\d)"
NO_AMOUNT = (
    r"(?![\d/%])(?![.:]\d)"
    r"(?! ?(?:[mk]?g|[mcd]?l|oz|lb|cups?|tsp|tbsp|pieces|degrees|c|f|more|people|of us|eggs"
    rf"|{UNIT}))"
)
KEEP = (
    r"(?P<keep>(?:at|until|by|before|after|around|about|from|since|to|towards|gone|for like|make it) )"
    r"(?:about |around |like |say |maybe |gone )?"
)
AT_A_MEAL = r"(?P<keep>(?:dinner|supper|lunch|brunch|breakfast) )"
GONE = r"(?P<gone>half|quarter|a quarter|[1-5]?\d)(?: min)? (?P<way>past|to|after|of|before|gone)"


def _clock(part: Parts) -> Value | None:
    hour, minute = int(part["hour"]), int(part.get("minute", "0"))
    return _in_half(hour, minute, part, part["hour"].startswith("0"))


def _in_half(hour: int, minute: int, part: Parts, by_24: bool = False) -> Clock:
    half, when = part.get("half"), part.get("part", "")
    if half is None and when:
        half = "am" if "morning" in when or ("night" in when and (hour < 5 or hour == 12)) else "pm"
    if hour > 12 or hour == 0 or (by_24 and half is None):
        return Clock(hour, minute)
    if half is None:
        return Clock(hour % 12, minute, open=True)
    return Clock(hour % 12 + (12 if half == "pm" else 0), minute)


def _past_or_to(part: Parts) -> Value | None:
    minutes = {"half": 30, "quarter": 15, "a quarter": 15}.get(part["gone"]) or int(part["gone"])
    clock = _in_half(int(part["hour"]), 0, part)
    before = part.get("way", "past") in ("to", "before", "of")
    total = clock.hour * 60 + (-minutes if before else minutes)
    total %= (12 if clock.open else 24) * 60
    return Clock(total // 60, total % 60, clock.open)


CLOCKS = (
    _rule("CLOCK", rf"{GONE} {HOUR_OF}{NO_AMOUNT}{TAIL}", _past_or_to),
    _rule("CLOCK", rf"(?P<gone>half) (?P<hour>1?\d)\b{NO_AMOUNT}{TAIL}", _past_or_to),
    _rule("CLOCK", rf"{HOUR_OF}[:h]{MINUTE_OF}\b{TAIL}", _clock),
    _rule("CLOCK", rf"(?P<hour>1?\d)[. ]{MINUTE_OF} ?(?P<half>am|pm)\b", _clock),
    _rule("CLOCK", rf"{KEEP}{HOUR_OF}[. ]?{MINUTE_OF}\b{NO_AMOUNT}{TAIL}", _clock),
    _rule("CLOCK", rf"{AT_A_MEAL}{HOUR_OF}(?:[. ]?{MINUTE_OF})?\b{NO_AMOUNT}{TAIL}", _clock),
    _rule("CLOCK", r"(?P<hour>1?\d)(?: ?ish)? ?(?P<half>am|pm)\b(?: ?ish\b)?", _clock),
    _rule("CLOCK", rf"(?P<hour>1?\d) ?(?:ish|oclock)\b{LOOK_AT_PART}", _clock),
    _rule("CLOCK", rf"{KEEP}{HOUR_OF}\b{NO_AMOUNT}{TAIL}", _clock),
    _rule("CLOCK", rf"{HOUR_OF}(?= (?:instead|(?P<part>{IN_PART}))\b)", _clock),
    _rule("CLOCK", r"(?:12 )?noon\b", lambda part: Clock(12)),
    _rule("CLOCK", r"(?:12 )?midnight\b", lambda part: Clock(0)),
)

# ---------------------------------------------------------------- days

SHORT_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
NEAR_DAYS = {
    day.name: day
    for day in (
        Day("day after tomorrow", 2), Day("yesterday", -1), Day("today", 0), Day("tomorrow", 1),
        Day("last night", -1, part="evening"), Day("this morning", 0, part="morning"),
        Day("this afternoon", 0, part="afternoon"), Day("this evening", 0, part="evening"),
        Day("tonight", 0, part="evening"),
    )
}  # fmt: skip
FULL_DAY = "monday|tuesday|wednesday|thursday|friday|saturday|sunday|tues|thurs|weds"
SHORT_DAY = r"mon|tue|wed|thu|thur|fri|sat(?! (?:out|around|there|unrefrigerated|(?:at|in) room|on the))|sun"
"""Not taken for a day by itself: the duck sat out."""

TOWARDS = r"(?P<keep>(?:for|until|by|to|it) )"
WITH_DAY = r"lunch|dinner|supper|brunch|morning|afternoon|evening|night|at|instead|CLOCK|\d"
MONTH = rf"(?P<month>(?:{'|'.join(MONTHS)})[a-z]{{0,6}})"
DAY_NUMBER = r"(?P<number>\d{1,2})(?: ?(?:st|nd|rd|th))?"


def _weekday(part: Parts) -> Value | None:
    name = part["day"][:3]
    return Day(name, weekday=SHORT_DAYS.index(name))


def _near_day(part: Parts) -> Value | None:
    return NEAR_DAYS[part["day"]]


def _iso_date(part: Parts) -> Value | None:
    try:
        return Day(part["all"], date=date.fromisoformat(part["all"]))
    except ValueError:
        return None


def _month_day(part: Parts) -> Value | None:
    name, number = part["month"][:3], int(part["number"])
    try:
        return Day(f"{number} {name}", date=date(SOME_YEAR, MONTHS.index(name) + 1, number))
    except ValueError:
        return None


DATES = (
    _rule("DAY", r"\d{4}-\d{2}-\d{2}\b", _iso_date),
    _rule("DAY", rf"(?:on )?(?:the )?{DAY_NUMBER}(?: of)? {MONTH}\b", _month_day),
    _rule("DAY", rf"(?:on )?{MONTH} (?:the )?{DAY_NUMBER}\b(?![:.]\d)", _month_day),
)
DAYS = (
    _rule("DAY", rf"(?:the )?(?P<day>{'|'.join(NEAR_DAYS)})\b", _near_day),
    _rule("DAY", rf"{TOWARDS}?(?:on |this coming |this |next |coming )?(?P<day>{FULL_DAY})\b", _weekday),
    _rule("DAY", rf"{TOWARDS}(?:on |next |this )?(?P<day>{SHORT_DAY})\b", _weekday),
    _rule("DAY", rf"(?:on|next|this) (?P<day>{SHORT_DAY})\b", _weekday),
    _rule("DAY", rf"(?P<day>{SHORT_DAY})(?= (?:{WITH_DAY}))", _weekday),
    _rule("PART", r"(?:in the |by |the )?(?P<part>morning|afternoon|evening)\b", lambda part: part["part"]),
    _rule("PART", r"(?:at |by )?(?P<part>lunch|breakfast) ?time\b", lambda part: part["part"]),
    _rule("VAGUE", SOON, _whole),
)

BY_THE_H = (_rule("CLOCK", rf"{KEEP}{HOUR_OF}h ?{MINUTE_OF}{TAIL}", _clock),)
""" "At 20h15", before it is read as a length."""

TABLE = (*DATES, *BY_THE_H, *LENGTHS, *CLOCKS, *DAYS)
