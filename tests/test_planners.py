"""The planners: the same answers in this process and in one apart, which may hang or die without harm."""

from __future__ import annotations

import ast
import multiprocessing
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from scheduler import planning
from scheduler.domain.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.progress import MarkKind, at_the_start, fold
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import ANY_HOUR, on_any_day
from scheduler.explain import GAVE_UP, Misfit
from scheduler.planners import Apart, Here
from scheduler.ports import Planner
from scheduler.reasons import reasons
from tests import planner_kit
from tests.plans_for_tests import at, component, mark, number_of, plan, step
from tests.supper import MONDAY, SUPPER

ROOT = Path(__file__).resolve().parents[1]
AMPLE, SCANT = timedelta(minutes=2), timedelta(seconds=0.2)
"""Real time that no answer here takes, and real time to let pass while nothing answers."""

SERVE, NOON = at("2026-12-12 19:30"), at("2026-12-12 12:00")
SOUP = plan(component("Soup", step("Chop", hands_on="20 min"), step("Simmer", nearby="1 h", keeps="3 h")))
OPENING = """
import os
from datetime import timedelta
from scheduler.planners import Apart
from tests import planner_kit
planner = Apart(timedelta(minutes=2))
"""
TOO_SOON = at("2026-12-12 12:30")
"""An hour after noon's present at which the soup, of 80 minutes, cannot be served."""


@pytest.fixture(scope="module")
def one() -> Iterator[Apart]:
    """A child for all the tests that leave it as it is."""
    with Apart(AMPLE) as planner:
        yield planner


@pytest.fixture
def apart() -> Iterator[Apart]:
    with Apart(AMPLE) as planner:
        yield planner


@pytest.fixture(params=["here", "apart"])
def planner(request: pytest.FixtureRequest, one: Apart) -> Planner:
    return Here() if request.param == "here" else one


def soup(now: datetime = NOON) -> Timetable:
    """The soup's timetable for the evening."""
    found = planning.time_out(SOUP, SERVE, now)
    assert isinstance(found, Timetable)
    return found


def child(planner: Apart) -> int:
    """The process that answers for a planner."""
    return planner.ask(planner_kit.pid, otherwise=lambda: 0)


def script(text: str) -> str:
    """What a program of its own prints. Returns only when nothing that it started is left running."""
    command = [sys.executable, "-c", f"{OPENING}{text}"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)
    assert run.returncode == 0, run.stdout + run.stderr
    return run.stdout


# ---------------------------------------------------------------- what every planner owes


@pytest.mark.parametrize(("made", "now"), [(SOUP, NOON), (SUPPER, MONDAY)])
def test_a_timetable_is_the_one_planning_finds(planner: Planner, made: Plan, now: datetime) -> None:
    """The same question has the same answer in any process, and the verifier accepts it."""
    found = planner.time_out(made, SERVE, now)
    assert isinstance(found, Timetable) and not check(made, found, now)
    assert found == planning.time_out(made, SERVE, now)


def test_marks_and_the_timetable_in_force_are_heard(planner: Planner) -> None:
    """Chopped an hour and a half late: the simmering moves, and begins no earlier."""
    before, now = soup(), SERVE - timedelta(minutes=45) - timedelta(hours=1)
    chop = number_of(SOUP, "Chop")
    progress = fold(SOUP, (mark(MarkKind.DONE, chop, now),), now, before)
    again = planner.time_out(SOUP, SERVE, now, progress, before)
    assert isinstance(again, Timetable) and again == planning.time_out(SOUP, SERVE, now, progress, before)
    assert not check(SOUP, again, now, progress)


def test_a_misfit_comes_with_its_reasons_and_an_hour_that_lasts(planner: Planner) -> None:
    """Eighty minutes do not go into thirty; the hour offered fits five minutes later still."""
    misfit = planner.time_out(SOUP, TOO_SOON, NOON)
    assert isinstance(misfit, Misfit) and misfit.proven and misfit.because
    lasting = planner.lasting(misfit, SOUP, NOON)
    later = NOON + timedelta(minutes=5)
    assert isinstance(planner.time_out(SOUP, lasting.remedies[0].serve, later), Timetable)
    assert planner.ways_out(misfit, SOUP, NOON) == planning.ways_out(misfit, SOUP, NOON)


