"""Chats, on SQLite."""

from __future__ import annotations

from sqlalchemy import bindparam
from sqlmodel import col, select

from scheduler.ports import Chats
from scheduler.records import Chat
from storage.mapping import chat_row, to_chat
from storage.repository import Repository, plainly
from storage.tables import StoredChat

_AT = select(StoredChat).where(col(StoredChat.address) == bindparam("address"))


class SqlChats(Repository, Chats):
    def at(self, address: str) -> Chat | None:
        row = self._live().exec(_AT, params={"address": address}).first()
        return None if row is None else to_chat(row)

    def get(self, chat: int) -> Chat:
        """Raises LookupError for a chat that is not stored."""
        row = self._live().get(StoredChat, chat)
        if row is None:
            raise LookupError(f"there is no chat {chat}")
        return to_chat(row)

    def save(self, chat: Chat) -> Chat:
        """Raises ValueError when another chat has the address, LookupError when its id is not stored."""
        session, row = self._live(), chat_row(chat)
        if chat.id is not None:
            self.get(chat.id)
        with plainly(session):
            row = session.merge(row)
            session.flush()
        return to_chat(row)
