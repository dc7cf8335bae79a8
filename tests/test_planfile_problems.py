"""Refusing bad plan files: what is found, where, what was expected and what may have been meant."""

from __future__ import annotations

import pytest

from scheduler.domain.plan import PlanError
from scheduler.planfile import build as planbuild
from scheduler.planfile import read
from tests.refusals import HEAD, problems, the_problem
from tests.samples import EVERY_KEY, SMALL, with_steps


def place_of(text: str, part: str) -> tuple[int, int]:
    """The line and column at which a part of the text stands."""
    before = text[: text.index(part)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def test_a_problem_is_one_plain_line() -> None:
    """Where, what was found, what was expected, and the nearest known word."""
    problem = the_problem(SMALL.replace("nearby: 40 min", "nerby: 40 min"))
    assert str(problem) == (
        "line 12, column 9: found 'nerby', expected one of hands-on, nearby, unattended, until, usually, at, "
        "tend, wait ...; did you mean 'nearby'?"
    )
    assert problem.nearest == "nearby"


@pytest.mark.parametrize(
    ("good", "bad", "said"),
    [
        # what a key is called
        ("title:", "^titel:", "expected title; did you mean 'title'?"),
        ("cooks:", "^cook:", "did you mean 'cooks'?"),
        ("awake: 06:00-22:00", "^awak: 06:00-22:00", "expected awake; did you mean 'awake'?"),
        ("every: 1 d", "^evry: 1 d", "expected every; did you mean 'every'?"),
        ("keeps: 30 d", "^salt: 30 d", "found 'salt', expected one of hands-on"),
        ("crockbell: 1\n", "^", "found no 'crockbell', expected the key 'crockbell'"),
        # single values
        ("crockbell: 1", "crockbell: ^2", "found '2', expected 1, the version"),
        ("serves: 6", "serves: ^0", "a whole number from 1 to 10000"),
        ("serves: 6", "serves: ^6.5", "a whole number from 1 to 10000"),
        ("serves: 6", "serves:^", "found nothing, expected a whole number"),
        ("serve: 2026-06-20 13:00", "serve: ^2026-02-30 13:00", "a date that exists"),
        ("serve: 2026-06-20 13:00", "serve: ^tomorrow", "a date and time such as 2026-12-12 19:30"),
        ("serve: 2026-06-20 13:00", "serve: ^1926-06-20 13:00", "a year from 2000 to 2199"),
        ("Europe/Madrid", "^Madrid", "did you mean 'Europe/Madrid'?"),
        ("Europe/Madrid", "^Europe", "the name of a time zone"),
        ("Europe/Madrid", "^../etc/passwd", "the name of a time zone"),
        ("nearby: 45 min", "nearby: ^45", "a duration such as 25 min, 7 d to 10 d or at least 12 h"),
        ("nearby: 45 min", "nearby: ^0 min", "a time longer than nothing"),
        ("nearby: 45 min", "nearby: ^2 h to 1 h", "the shorter time first"),
        ("nearby: 45 min", "nearby: ^[45 min]", "found a list, expected a duration"),
        ("keeps: 30 d", "keeps: ^401 d", "at most 400 d"),
        ("keeps: 30 d", "keeps: ^5 d to 6 d", "a duration such as 25 min, 2 h 30 min or 7 d"),
        ("at: 66 F", "at: ^66", "a temperature with its unit"),
        ("at: 66 F", "at: ^900 C", "a temperature from -40 C to 300 C"),
        ("oven: 450 F", "oven: ^hot", "an oven temperature with its unit"),
        ("buy: 2 d before", "buy: ^friday", "a time before such as 2 d before"),
        ("on: sat-sun", "on: ^someday", "found the day 'someday', expected a day or date"),
        ("between: 11:00-13:00", "between: ^2026-06-20 11:00-13:00", "hours such as 09:00-12:00"),
        ("awake: 06:00-22:00", "awake: ^06:00", "hours such as 07:00-22:30"),
        ("awake: 06:00-22:00", "awake: ^06:00-06:00", "an end other than the start"),
        ("optional: true", "optional: ^maybe", "true or false"),
        ("carrots: 800 g", "carrots: ^some", "an amount such as 900 g"),
        ("carrots: 800 g", "carrots: ^0 g", "an amount above zero"),
        ("3 % of water + carrots", "^3 %", "an amount such as 900 g"),
        ("3 % of water + carrots", "^3 % of + carrots", "a name on both sides of every '+'"),
        ("name: Soup", 'name: ^"Soup\\u202e"', "the character U+202E"),
        ("name: Soup", 'name: ^"So\\tup"', "the character U+0009"),
        (
            "name: Soup",
            "name: ^" + "s" * 81,
            "found 81 characters, expected at most 80 characters",
        ),
        (
            "caution: mould",
            "caution: ^" + "s" * 401,
            "at most 400 characters",
        ),
        ("burner: 2", "burner: ^two", "a whole number from 0 to 99"),
        ("Noor: {}", "Noor: ^3", "expected keys with their values"),
        # values against each other
        ("usually: 1 w", "usually: ^2 w", "found '2 w', expected a time within 5 d to 9 d"),
        (
            "5 d to 9 d\n        until: sour and crisp\n        usually: 1 w",
            "at least 5 d\n        ^until: sour",
            "'until' without either",
        ),
        ("every: 30 min", "every: ^4 h", "at most 3 h, as long as the step lasts"),
        ("for: 4 d", "for: ^10 d", "at most 9 d, as long as the step lasts"),
        ("for: 4 d", "for: ^2 h", "at least 1 d"),
        ("hands-on: 90 s", "hands-on: ^30 min", "less than 30 min"),
        ("gear: mixer", "gear: ^mixxer", "did you mean 'mixer'?"),
        ("[burner, burner]", "[burner, burner, ^burner]", "found 3 of 'burner', expected at most 2"),
        ("[burner, burner]", "[^oven]", "such as 'oven: 180 C'"),
        ("mixer: 1}", "mixer: 1, ^Mixer: 2}", "found 'Mixer' again"),
        ("cook: noor", "cook: ^nora", "a cook of this kitchen: one of Ada, Noor; did you mean 'Noor'?"),
        ("rest the soup]", "^rest the sop]", "did you mean 'Rest the soup'?"),
        (
            "name: Dough rises",
            "name: ^Mix The Dough",
            "a name of its own for every step (this one is used on line 42)",
        ),
        ("name: Soup", "name: ^flatbread", "a name of its own for every component"),
        (
            "name: Simmer the soup\n",
            "name: Simmer the soup\n        after: ^Table\n",
            "'Lay the table', 'Simmer the soup', 'Rest the soup'",
        ),
        (
            "name: Simmer the soup\n",
            "name: Simmer the soup\n        after: ^Soup\n",
            "no step waits for itself",
        ),
        ("2 % of flour", "^2 % of flower", "did you mean 'flour'?"),
        ("2 % of flour", "^2 % of eggs", "'eggs' given by weight"),
        ("2 % of flour", "^2 % of salt", "found 'salt' as a share of itself"),
        ("flour: 500 g", "flour: ^9 % of salt", "as shares of one another"),
        ("flour: 500 g", "flour: 500 g, ^Flour: 1 g", "found 'Flour' again"),
        # hours that a clock change skips (the night of 29 March 2026 in Madrid: IANA tz database)
        ("serve: 2026-06-20 13:00", "serve: ^2026-03-29 02:30", "which the clocks in Europe/Madrid skip"),
        ("2026-06-17 18:00-23:00", "^2026-03-29 02:30-04:00", "a time that the clocks show"),
    ],
)
def test_one_mistake_is_one_problem_where_it_stands(good: str, bad: str, said: str) -> None:
    """Each kind of mistake is found alone, where "^" shows it, and explained."""
    assert good in EVERY_KEY
    marked = EVERY_KEY.replace(good, bad, 1)
    problem = the_problem(marked.replace("^", ""))
    assert said in str(problem)
    assert (problem.line, problem.column) == place_of(marked, "^")


@pytest.mark.parametrize(
    ("good", "bad", "at", "said"),
    [
        ("        until: sour and crisp\n", "", "usually", "expected 'until' and the sign"),
        ("oven: 1, ", "", "oven: 450", "found 'oven', and the kitchen has none"),
        (
            "keeps: 2 h",
            "keeps: 4 min",
            "5 min\n        between",
            "a wait of at most 4 min ('Bake the flatbread' keeps 4 min)",
        ),
        (
            "name: Warm the plates",
            "name: Rest the soup",
            "rest the soup]",
            "one of 'Soup / Rest the soup', 'Table / Rest the soup'",
        ),
        ("800 g", "9999999 kg", "3 % of water", "at most 10000 kg"),
    ],
)
def test_a_mistake_that_shows_elsewhere(good: str, bad: str, at: str, said: str) -> None:
    """Where two places disagree, the problem stands at the one that refers to the other."""
    assert good in EVERY_KEY
    text = EVERY_KEY.replace(good, bad, 1)
    problem = the_problem(text)
    assert said in str(problem)
    assert (problem.line, problem.column) == place_of(text, at)


def test_every_mistake_is_reported_in_order() -> None:
    """Mistakes of every kind in one file come out together, by line and column."""
    text = with_steps(
        "name: a, hands-on: 1 h, nearby: 2 h",
        "name: b",
        "name: c, unattended: at least 2 h, until: soft",
        "name: d, hands-on: 1 hour long, gear: [spoon]",
        "name: e, hands-on: 1 h, after: nobody, aftr: c",
        kitchen="gear: {burner: 2}, cooks: 0",
    )
    found = problems(text)
    assert [(problem.line, problem.found) for problem in found] == [
        (3, "'0'"),
        (7, "'nearby' beside 'hands-on'"),
        (8, "a step without any of them"),
        (9, "'until' without either"),
        (10, "'1 hour long'"),
        (10, "'spoon'"),
        (11, "'nobody'"),
        (11, "'aftr'"),
    ]
    assert [(problem.line, problem.column) for problem in found] == sorted((p.line, p.column) for p in found)


@pytest.mark.parametrize(
    "bad",
    [
        "kitchen: nonsense\n",
        "kitchen: {gear: 3}\n",
        "kitchen: {gear: {burner: x}, cooks: []}\n",
    ],
)
def test_a_broken_kitchen_is_not_held_against_the_steps(bad: str) -> None:
    """When what a step relies on can't be read, nobody is told that it isn't there."""
    text = (
        HEAD
        + bad
        + "components: [{name: D, steps: [{name: s, nearby: 1 h, gear: burner, cook: Ada, oven: 180 C}]}]"
    )
    text = text if "cooks" in bad or "nonsense" in bad else text.replace("cook: Ada, ", "")
    assert {problem.line for problem in problems(text)} == {3}


def test_a_broken_name_or_amount_is_not_held_against_who_refers_to_it() -> None:
    """What refers to something unreadable is not reported as well."""
    text = with_steps(
        'name: "a\\u0007", nearby: 1 h, amounts: {flour: lots}',
        "name: b, nearby: 1 h, after: a, amounts: {salt: 2 % of flour}",
    )
    assert [problem.line for problem in problems(text)] == [7, 7]


@pytest.mark.parametrize(
    ("components", "said"),
    [
        ("components: []", "found a list, expected at least one"),
        ("components: {a: b}", "found keys with values, expected a list"),
        ("components:", "found nothing, expected a list"),
        ("components: [soup]", "found 'soup', expected keys with their values"),
        ("components: [{name: Soup}]", "found no 'steps', expected the key 'steps'"),
        ("components: [{name: Soup, steps: []}]", "expected at least one"),
        ("components: [{name: Soup, steps: [stir]}]", "found 'stir', expected keys with their values"),
        ("components: [{name: Soup, steps: [{nearby: 1 h}]}]", "found no 'name', expected the key 'name'"),
        (
            "components: [{name: Soup, steps: [{name: s, nearby: 1 h, tend: often}]}]",
            "found 'often', expected keys",
        ),
        (
            "components: [{name: Soup, steps: [{name: s, nearby: 1 h, tend: {every: 5 min}}]}]",
            "no 'hands-on'",
        ),
        (
            "components: [{name: Soup, steps: [{name: s, nearby: 1 h, wait: 1 h}]}]",
            "a step that follows nothing",
        ),
        ("components: [{name: Soup, steps: [{name: s, nearby: 1 h, gear: pot}]}]", "and there is none"),
    ],
)
def test_wrong_shapes(components: str, said: str) -> None:
    """Lists, keys and texts in each other's place, and missing keys, are one problem each."""
    assert said in str(the_problem(HEAD + components))


def test_what_only_the_plan_itself_sees_is_a_problem_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the plan refuse what the reader let through, the cook is told, and nothing else escapes."""

    def refuse(*_: object) -> None:
        raise PlanError("the soup contradicts itself")

    monkeypatch.setattr(planbuild, "Plan", refuse)
    assert "the soup contradicts itself" in str(the_problem(SMALL))


def test_a_plan_may_have_500_steps_and_no_more() -> None:
    """The five hundred and first step is refused where it stands."""
    steps = [f"name: step {number}, hands-on: 5 min" for number in range(501)]
    assert len(read(with_steps(*steps[:500]), zone="UTC").steps) == 500
    problem = the_problem(with_steps(*steps))
    assert (problem.line, problem.found) == (507, "501 steps")