def test_the_reasons_for_a_time_are_worked_out_there_too(planner: Planner) -> None:
    """Each with the numbers it rests on; a step that is not in the timetable has none."""
    table, start = soup(), at_the_start(SOUP)
    why = planner.why(SOUP, table, number_of(SOUP, "Simmer"), NOON, start)
    assert why is not None and why.no_later and why == reasons(SOUP, table, why.step, NOON, start)
    with pytest.raises(ValueError, match="no time"):
        planner.why(SOUP, table, 7, NOON, start)


# ---------------------------------------------------------------- a process of its own


def test_another_process_answers_and_this_one_never_loads_the_solver() -> None:
    """OR-Tools' memory stays out of the bot."""
    asked = """
import sys
from tests.plans_for_tests import at, component, plan, step
soup = plan(component("Soup", step("Chop", hands_on="20 min")))
print(len(planner.time_out(soup, at("2026-12-12 19:30"), at("2026-12-12 12:00")).slots))
print(planner.ask(planner_kit.loaded, "ortools", otherwise=lambda: None), "ortools" in sys.modules)
print(planner.ask(planner_kit.pid, otherwise=os.getpid) != os.getpid())
planner.close()
"""
    assert script(asked).split() == ["1", "True", "False", "True"]


@pytest.mark.slow
def test_a_whole_sitting_never_loads_the_solver(tmp_path: Path) -> None:
    """A plan used, asked about, asked to be elsewhen in vain, and with something left out: all of it apart."""
    sitting = f"""
import io, sys
from bot.main import make_worker, open_planner, open_store
from bot.sitting import sit
from bot.wiring import Wiring
from tests.talk_kit import SUPPER, on
from tests.test_sitting import TickingClock
said = ["hi", "Lisbon", "7-23", *SUPPER.splitlines(), "1", "why drain the beans", "dinner tomorrow at 8:00",
        "no", "leave out the flan", "yes"]
wiring, out = Wiring(TickingClock(on(5, "20:00")), open_store, make_worker, open_planner), io.StringIO()
sit({str(tmp_path / "chat.sqlite3")!r}, wiring, io.StringIO("".join(line + chr(10) for line in said)), out)
print(out.getvalue())
print("loaded:", *[name for name in ("ortools", "numpy") if name in sys.modules])
"""
    shown = script(sitting)
    for answer in ("is in use", "because:", "cannot be served", "Left out: "):
        assert answer in shown
    assert shown.splitlines()[-1] == "loaded:"


@pytest.mark.parametrize("end", ["", "os._exit(0)"], ids=["at its end", "killed"])
def test_no_child_outlives_its_parent(end: str) -> None:
    """Also one that nobody closed, and one whose parent had no time to."""
    assert script(f"print(planner.ask(planner_kit.pid, otherwise=os.getpid), flush=True)\n{end}")


def test_closing_leaves_no_child_and_a_new_question_starts_one(apart: Apart) -> None:
    """Closing twice does no harm either."""
    first = child(apart)
    apart.close()
    apart.close()
    assert first not in [process.pid for process in multiprocessing.active_children()]
    with pytest.raises(ProcessLookupError):
        os.kill(first, 0)
    assert child(apart) not in (0, first)


def test_the_signals_that_stop_a_service_are_left_to_the_parent(one: Apart) -> None:
    """Ctrl-C and a service manager's stop reach the child too, while the parent still wants its answer."""
    before = child(one)
    os.kill(before, signal.SIGINT)
    os.kill(before, signal.SIGTERM)
    assert child(one) == before


def test_threads_that_ask_at_once_get_their_own_answers(one: Apart) -> None:
    """One question at a time, each answer to whoever asked."""
    hours = [SERVE - timedelta(minutes=15 * each) for each in range(8)]
    with ThreadPoolExecutor(len(hours)) as asking:
        found = list(asking.map(lambda serve: one.time_out(SOUP, serve, NOON), hours))
    assert [each.serve for each in found] == hours
    assert all(isinstance(each, Timetable) for each in found)


