"""The command line: what each command prints, and its exit code."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from bot import cli
from bot import main as composition
from bot.cli import FITS, MISFIT, WRONG, parser
from tests.cli_kit import Captured, Run, command_line
from tests.talk_kit import SUPPER, on

NOW = ("--now", "2026-05-05 20:00")
HOURLESS = SUPPER.replace("serve: 2026-05-09 19:30\n", "")


@pytest.fixture
def crockbell(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Runs a command line in an empty directory that holds supper.yaml, at a fixed time."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "supper.yaml").write_text(SUPPER)
    return command_line(on(5, "20:00"))


# ---------------------------------------------------------------- check


def test_check_says_that_it_fits(crockbell: Run, capsys: Captured) -> None:
    """Exit 0, the timetable by day."""
    assert crockbell("check", "supper.yaml", *NOW) == FITS
    assert capsys.readouterr().out.startswith("Supper for four: it fits. At the table Sat 9 May 19:30.")


def test_check_says_why_it_does_not_fit(crockbell: Run, capsys: Captured) -> None:
    """Exit 1, the reasons and the remedy; another hour asked for makes it fit."""
    assert crockbell("check", "supper.yaml", "--now", "2026-05-08 20:00") == MISFIT
    assert "These cannot all be true:" in capsys.readouterr().out
    late = ("--now", "2026-05-08 20:00", "--serve", "2026-05-12 19:30")
    assert crockbell("check", "supper.yaml", *late) == FITS


@pytest.mark.parametrize("arguments", [(), ("--now", "2026-05-08 20:00")], ids=["fits", "does not fit"])
def test_check_as_json_is_one_object(crockbell: Run, capsys: Captured, arguments: tuple[str, ...]) -> None:
    """The same exit code as the text, and the same every time."""
    code = crockbell("check", "supper.yaml", "--json", *arguments)
    first = capsys.readouterr().out
    crockbell("check", "supper.yaml", "--json", *arguments)
    assert capsys.readouterr().out == first
    found = json.loads(first)
    assert (code, found["status"]) in [(FITS, "fits"), (MISFIT, "misfit")]


# ---------------------------------------------------------------- an hour that is found


def serve_in(printed: str) -> str:
    return str(json.loads(printed)["serve"])


def test_a_plan_without_an_hour_is_timed_for_the_earliest(crockbell: Run, capsys: Captured) -> None:
    """It says so in one line, then prints the timetable; JSON gives the hour alone."""
    Path("hourless.yaml").write_text(HOURLESS)
    assert crockbell("check", "hourless.yaml", *NOW) == FITS
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "The earliest it can be on the table: Fri 8 May 20:30."
    assert said[1] == "Supper for four: it fits. At the table Fri 8 May 20:30."
    assert crockbell("check", "hourless.yaml", "--json", *NOW) == FITS
    assert serve_in(capsys.readouterr().out) == "2026-05-08T20:30:00+01:00"


def test_hours_wished_for_win_over_the_plans_own(crockbell: Run, capsys: Captured) -> None:
    """The first of them that fits, or the most comfortable, the measures told."""
    assert crockbell("check", "supper.yaml", "--when", "sun, 12:00-14:00", *NOW) == FITS
    assert capsys.readouterr().out.startswith(
        "The first of the hours asked for that fits: Sun 10 May 12:00.\n"
    )
    wish = ("--when", "sun, 12:00-14:00", "--comfortable", *NOW)
    assert crockbell("check", "supper.yaml", *wish) == FITS
    first = capsys.readouterr().out.splitlines()[0]
    assert (
        first.startswith("The most comfortable hour found: Sun 10 May 1") and "on the fullest day." in first
    )
    assert crockbell("check", "supper.yaml", "--json", *wish) == FITS
    assert serve_in(capsys.readouterr().out).startswith("2026-05-10T1")


def test_hours_wished_for_that_do_not_fit_are_a_misfit(crockbell: Run, capsys: Captured) -> None:
    """Exit 1, the reasons for the last of them, and the earliest hour there is."""
    assert crockbell("check", "supper.yaml", "--when", "2026-05-07", *NOW) == MISFIT
    said = capsys.readouterr().out.splitlines()
    assert said[0] == (
        "None of the hours asked for was found to fit; the earliest it can be on the table is Fri 8 May 20:30."
    )
    assert said[1] == "This is why the last of them does not:"
    assert said[2] == "Supper for four: no timetable fits Thu 7 May 22:45."
    assert "These cannot all be true:" in said


def test_no_other_hour_is_offered_where_nobody_is_ever_there(crockbell: Run, capsys: Captured) -> None:
    """A cook who is up from one to five at night: the hours asked for do not fit, and no mealtime would."""
    Path("night.yaml").write_text(HOURLESS.replace("07:00-23:00", "01:00-05:00"))
    assert crockbell("check", "night.yaml", "--when", "2026-05-07", *NOW) == WRONG
    assert crockbell("check", "night.yaml", "--when", "2026-05-07, 02:00-03:00", *NOW) == MISFIT
    assert capsys.readouterr().out.startswith("None of the hours asked for was found to fit.\n")


def test_every_command_about_a_timetable_finds_its_hour(crockbell: Run, capsys: Captured) -> None:
    """They say which hour it is before anything else; JSON stays JSON."""
    Path("hourless.yaml").write_text(HOURLESS)
    for argv in [("draw", "-o", "x.svg"), ("calendar", "-o", "x.ics"), ("shop",)]:
        assert crockbell(argv[0], "hourless.yaml", *argv[1:], "--when", "sun 12:00-14:00", *NOW) == FITS
        assert capsys.readouterr().out.startswith(
            "The first of the hours asked for that fits: Sun 10 May 12:00."
        )
    assert crockbell("shop", "hourless.yaml", "--json", *NOW) == FITS
    assert json.loads(capsys.readouterr().out)
    assert crockbell("rehearse", "hourless.yaml", *NOW) == FITS
    assert capsys.readouterr().out.startswith("The earliest it can be on the table: Fri 8 May 20:30.")


# ---------------------------------------------------------------- exit 2


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (("check", "missing.yaml"), "there is no file missing.yaml; bundled plans: rye-and-beet-supper, terrace-lunch"),
        (("check", "."), "there is no file ."),
        (("check", "bad.yaml"), "bad.yaml: line "),
        (("check", "supper.yaml", "--when", "sat", "--serve", "2026-05-10 19:30"), "--when finds the serving hour"),
        (("shop", "supper.yaml", "--comfortable", "--serve", "2026-05-10 19:30"), "--comfortable finds the"),
        (("check", "supper.yaml", "--when", "teatime"), "--when 'teatime': expected days, hours or both, such as"),
        (("check", "supper.yaml", "--when", ""), "--when '': expected days, hours or both"),
        (("check", "supper.yaml", "--when", "2026-05-04", *NOW), "--when '2026-05-04': no quarter hour of it"),
        (("check", "asleep.yaml", *NOW), "no mealtime at which someone is awake and at home"),
        (("check", "supper.yaml", "--now", "noon"), "--now 'noon': expected a date and time"),
        (("check", "supper.yaml", "--serve", "2026-02-30 19:30"), "expected a date that exists"),
        (("check", "supper.yaml", "--serve", "2026-03-29 01:30"), "there is no such hour in Europe/Lisbon"),
        (("check", "supper.yaml", "--zone", "Middle/Earth"), "--zone 'Middle/Earth': expected a time zone"),
        (("check", "supper.yaml", "--awake", "late"), "--awake 'late': expected hours"),
        (("check",), "the following arguments are required: PLAN"),
        (("frobnicate",), "invalid choice: 'frobnicate'"),
        (("rehearse", "supper.yaml", "--cook", "drunk"), "invalid choice: 'drunk'"),
        (("draw", "supper.yaml", "-o", "x.bmp"), "pictures are written as .png or .svg"),
        (("calendar", "supper.yaml", "-o", "no/such/place.ics"), "no/such/place.ics: No such file"),
        (("understand", "done", "--plan", "supper.yaml", "--asked", "Sing"), "has no step or tend of that name"),
        (("understand", "done", "--asked", "Sing"), "give --plan too"),
        (("chat", "--db", "supper.yaml"), "cannot be used as Crockbell's database"),
        (("serve", "--db", "x.db"), "CROCKBELL_TOKEN"),
    ],
)  # fmt: skip
def test_a_wrong_file_or_command_is_exit_two(
    crockbell: Run, capsys: Captured, monkeypatch: pytest.MonkeyPatch, argv: tuple[str, ...], told: str
) -> None:
    """Said on the error stream, nothing on the other."""
    monkeypatch.delenv("CROCKBELL_TOKEN", raising=False)
    Path("bad.yaml").write_text(SUPPER.replace("15 min", "a while"))
    Path("asleep.yaml").write_text(HOURLESS.replace("07:00-23:00", "01:00-05:00"))
    assert crockbell(*argv) == WRONG
    out, err = capsys.readouterr()
    assert told in err and out == ""


# ---------------------------------------------------------------- the others about a plan


def test_draw_and_calendar_write_files(crockbell: Run, capsys: Captured) -> None:
    """A picture of either kind and a calendar; the same bytes for the same present."""
    for command, name, begins in [
        ("draw", "x.svg", b"<?xml"), ("draw", "x.PNG", b"\x89PNG"), ("calendar", "x.ics", b"BEGIN:VCALENDAR"),
    ]:  # fmt: skip
        assert crockbell(command, "supper.yaml", "-o", name, *NOW) == FITS
        written = Path(name).read_bytes()
        assert written.startswith(begins) and f"wrote {name}" in capsys.readouterr().out
        crockbell(command, "supper.yaml", "-o", name, *NOW)
        assert Path(name).read_bytes() == written


@pytest.mark.parametrize("command", [("draw", "-o", "x.svg"), ("calendar", "-o", "x.ics"), ("shop",)])
def test_commands_about_a_timetable_say_why_there_is_none(
    crockbell: Run, capsys: Captured, command: tuple[str, ...]
) -> None:
    """Exit 1, and no file."""
    assert crockbell(command[0], "supper.yaml", *command[1:], "--now", "2026-05-09 12:00") == MISFIT
    assert "no timetable fits" in capsys.readouterr().out
    assert not Path("x.svg").exists() and not Path("x.ics").exists()


def test_shop_lists_by_day(crockbell: Run, capsys: Captured) -> None:
    """As text and as JSON."""
    assert crockbell("shop", "supper.yaml", *NOW) == FITS
    assert "- radishes, 500 g (for: Salt the radishes)" in capsys.readouterr().out
    crockbell("shop", "supper.yaml", "--json", *NOW)
    assert json.loads(capsys.readouterr().out)[0]["by"] == "2026-05-05"


def test_schema_is_a_schema(crockbell: Run, capsys: Captured) -> None:
    """JSON, for editors."""
    assert crockbell("schema") == FITS
    assert json.loads(capsys.readouterr().out)["$schema"].startswith("https://json-schema.org/")


@pytest.mark.parametrize("plan", ["rye-and-beet-supper", "terrace-lunch.yaml"])
def test_bundled_plans_are_known_by_name(crockbell: Run, capsys: Captured, plan: str) -> None:
    """And they fit, a month ahead."""
    assert crockbell("check", plan, "--now", "2027-01-20 09:00") == FITS
    assert "it fits" in capsys.readouterr().out


# ---------------------------------------------------------------- understand


def test_understand_is_repeatable_with_and_without_a_plan(crockbell: Run, capsys: Captured) -> None:
    """One JSON object with the keys of the design; `--now` counts in the zone asked for."""
    assert crockbell("understand", "remind me in an hour", "--json", "--zone", "Europe/Paris", *NOW) == FITS
    found = json.loads(capsys.readouterr().out)
    assert found["until"] == "2026-05-05T21:00:00+02:00"
    assert {"command", "step", "at", "until", "sure"} <= found.keys()
    crockbell("understand", "vented it", "--plan", "supper.yaml", "--asked", "vent the jar", "--json", *NOW)
    found = json.loads(capsys.readouterr().out)
    assert (found["command"], found["step"], found["sure"]) == ("done", "Vent the jar", True)


def test_understand_for_people(crockbell: Run, capsys: Captured) -> None:
    """What there is to say, a line each."""
    assert crockbell("understand", "half an hour late", *NOW) == FITS
    assert "command: late" in capsys.readouterr().out


# ---------------------------------------------------------------- options


def test_every_command_explains_itself(capsys: Captured) -> None:
    """`--help` everywhere, with the options that are common to all that take a plan."""
    for command in ("check", "rehearse", "draw", "calendar", "shop", "chat", "serve", "schema", "understand"):
        with pytest.raises(SystemExit) as end:
            parser().parse_args([command, "--help"])
        shown = capsys.readouterr().out
        assert end.value.code == 0
        if command not in ("chat", "serve", "schema"):
            assert "--serve" in shown and "--now" in shown


def test_a_reader_that_stops_reading_is_no_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    """`crockbell check ... | head -1` ends without a word."""

    def broken(argv: object, wiring: object) -> int:
        raise BrokenPipeError

    monkeypatch.setattr(cli, "run", broken)
    monkeypatch.setattr(os, "dup2", lambda *_: None)
    assert composition.main(["check", "x"]) == 1
