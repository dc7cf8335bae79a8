"""A plan arrives: found in what was sent, read, timed, and looked over for what a careful cook would want told."""

from __future__ import annotations

import pytest

from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planfile import read
from scheduler.planners import Here
from scheduler.planning import time_out
from scheduler.records import Chat, ChatStage
from scheduler.service.answers import AskServe, BadFile
from scheduler.service.intake import arrive, plan_in, timed, warnings
from tests.samples import EVERY_KEY, SMALL
from tests.talk_kit import SUPPER, ZONE, at, on

COOK = Chat("telegram:1", 1, ChatStage.READY, ZONE, "07:00-23:00")
NOW = on(5, "20:00")


# ---------------------------------------------------------------- what was sent


@pytest.mark.parametrize(
    "source", [SUPPER, SMALL, EVERY_KEY, "\ufeff" + SMALL, "title: x\ncrockbell: 1\nserves: 2"]
)
def test_a_pasted_plan_is_known_by_its_first_lines(source: str) -> None:
    """Also below remarks, a byte order mark, or another key."""
    assert plan_in(source, None) == source.encode()


@pytest.mark.parametrize(
    "text", ["", "done", "crockbell: 1", "crockbell: help\nme", "a\nb\nc\nd", "what is\nthe next\nthing?"]
)
def test_other_words_are_no_plan(text: str) -> None:
    """Several lines are not a plan yet, nor is its first line alone."""
    assert plan_in(text, None) is None


def test_a_document_is_taken_for_a_plan_whatever_is_in_it() -> None:
    """Reading says what is wrong with it."""
    assert plan_in("my plan", b"\x00") == b"\x00"


def test_half_characters_in_pasted_text_are_refused_and_do_not_fail() -> None:
    """What a broken client may send reads as a bad file."""
    source = plan_in(SMALL + "# \ud800", None)
    assert source is not None and isinstance(arrive(source, COOK, NOW, Here()).answer, BadFile)


# ---------------------------------------------------------------- reading and timing


def test_a_plan_that_fits_becomes_a_draft_with_its_timetable() -> None:
    """With the hour and the zone of the file, or else the cook's."""
    arrival = arrive(SUPPER.encode(), COOK, NOW, Here())
    assert arrival.answer is None and arrival.misfit is None and arrival.row is not None
    assert (arrival.row.serve, arrival.row.zone) == (on(9, "19:30"), ZONE)
    assert isinstance(arrival.row.timetable, Timetable)


def test_the_draft_keeps_text_that_reads_to_the_same_plan() -> None:
    """Line ends of another system are gone, and with them the byte order mark."""
    arrival = arrive(("\ufeff" + SUPPER.replace("\n", "\r\n")).encode(), COOK, NOW, Here())
    assert arrival.row is not None and arrival.row.source == SUPPER


def test_a_plan_without_its_hour_asks_for_it() -> None:
    """It is kept meanwhile, untimed."""
    arrival = arrive(SUPPER.replace("serve: 2026-05-09 19:30\n", "").encode(), COOK, NOW, Here())
    assert isinstance(arrival.answer, AskServe) and arrival.row is not None and arrival.row.timetable is None


@pytest.mark.parametrize(
    ("source", "found"),
    [
        (b"\xff\xfe", "the byte 0xFF, which is not UTF-8"),
        (b"x" * 262_145, "262145 bytes"),
        (b"", "an empty file"),
        (SUPPER.replace("hands-on: 20 min", "hands-on: 20 mni").encode(), "'20 mni'"),
    ],
)
def test_a_bad_file_is_refused_whole(source: bytes, found: str) -> None:
    """Nothing to keep, and every problem with its line."""
    arrival = arrive(source, COOK, NOW, Here())
    assert arrival.row is None and isinstance(arrival.answer, BadFile)
    assert arrival.answer.problems[0].found == found


def test_an_hour_too_soon_comes_with_a_remedy_that_fits() -> None:
    """The remedy was solved, and still fits five minutes later."""
    arrival = arrive(SUPPER.encode(), COOK, on(8, "20:00"), Here())
    assert arrival.row is not None and arrival.misfit is not None and arrival.row.timetable is None
    plan = read(SUPPER, zone=ZONE)
    for clock in ("20:00", "20:05"):
        assert isinstance(time_out(plan, arrival.misfit.remedies[0].serve, on(8, clock)), Timetable)


def test_a_chat_that_is_not_settled_takes_no_plan() -> None:
    """Without the cook's zone and hours a plan cannot be read."""
    with pytest.raises(ValueError, match="not settled"):
        arrive(SUPPER.encode(), Chat("telegram:1", 1), NOW, Here())


# ---------------------------------------------------------------- what a careful cook would want told


def told(source: str, now: str, serve: str) -> list[str]:
    plan = read(source, zone=ZONE)
    timing = time_out(plan, at(serve), at(now))
    assert isinstance(timing, Timetable)
    return list(warnings(plan, timing))


SLOW = """\
crockbell: 1
title: Cabbage
kitchen: {awake: 07:00-22:00, away: [mon-fri 08:00-18:00]}
components:
  - name: Cabbage
    steps:
      - {name: Salt the cabbage, hands-on: 20 min, keeps: 1 h}
      - name: Cabbage stands
        unattended: 3 d
        tend: {name: Turn the cabbage, every: 5 h, hands-on: 5 min}
        keeps: 1 d
"""


def test_touches_that_fall_where_nobody_is_there_are_pointed_out() -> None:
    """Every five hours includes the night; each such touch says why it is in trouble."""
    found = [
        line for line in told(SLOW, "2026-05-04 07:00", "2026-05-09 19:00") if "Turn the cabbage" in line
    ]
    assert found and all(":" in line and "," in line for line in found)


def test_a_wait_that_grows_far_beyond_its_least_is_pointed_out() -> None:
    """ "At least an hour" that comes to four days may be meant, and may not."""
    source = SLOW.replace("unattended: 3 d\n", "unattended: at least 1 h\n").replace(
        "        keeps: 1 d\n", ""
    )
    source = (
        source.replace(", keeps: 1 h", "") + "      - {name: Serve the cabbage, hands-on: 5 min, on: sat}\n"
    )
    source = source.replace("hands-on: 20 min", "hands-on: 20 min, on: tue")
    assert any(
        "“Cabbage stands” lasts" in line for line in told(source, "2026-05-04 07:00", "2026-05-09 19:00")
    )


def test_a_draft_retimed_for_another_hour_forgets_the_old_timetable() -> None:
    """A draft never carries a timetable of another hour."""
    arrival = arrive(SUPPER.encode(), COOK, NOW, Here())
    assert arrival.row is not None
    row, misfit = timed(arrival.row, read(SUPPER, zone=ZONE), on(9, "19:00"), Here())
    assert isinstance(misfit, Misfit) and row.timetable is None
