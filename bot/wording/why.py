"""Why a step is when it is, in words: the one place for the chat and the command line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.wording.because import Telling, absent, gap, need
from bot.wording.lines import LINE
from scheduler import words
from scheduler.domain.progress import State
from scheduler.reasons import Because, Reason, Reasons


@dataclass(frozen=True)
class Why(Telling):
    """Reasons put together: a line for each side, or every reason on its own."""

    # ------------------------------------------------------------ whole sides

    def sides(self, most: int | None = None) -> list[tuple[str, list[str]]]:
        """ "No later than 13:35" with its clauses, `most` at most; no earlier; and why it lies in between."""
        found = self.found
        if found.state is not State.WAITING:
            head = f"Over by {self.when(found.latest)} at the latest"
            return [] if _own(found) else [(head, self._clauses(found.no_later, most))]
        head = f"No later than {self.when(found.latest)}"
        earlier = found.no_earlier
        if found.latest == found.earliest and _pinned(found):
            head, earlier = f"Only at {self.when(found.start)}", ()
        sides = [
            (head, found.no_later, most),
            (f"No earlier than {self.when(found.earliest)}", earlier, most),
            (f"Planned for {self.when(found.start)}", found.preferred, None),
        ]
        return [(head, self._clauses(reasons, limit)) for head, reasons, limit in sides if reasons]

    def brief(self) -> list[str]:
        """A line for each side, for a phone: as many clauses as it holds."""
        ways = [replace(self, name_length=length).sides(most) for most, length in WAYS]
        lines = zip(*([self._line(*side) for side in sides] for sides in ways), strict=True)
        return [next((line for line in each if len(line) <= LINE), each[-1]) for each in lines]

    @staticmethod
    def _line(head: str, clauses: list[str]) -> str:
        return f"{head}: {'; '.join(clauses)}."

    def full(self) -> list[str]:
        """Every reason on a line of its own."""
        lines: list[str] = []
        for head, clauses in self.sides():
            lines += ["", f"{head}, because", *(f"- {clause}" for clause in clauses)]
        return lines

    def _clauses(self, reasons: Sequence[Reason], most: int | None) -> list[str]:
        groups = _grouped([reason for reason in reasons if not self._silent(reason)] or list(reasons))
        kept, left = _telling(groups, most)
        clauses = [self.group(group) for group in kept]
        more = _steps(left) - _steps(kept)
        if more:
            clauses.insert(-1, f"then {words.counted(len(more), 'more step')}")
        return clauses if most is None else _named_once(clauses)

    def _silent(self, reason: Reason) -> bool:
        """What goes without saying where there is anything else to say: the next step begins so much later."""
        return reason.because is Because.LONGEST and not self.later(reason)

    def group(self, group: Sequence[Reason]) -> str:
        """Reasons that are told together."""
        if len(group) == 1:
            return self.clause(group[0])
        if group[0].because is Because.KEEPS:
            return f"{self._chain(group)} follow one another at once"
        steps = [self.step(each) for each in group]
        names = words.listed([self.quoted(step.number) for step in steps])
        needed = need(self.plan, steps, "need")
        return f"{absent(self, steps[0], group[0].asleep)} {gap(self, group[0])}, and {names} {needed}"

    def _chain(self, group: Sequence[Reason]) -> str:
        chain = [*(each.step for each in group), group[-1].other]
        names = [self.quoted(number) for number in chain if number is not None]
        return (
            words.listed(names)
            if len(names) <= MANY
            else f"the {len(names)} steps from {names[0]} to {names[-1]}"
        )


WAYS = ((4, 40), (3, 40), (2, 40), (2, 24))
"""Clauses of a side, and characters of a name, at most: ever fewer until a line holds them."""

MANY = 4
"""Steps of a chain that are named one by one."""


def _own(found: Reasons) -> bool:
    """Whether nothing but the step itself says when it ends."""
    return all(reason.step == found.step and reason.because is Because.BEGUN for reason in found.no_later)


def _pinned(found: Reasons) -> bool:
    """Whether what has begun leaves it one moment."""
    ends = (Because.BEGUN, Because.OVER)
    return all(side and side[-1].because in ends for side in (found.no_later, found.no_earlier))


Group = list[Reason]


def _grouped(reasons: Sequence[Reason]) -> list[Group]:
    """Reasons that one clause can tell: the same hours for several steps, steps tied to one another.

    Only those that name no moment of their own.
    """
    groups: list[Group] = []
    for reason in reasons:
        found = next((group for group in groups if _joins(reason, group)), None)
        if found is None:
            groups.append([reason])
        elif reason.other is not None and reason.other == found[0].step:
            found.insert(0, reason)
        else:
            found.append(reason)
    return groups


def _joins(reason: Reason, group: Group) -> bool:
    """Whether a reason is told with a group: the same hours, or tied to its first or its last step."""
    first, last = group[0], group[-1]
    if reason.by is not None or first.by is not None or reason.because is not first.because:
        return False
    if reason.because is Because.HOURS:
        return (reason.since, reason.until) == (first.since, first.until)
    tied = reason.because is Because.KEEPS and not reason.length and not first.length
    return tied and None not in (reason.other, last.other) and _meet(reason, first, last)


def _meet(reason: Reason, first: Reason, last: Reason) -> bool:
    return reason.step == last.other or reason.other == first.step


def _steps(groups: Sequence[Group]) -> set[int | None]:
    return {number for group in groups for each in group for number in (each.step,)} - {None}


def _telling(groups: list[Group], most: int | None) -> tuple[list[Group], list[Group]]:
    """The groups to tell, and those in between to count: what is needed first, the last one always."""
    if most is None or len(groups) <= most:
        return groups, []
    needed = [group for group in groups if any(each.facts for each in group)] or groups
    if len(needed) <= most:
        return needed, []
    first = sorted(needed[:-1], key=lambda group: group[0].because not in SHARED)[: max(1, most - 2)]
    told = [group for group in needed if group in first or group is needed[-1]]
    return told, [group for group in needed if group not in told]


SHARED = (Because.GEAR, Because.COOK)
"""What tells most, and is told first."""


def _named_once(clauses: list[str]) -> list[str]:
    """A step that the clause before spoke of last is not named again."""
    told = clauses[:1]
    for clause, before in zip(clauses[1:], clauses, strict=False):
        name = clause.partition("”")[0] + "”"
        again = clause.startswith((f"{name} takes", f"{name} may", f"{name} usually"))
        again = again and (before.startswith(name) or (before.count("“") == 1 and name in before))
        told.append(f"that {clause.removeprefix(name).strip()}" if again else clause)
    return told
