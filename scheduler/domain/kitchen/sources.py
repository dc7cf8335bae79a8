"""Where a figure comes from, and how it came to be known here."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class How(StrEnum):
    """How a figure was come by."""

    READ = "read"
    READ_IN_A_COPY = "read in a copy"
    FROM_MEMORY = "from memory"
    WORKED_OUT = "worked out"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Source:
    """`name` as it is told to a cook; `where` is the section or table."""

    name: str
    where: str = ""
    how: How = How.READ

    def __str__(self) -> str:
        """ "FDA Food Code 2013, 3-501.14"; what was not read says so."""
        if self.how is How.PRACTICE:
            return self.name or str(self.how)
        place = f"{self.name}, {self.where}" if self.where else self.name
        return f"{place}, {self.how}" if self.how is How.FROM_MEMORY else place
