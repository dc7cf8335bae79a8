"""What is remembered and what passes between the services and the outside: plain records.

Every instant is an aware UTC datetime.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any

from scheduler.changes import Change
from scheduler.domain.stages import About, Stage
from scheduler.domain.timetable import Timetable


class ChatStage(StrEnum):
    """How far a first conversation has come."""

    NEW = "new"
    ZONE = "zone"
    HOURS = "hours"
    READY = "ready"


@dataclass(slots=True)
class Chat:
    """One conversation. `address` names transport and peer ("telegram:4711", "terminal:here").

    `zone` and `awake` are the cook's own, used where a plan names none; `awake` as a plan file writes
    it. `question` is what was last asked and not yet answered, as JSON. `quiet_until` holds back what
    can wait. `barred` says why nothing can be sent ("blocked"), or is None.
    """

    address: str
    id: int | None = None
    stage: ChatStage = ChatStage.NEW
    zone: str | None = None
    awake: str | None = None
    group: bool = False
    question: dict[str, Any] | None = None
    quiet_until: datetime | None = None
    barred: str | None = None


class PlanStatus(StrEnum):
    DRAFT = "draft"
    ACTIVE = "active"
    PAUSED = "paused"
    FINISHED = "finished"
    STOPPED = "stopped"


@dataclass(slots=True)
class PlanRow:
    """A plan as it arrived, and the timetable in force.

    `source` is the plan file's text; with `zone` and `awake` (the cook's own when it arrived) it always
    reads to the same plan. `serve` is the serving hour in force, `changes` what was changed about the
    kitchen since, in order. `revision` grows by one with every timetable; whoever saves names the revision
    read.
    """

    chat: int
    title: str
    source: str
    zone: str
    awake: str
    serve: datetime
    created: datetime
    id: int | None = None
    status: PlanStatus = PlanStatus.DRAFT
    revision: int = 0
    timetable: Timetable | None = None
    changes: tuple[Change, ...] = ()


class Kind(StrEnum):
    """What a letter is: a nudge, an answer to the cook, a file, or the buttons of an old one taken off."""

    NUDGE = "nudge"
    ANSWER = "answer"
    FILE = "file"
    UNBUTTON = "unbutton"


class LetterState(StrEnum):
    PENDING = "pending"
    SENDING = "sending"
    SENT = "sent"
    UNCERTAIN = "uncertain"
    DEAD = "dead"
    OBSOLETE = "obsolete"


@dataclass(frozen=True, slots=True)
class Button:
    """A label and the data that comes back when it is pressed (64 bytes of UTF-8 at most)."""

    label: str
    data: str


@dataclass(slots=True)
class Letter:
    """One message owed to a chat: an outbox row, unique on (chat, key).

    A nudge's words are found when it is sent: `about`, `stage`, `step`, `occurrence` and `subject` say what
    it is (see domain.stages.Nudge), `expires` when it has lost its use; its key begins with the plan's id.
    Answers carry `text`, whose first line is its heading, and `buttons`. FILE letters send `file` under
    `file_name` with `text` as caption. UNBUTTON letters take the buttons off the message `receipt` names.
    `facts` holds what else the words need, as JSON. `priority` is lower for the more urgent.
    `uncertain` letters are sent once more, marked "(repeat)"; `attempts` counts the tries of which any may
    have delivered it. The text, buttons and receipt of what was sent are kept.
    """

    chat: int
    kind: Kind
    due: datetime
    key: str
    stage: Stage | None = None
    about: About | None = None
    subject: datetime | None = None
    expires: datetime | None = None
    id: int | None = None
    plan: int | None = None
    step: int | None = None
    occurrence: int = 0
    revision: int = 0
    state: LetterState = LetterState.PENDING
    text: str = ""
    buttons: tuple[Button, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)
    file: bytes | None = None
    file_name: str | None = None
    priority: int = 5
    not_before: datetime | None = None
    attempts: int = 0
    claim: str | None = None
    lease: datetime | None = None
    sent: datetime | None = None
    receipt: str | None = None
    error: str | None = None


class ReceivedState(StrEnum):
    NEW = "new"
    DONE = "done"
    DEAD = "dead"


@dataclass(slots=True)
class Received:
    """A raw update as it came: an inbox row, unique on (source, update)."""

    source: str
    update: int
    payload: dict[str, Any]
    received: datetime
    id: int | None = None
    state: ReceivedState = ReceivedState.NEW
    not_before: datetime | None = None
    attempts: int = 0
    error: str | None = None


@dataclass(frozen=True, slots=True)
class Incoming:
    """A raw update, read: who said what, where.

    `data` is a pressed button's; `reply_to` the receipt of the message replied to or whose button was
    pressed; `document` the name and a reference to fetch a file by. `moved_to` is the new address of a
    group that was upgraded. `kind` of anything Crockbell has no use for is "other".
    """

    address: str
    at: datetime
    kind: str = "text"
    text: str = ""
    data: str | None = None
    reply_to: str | None = None
    document: tuple[str, str] | None = None
    size: int | None = None
    sender: str = ""
    group: bool = False
    moved_to: str | None = None
    press: str | None = None
