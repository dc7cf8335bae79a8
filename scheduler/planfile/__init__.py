"""The plan file: YAML in, a Plan or every problem with its line and column out.

A bad file is refused whole. What does not refuse it but deserves a word is left in `Plan.remarks`.
"""

from __future__ import annotations

from typing import Any

from scheduler.domain.plan import Plan
from scheduler.planfile.problems import BadPlan, Problem

__all__ = ["AWAKE", "BadPlan", "Problem", "read", "schema"]

AWAKE = "07:00-22:30"
"""When a cook is taken to be up, if neither they nor their plan say so."""


def read(source: str | bytes, *, zone: str, awake: str = AWAKE, accepted: bool = False) -> Plan:
    """The plan a file holds. `zone` and `awake` are the cook's own, used where the file names none.

    `accepted`: it is in use already. A published limit that it crosses, because limits are checked now that were not
    when it came, is then a remark: a meal under way is not lost with an upgrade.

    Raises BadPlan, with every problem that was found, and nothing else for anything the file may hold.
    Raises ValueError where `zone` is no IANA time zone or `awake` does not read as hours.
    """
    from scheduler.planfile import build as planbuild  # pydantic takes a tenth of a second to import

    return planbuild.plan_of(source, zone, awake, accepted)


def schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a plan file, for editors that complete and check it."""
    from scheduler.planfile import shape as planschema

    return planschema.json_schema()
