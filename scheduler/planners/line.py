"""A child process and the lines to it, seen from its parent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from scheduler.planners.child import Question, Reply, answer_all

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess


class NoAnswer(Exception):
    """The child process did not answer in time, or is gone. `so_far` is what it told that would do, or None."""

    def __init__(self, why: str, so_far: Any) -> None:
        super().__init__(why)
        self.so_far = so_far


@dataclass(frozen=True, slots=True)
class Child:
    """Questions and replies go over one line; over the other comes what would do so far."""

    process: SpawnProcess
    line: Connection[Question, Reply]
    telling: Connection[Any, Any]

    @staticmethod
    def started() -> Child:
        from multiprocessing import get_context

        # Spawned, not forked: a fork would copy the bot's threads' locks in whatever state they are.
        context = get_context("spawn")
        (line, theirs), (telling, told) = context.Pipe(), context.Pipe(duplex=False)
        arguments = (theirs, told)
        process = context.Process(target=answer_all, args=arguments, name="crockbell planner", daemon=True)
        process.start()
        # The child has its own; with ours open too, its end would never be noticed.
        theirs.close()
        told.close()
        return Child(process, line, telling)

    def reply(self, question: Question, limit: timedelta) -> Reply:
        """What it answers; NoAnswer after `limit`, and then it must be ended."""
        seconds = limit.total_seconds()
        why = f"no answer within {seconds:g} s"
        try:
            self.line.send(question)
            if self.line.poll(seconds):
                reply = self.line.recv()
                self._told()
                return reply
        except (EOFError, ConnectionError):
            why = "the process that plans was lost"
        raise NoAnswer(why, self._told())

    def _told(self) -> Any:
        """What was told last, and nothing is left of it."""
        last = None
        try:
            while self.telling.poll():
                last = self.telling.recv()
        except (EOFError, ConnectionError):
            return last
        return last

    def end(self) -> None:
        """Let it go, killed if need be: it holds nothing that could be lost."""
        self.line.close()
        self.telling.close()
        self.process.kill()
        self.process.join()
        self.process.close()