def test_what_is_raised_there_is_raised_here(one: Apart) -> None:
    """With all it says and where it came from; the child goes on."""
    before = child(one)
    with pytest.raises(planning.Unsound, match="everyone is asleep") as raised:
        one.ask(planner_kit.refused, otherwise=lambda: 0)
    assert raised.value.breaches == (planner_kit.ASLEEP,)
    assert "planner_kit.py" in raised.value.__notes__[0]
    assert child(one) == before


# ---------------------------------------------------------------- when there is no answer


def test_a_child_that_hangs_is_replaced(apart: Apart) -> None:
    """Its question is answered with what there is, the next one by another child."""
    hung = child(apart)
    apart.limit = SCANT
    assert apart.ask(planner_kit.never, otherwise=lambda: -1) == -1
    apart.limit = AMPLE
    assert child(apart) not in (0, hung)


def test_a_child_that_dies_is_replaced(apart: Apart) -> None:
    """Over a question, which is answered with what there is, or between two, which nobody notices."""
    assert apart.ask(planner_kit.gone, otherwise=lambda: -1) == -1
    between = child(apart)
    assert between != 0
    os.kill(between, signal.SIGKILL)
    os.waitid(os.P_PID, between, os.WEXITED | os.WNOWAIT)
    assert child(apart) not in (0, between)


def test_the_best_so_far_is_the_answer_when_none_comes(apart: Apart) -> None:
    """The last that was told, and not what there would be without. What was told on the way to an answer is
    forgotten with it. (The process dies here, for time would have to pass for it to run out.)
    """
    assert apart.ask(planner_kit.told_and_answered, otherwise=lambda: -1, tells=True) == 2
    assert apart.ask(planner_kit.gone, otherwise=lambda: -1) == -1
    assert apart.ask(planner_kit.told, 7, 8, otherwise=lambda: -1, tells=True) == 8


def test_a_timetable_that_would_do_is_told_before_a_better_one_is_looked_for() -> None:
    """It is one that the verifier accepts, and is not called proven."""
    told: list[Timetable] = []
    planning.time_out(SUPPER, SERVE, MONDAY, so_far=told.append)
    (first,) = told
    assert not first.proven and not check(SUPPER, first, MONDAY)


def test_what_cannot_be_asked_is_said_and_does_no_harm(apart: Apart) -> None:
    """A function without a name does not travel; what comes next does."""
    with pytest.raises((AttributeError, TypeError, ValueError), match="pickle"):
        apart.ask(lambda: 1, otherwise=lambda: -1)
    assert child(apart) != 0


@pytest.fixture
def hasty() -> Iterator[Apart]:
    """A planner that gives no answer any time at all."""
    with Apart(timedelta(0)) as planner:
        yield planner


def test_out_of_time_the_timetable_in_force_holds_on(hasty: Apart) -> None:
    """It is verified afresh, and no longer called the best."""
    before = soup()
    assert hasty.time_out(SOUP, SERVE, NOON, None, before) == replace(before, proven=False)


def test_out_of_time_what_no_longer_holds_is_not_passed_off(hasty: Apart) -> None:
    """At 19:00 a soup that nobody began cannot be on the table at 19:30: an honest misfit, not proven."""
    found = hasty.time_out(SOUP, SERVE, SERVE - timedelta(minutes=30), at_the_start(SOUP), soup())
    assert isinstance(found, Misfit) and not found.proven and found.because == (GAVE_UP,)


def test_out_of_time_an_offer_stays_as_it_was(hasty: Apart) -> None:
    """What it offers was solved already; and of reasons there are none that were not worked out."""
    misfit, table = planning.time_out(SOUP, TOO_SOON, NOON), soup()
    assert isinstance(misfit, Misfit)
    assert hasty.lasting(misfit, SOUP, NOON) is misfit
    assert hasty.ways_out(misfit, SOUP, NOON) is misfit
    assert hasty.why(SOUP, table, 0, NOON, at_the_start(SOUP)) is None
    none = hasty.first_within(SOUP, NOON, on_any_day(ANY_HOUR))
    assert isinstance(none, Misfit) and not none.proven


# ---------------------------------------------------------------- the services


def test_services_time_nothing_out_themselves() -> None:
    """Of `scheduler.planning` they take only what needs no search; the rest they ask their planner."""
    taken = {
        alias.name
        for path in (ROOT / "scheduler" / "service").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module == "scheduler.planning"
        for alias in node.names
    }
    assert taken == {"carried_on"}
