"""The first tables: chats, plans with their timetables and marks, the outbox, the inbox.

Instants are ISO 8601 text in UTC, 27 characters; enums are their text, 16 characters at most.
"""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    _chats()
    _plans()
    _timetables()
    _marks()
    _outbox()
    _inbox()


def _id() -> sa.Column[int]:
    return sa.Column("id", sa.Integer(), primary_key=True, nullable=False)


def _number(name: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def _text(name: str, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.String(), nullable=nullable)


def _word(name: str, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.String(length=16), nullable=nullable)


def _instant(name: str, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.String(length=27), nullable=nullable)


def _flag(name: str) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean(), nullable=False)


def _json(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.JSON(), nullable=nullable)


def _points(table: str, name: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([name], [f"{target}.id"], name=f"fk_{table}_{name}")


def _table(name: str, *parts: sa.Column[Any] | sa.Constraint) -> None:
    op.create_table(name, _id(), *parts, sa.PrimaryKeyConstraint("id", name=f"pk_{name}"))


def _unique(table: str, *names: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(*names, name=f"uq_{table}_{'_'.join(names)}")


def _index(table: str, *names: str) -> None:
    op.create_index(f"ix_{table}_{'_'.join(names)}", table, list(names))


def _chats() -> None:
    _table(
        "chats",
        _text("address"),
        _word("stage"),
        _text("zone", nullable=True),
        _text("awake", nullable=True),
        _flag("group"),
        _json("question", nullable=True),
        _instant("quiet_until", nullable=True),
        _text("barred", nullable=True),
        _unique("chats", "address"),
    )


def _plans() -> None:
    _table(
        "plans",
        _number("chat"),
        _text("title"),
        _text("source"),
        _text("zone"),
        _text("awake"),
        _instant("serve"),
        _instant("created"),
        _word("status"),
        _number("revision"),
        _number("timed", nullable=True),
        _points("plans", "chat", "chats"),
    )
    _index("plans", "chat")
    _index("plans", "status")


def _timetables() -> None:
    _table(
        "timetables",
        _number("plan"),
        _number("revision"),
        _instant("serve"),
        _flag("proven"),
        _points("timetables", "plan", "plans"),
        _unique("timetables", "plan", "revision"),
    )
    _table(
        "slots",
        _number("timetable"),
        _number("step"),
        *(_instant(name) for name in ("start", "end", "earliest", "latest", "last_call")),
        _text("cook", nullable=True),
        _points("slots", "timetable", "timetables"),
        _unique("slots", "timetable", "step"),
    )
    _table(
        "touches",
        _number("timetable"),
        _number("step"),
        _number("occurrence"),
        _instant("due"),
        _instant("at"),
        _text("trouble", nullable=True),
        _points("touches", "timetable", "timetables"),
        _unique("touches", "timetable", "step", "occurrence"),
    )


def _marks() -> None:
    _table(
        "marks",
        _number("plan"),
        _word("kind"),
        _instant("about"),
        _instant("said"),
        _text("batch"),
        _number("step", nullable=True),
        _number("occurrence", nullable=True),
        _instant("until", nullable=True),
        _text("by"),
        _text("text"),
        _text("undoes", nullable=True),
        _points("marks", "plan", "plans"),
    )
    _index("marks", "plan", "said")
    # What the cook said is never rewritten; a later step that copies the table makes these again.
    for doing in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER marks_refuse_{doing.lower()} BEFORE {doing} ON marks "
            "BEGIN SELECT RAISE(ABORT, 'marks are only ever added'); END"
        )


def _outbox() -> None:
    _table(
        "outbox",
        _number("chat"),
        _word("kind"),
        _instant("due"),
        _text("key"),
        _word("stage", nullable=True),
        _word("about", nullable=True),
        _instant("subject", nullable=True),
        _instant("expires", nullable=True),
        _number("plan", nullable=True),
        _number("step", nullable=True),
        _number("occurrence"),
        _number("revision"),
        _word("state"),
        _text("text"),
        _json("buttons"),
        _json("facts"),
        sa.Column("file", sa.LargeBinary(), nullable=True),
        _text("file_name", nullable=True),
        _number("priority"),
        _instant("not_before", nullable=True),
        _number("attempts"),
        _text("claim", nullable=True),
        _instant("lease", nullable=True),
        _instant("sent", nullable=True),
        _text("receipt", nullable=True),
        _text("error", nullable=True),
        _points("outbox", "chat", "chats"),
        _points("outbox", "plan", "plans"),
        _unique("outbox", "chat", "key"),
    )
    _index("outbox", "state", "due", "not_before", "lease")
    _index("outbox", "plan", "state")
    _index("outbox", "chat", "sent")
    _index("outbox", "chat", "receipt")
    _index("outbox", "sent")


def _inbox() -> None:
    _table(
        "inbox",
        _text("source"),
        _number("update"),
        _json("payload"),
        _instant("received"),
        _word("state"),
        _instant("not_before", nullable=True),
        _number("attempts"),
        _text("error", nullable=True),
        _unique("inbox", "source", "update"),
    )
    _index("inbox", "state", "received")
