"""Networks with uncertainty: published examples with known answers, and a game played out by brute force."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings

from scheduler.domain.promise.controllability import controllable
from scheduler.domain.promise.dispatch import Dispatcher
from scheduler.domain.promise.stnu import Answer, Edge, Network
from tests.stnu_game import Tiny, can_be_won, network_of, tiny

Ordinary = tuple[str, str, int]
Link = tuple[str, str, int, int]


@dataclass(frozen=True)
class Case:
    """A network as papers write it: (from, to, at most), (begin, end, low, high)."""

    source: str
    edges: tuple[Ordinary, ...]
    links: tuple[Link, ...] = ()
    controllable: bool = True


def interval(a: str, b: str, low: int, high: int) -> tuple[Ordinary, Ordinary]:
    return (a, b, high), (b, a, -low)


PUBLISHED = (
    Case(
        "Hunsberger, slides on temporal networks, p. 118; read as encoded in the unit tests of the repository"
        " kimvandenhouten/SimPyManufacturing, which names it",
        (("B", "C", 5),),
        (("A", "C", 2, 9),),
    ),
    Case(
        "Hunsberger and Posenato 2023, figure 7a; read in the same repository's tests",
        (("X", "C", 3), ("X", "Y", -2), ("Y", "C", 1), ("C", "W", -7)),
        (("A", "C", 1, 10),),
    ),
    Case(
        "Morris 2014, the example with two contingent links; read in the same repository's tests",
        (*interval("E", "B", 2, 4), ("B", "D", 1), ("D", "B", 3)),
        (("A", "B", 0, 2), ("C", "D", 0, 3)),
        controllable=False,
    ),
    Case(
        "Morris 2014, that example with two edges left out; read in the same repository's tests",
        (("E", "B", 4), ("B", "D", 1)),
        (("A", "B", 0, 2), ("C", "D", 0, 3)),
    ),
    Case(
        "Hunsberger, slides, p. 140 (the smallest magic loop, Hunsberger 2013); read in the same tests",
        (("C1", "C2", -1), ("C2", "C1", 8), *interval("X", "C1", 7, 12)),
        (("A1", "C1", 1, 3), ("A2", "C2", 1, 10)),
        controllable=False,
    ),
    Case(
        "dc-2, a sample file of Hunsberger's group whose test log says it is controllable; read there",
        (*interval("X", "C0", 7, 12), ("C0", "C1", -1), ("C1", "C0", 11)),
        (("A0", "C0", 1, 3), ("A1", "C1", 1, 10)),
    ),
    Case(
        "Nilsson, Kvarnstroem, Doherty, Incremental Dynamic Controllability Revisited, figure 2; read in the"
        " tests of the FAPE planner (fr.laas.fape.constraints.stnu)",
        (
            *interval("A", "B", 5, 10),
            *interval("B", "C", 5, 10),
            *interval("C", "D", 5, 10),
            *interval("E", "A", 5, 7),
            ("U", "D", -15),
        ),
        (("A", "U", 5, 50),),
        controllable=False,
    ),
    Case(
        "The same paper's figure 3, a plain network that is consistent; read in the same tests",
        (
            *interval("A", "B", 3, 7),
            *interval("B", "C", 5, 9),
            *interval("C", "D", 30, 40),
            *interval("F", "E", 3, 7),
            *interval("G", "F", 4, 9),
            *interval("A", "G", 3, 7),
        ),
    ),
    Case(
        "The same figure 3 with the edge that makes it inconsistent; read in the same tests",
        (
            *interval("A", "B", 3, 7),
            *interval("B", "C", 5, 9),
            *interval("C", "D", 30, 40),
            *interval("F", "E", 3, 7),
            *interval("G", "F", 4, 9),
            *interval("A", "G", 3, 7),
            ("E", "D", 5),
        ),
        controllable=False,
    ),
    Case(
        "Morris, Muscettola, Vidal 2001, section 3: a point that would have to come before an end it cannot"
        " foresee (from memory)",
        (interval("D", "C", 1, 2)),
        (("A", "C", 1, 10),),
        controllable=False,
    ),
    Case(
        "The same with room to wait for the end (from memory)",
        (interval("C", "D", 0, 2)),
        (("A", "C", 1, 10),),
    ),
)


def built(edges: tuple[Ordinary, ...], links: tuple[Link, ...]) -> tuple[Network, dict[str, int]]:
    network, points = Network(), {"Z": 0}
    pairs = [(a, b) for a, b, _ in edges] + [(a, b) for a, b, _, _ in links]
    for name in (name for pair in pairs for name in pair):
        if name not in points:
            points[name] = network.point()
    for name, point in points.items():
        network.between(0, point, 0 if name != "Z" else None, None, "start")
    for tail, head, weight in edges:
        network.at_most(points[tail], points[head], weight, (tail, head))
    for begin, end, low, high in links:
        network.contingent(points[begin], points[end], low, high, (begin, end))
    return network, points


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: case.source[:28])
def test_published_networks_have_their_known_answers(case: Case) -> None:
    """Each network from the literature is found controllable or not, as its source says."""
    network, _ = built(case.edges, case.links)
    assert controllable(network).controllable is case.controllable


def test_the_dinner_of_the_literature_is_ready_on_time_at_one_moment_only() -> None:
    """Cooking has to begin exactly ten minutes after the drive home begins: one sooner or later is too much.

    Nilsson and others, Incremental Dynamic Controllability Revisited; read in the tests of the FAPE planner.
    """
    links = (("store", "drive", 30, 60), ("drive", "home", 35, 40), ("cook", "ready", 25, 30))
    together = interval("home", "ready", -5, 5)
    for gap, answer in ((9, False), (10, True), (11, False)):
        network, _ = built((*together, *interval("drive", "cook", gap, gap)), links)
        assert controllable(network).controllable is answer


def test_the_witness_of_a_network_is_a_negative_cycle() -> None:
    """For every published network that is not controllable the witness closes and is negative."""
    for case in PUBLISHED:
        network, _ = built(case.edges, case.links)
        if not case.controllable:
            sound_cycle(controllable(network).cycle)


def sound_cycle(cycle: tuple[Edge, ...]) -> None:
    assert cycle
    for edge, after in zip(cycle, (*cycle[1:], cycle[0]), strict=True):
        assert edge.head == after.tail
    assert sum(edge.weight for edge in cycle) < 0


# ---------------------------------------------------------------- against a game played out


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(tiny())
def test_the_check_agrees_with_a_game_played_out(game: Tiny) -> None:
    """On tiny networks the check says yes exactly when the game can be won against every nature."""
    assert controllable(network_of(game)).controllable is can_be_won(game)


@pytest.mark.slow
@settings(max_examples=2000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(tiny())
def test_the_check_agrees_with_a_game_played_out_at_length(game: Tiny) -> None:
    """The same on many more tiny networks."""
    assert controllable(network_of(game)).controllable is can_be_won(game)


@settings(max_examples=150, deadline=None)
@given(tiny())
def test_early_execution_keeps_every_constraint_of_a_controllable_network(game: Tiny) -> None:
    """Where the check says yes, what it leaves behind times every draw without breaking anything."""
    network = network_of(game)
    answer = controllable(network)
    if not answer.controllable:
        sound_cycle(answer.cycle)
        return
    for lasts in product(*(range(low, high + 1) for _, _, low, high in game.links)):
        kept_by(network, answer, lasts)


def kept_by(network: Network, answer: Answer, lasts: tuple[int, ...]) -> None:
    times = Dispatcher(network, answer.waits).run(lasts)
    for link, length in zip(network.contingents, lasts, strict=True):
        assert times[link.end] - times[link.begin] == length
    for edge in network.edges:
        if edge.lower is None and edge.upper is None:
            assert times[edge.head] - times[edge.tail] <= edge.weight, (edge, times)
