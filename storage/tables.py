"""The tables. Each class is one row of one.

SQLModel does not validate tables when they are made by their constructor: rows are made with
`model_validate(..., strict=True)`, in mapping.py and nowhere else.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from pydantic import AfterValidator
from sqlalchemy import Index, MetaData, UniqueConstraint
from sqlalchemy.orm import registry
from sqlmodel import Field, SQLModel

from scheduler.domain.progress import MarkKind
from scheduler.domain.stages import About, Stage
from scheduler.records import ChatStage, Kind, LetterState, PlanStatus, ReceivedState
from storage.columns import Json, UtcDateTime, plain_json, text_of, utc

BUTTON_BYTES = 64

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "pk": "pk_%(table_name)s",
}
"""Every constraint has a name, so that a later migration can change it."""


def _fit_buttons(buttons: list[list[str]]) -> list[list[str]]:
    for label, data in buttons:
        if len(data.encode()) > BUTTON_BYTES:
            raise ValueError(f"the button {label!r} carries more than {BUTTON_BYTES} bytes")
    return buttons


Instant = Annotated[datetime, AfterValidator(utc)]
JsonObject = Annotated[dict[str, Any], AfterValidator(plain_json)]
JsonObjects = Annotated[list[dict[str, Any]], AfterValidator(plain_json)]
Buttons = Annotated[list[list[str]], AfterValidator(_fit_buttons)]


class Base(SQLModel, registry=registry(metadata=MetaData(naming_convention=NAMES))):
    """What all tables share: one set of metadata."""


class StoredChat(Base, table=True):
    __tablename__ = "chats"

    id: int | None = Field(default=None, primary_key=True)
    address: str = Field(unique=True)
    stage: ChatStage = Field(sa_type=text_of(ChatStage))
    zone: str | None
    awake: str | None
    group: bool
    question: JsonObject | None = Field(sa_type=Json)
    quiet_until: Instant | None = Field(sa_type=UtcDateTime)
    barred: str | None


class StoredPlan(Base, table=True):
    __tablename__ = "plans"

    id: int | None = Field(default=None, primary_key=True)
    chat: int = Field(foreign_key="chats.id", index=True)
    title: str
    source: str
    zone: str
    awake: str
    serve: Instant = Field(sa_type=UtcDateTime)
    created: Instant = Field(sa_type=UtcDateTime)
    status: PlanStatus = Field(sa_type=text_of(PlanStatus), index=True)
    revision: int
    timed: int | None = None
    """The revision that brought the timetable in force; later ones may have left it as it was."""

    changes: JsonObjects = Field(sa_type=Json, sa_column_kwargs={"server_default": "[]"})


class StoredTimetable(Base, table=True):
    """The timetable a revision brought; its slots and touches are rows of their own."""

    __tablename__ = "timetables"
    __table_args__ = (UniqueConstraint("plan", "revision"),)

    id: int | None = Field(default=None, primary_key=True)
    plan: int = Field(foreign_key="plans.id")
    revision: int
    serve: Instant = Field(sa_type=UtcDateTime)
    proven: bool


class StoredSlot(Base, table=True):
    __tablename__ = "slots"
    __table_args__ = (UniqueConstraint("timetable", "step"),)

    id: int | None = Field(default=None, primary_key=True)
    timetable: int = Field(foreign_key="timetables.id")
    step: int
    start: Instant = Field(sa_type=UtcDateTime)
    end: Instant = Field(sa_type=UtcDateTime)
    earliest: Instant = Field(sa_type=UtcDateTime)
    latest: Instant = Field(sa_type=UtcDateTime)
    last_call: Instant = Field(sa_type=UtcDateTime)
    cook: str | None


class StoredTouch(Base, table=True):
    __tablename__ = "touches"
    __table_args__ = (UniqueConstraint("timetable", "step", "occurrence"),)

    id: int | None = Field(default=None, primary_key=True)
    timetable: int = Field(foreign_key="timetables.id")
    step: int
    occurrence: int
    due: Instant = Field(sa_type=UtcDateTime)
    at: Instant = Field(sa_type=UtcDateTime)
    trouble: str | None


class StoredMark(Base, table=True):
    """Append-only: triggers refuse to change or delete a row."""

    __tablename__ = "marks"
    __table_args__ = (Index(None, "plan", "said"),)

    id: int | None = Field(default=None, primary_key=True)
    plan: int = Field(foreign_key="plans.id")
    kind: MarkKind = Field(sa_type=text_of(MarkKind))
    about: Instant = Field(sa_type=UtcDateTime)
    said: Instant = Field(sa_type=UtcDateTime)
    batch: str
    step: int | None
    occurrence: int | None
    until: Instant | None = Field(sa_type=UtcDateTime)
    by: str
    text: str
    undoes: str | None


class StoredLetter(Base, table=True):
    """An outbox row. The index on state serves "what is due" and "what falls due next"."""

    __tablename__ = "outbox"
    __table_args__ = (
        UniqueConstraint("chat", "key"),
        Index(None, "state", "due", "not_before", "lease"),
        Index(None, "plan", "state"),
        Index(None, "chat", "sent"),
        Index(None, "chat", "receipt"),
        Index(None, "sent"),
    )

    id: int | None = Field(default=None, primary_key=True)
    chat: int = Field(foreign_key="chats.id")
    kind: Kind = Field(sa_type=text_of(Kind))
    due: Instant = Field(sa_type=UtcDateTime)
    key: str
    stage: Stage | None = Field(sa_type=text_of(Stage))
    about: About | None = Field(sa_type=text_of(About))
    subject: Instant | None = Field(sa_type=UtcDateTime)
    expires: Instant | None = Field(sa_type=UtcDateTime)
    plan: int | None = Field(foreign_key="plans.id")
    step: int | None
    occurrence: int
    revision: int
    state: LetterState = Field(sa_type=text_of(LetterState))
    text: str
    buttons: Buttons = Field(sa_type=Json)
    facts: JsonObject = Field(sa_type=Json)
    file: bytes | None
    file_name: str | None
    priority: int
    not_before: Instant | None = Field(sa_type=UtcDateTime)
    attempts: int
    claim: str | None
    lease: Instant | None = Field(sa_type=UtcDateTime)
    sent: Instant | None = Field(sa_type=UtcDateTime)
    receipt: str | None
    error: str | None


class StoredUpdate(Base, table=True):
    """An inbox row: a raw update as it came."""

    __tablename__ = "inbox"
    __table_args__ = (UniqueConstraint("source", "update"), Index(None, "state", "received"))

    id: int | None = Field(default=None, primary_key=True)
    source: str
    update: int
    payload: JsonObject = Field(sa_type=Json)
    received: Instant = Field(sa_type=UtcDateTime)
    state: ReceivedState = Field(sa_type=text_of(ReceivedState))
    not_before: Instant | None = Field(sa_type=UtcDateTime)
    attempts: int
    error: str | None
