"""What Alembic runs for every command: the connection it is given, our tables, one transaction."""

from __future__ import annotations

from typing import Any, Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext
from sqlalchemy import JSON, Enum, String

from storage.columns import ENUM_WIDTH, INSTANT_WIDTH, UtcDateTime
from storage.tables import Base


def in_plain_types(kind: str, item: Any, autogen: AutogenContext) -> str | Literal[False]:
    """Revisions name the database's own types, so that they stay true when ours change."""
    if kind != "type":
        return False
    if isinstance(item, UtcDateTime):
        return f"sa.String(length={INSTANT_WIDTH})"
    if isinstance(item, Enum):
        return f"sa.String(length={ENUM_WIDTH})"
    if isinstance(item, JSON):
        return "sa.JSON()"
    return "sa.String()" if isinstance(getattr(item, "impl", item), String) else False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    render_item=in_plain_types,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
