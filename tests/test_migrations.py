"""The schema's history: every revision leads to what tables.py says, and loses nothing on the way."""

from __future__ import annotations

import runpy
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import JSON, Boolean, Engine, Integer, LargeBinary, MetaData, Table, event, insert, select

from scheduler.changes import Change, ChangeKind
from storage.engine import make_engine, open_store
from storage.errors import StoreError
from storage.migrations import draft, settings, upgrade
from storage.tables import Base

SCRIPTS = ScriptDirectory.from_config(settings())
REVISIONS = [script.revision for script in SCRIPTS.walk_revisions()][::-1]


@pytest.fixture
def path(tmp_path: Path) -> str:
    return str(tmp_path / "crockbell.sqlite3")


@pytest.fixture
def engine(path: str) -> Iterator[Engine]:
    made = make_engine(path)
    yield made
    made.dispose()


def dump(path: str) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def reflected(engine: Engine) -> MetaData:
    found = MetaData()
    found.reflect(engine)
    return found


def a_row(table: Table) -> dict[str, Any]:
    """One value for every column, whatever the table; ids and what points at them are 1."""
    made: dict[str, Any] = {}
    for column in table.columns:
        if isinstance(column.type, JSON):
            made[column.name] = {"kept": [1, "ü"]}
        elif isinstance(column.type, LargeBinary):
            made[column.name] = bytes(range(256))
        elif isinstance(column.type, Boolean | Integer):
            made[column.name] = 1
        else:
            made[column.name] = f"{table.name} {column.name}"
    return made


def fill(engine: Engine) -> dict[str, dict[str, Any]]:
    """Put a row in every table there is: the rows, by table."""
    tables = [table for table in reflected(engine).sorted_tables if table.name != "alembic_version"]
    made = {table.name: a_row(table) for table in tables}
    with engine.begin() as connection:
        for table in tables:
            connection.execute(insert(table).values(made[table.name]))
    return made


def test_an_empty_database_becomes_what_the_tables_say(engine: Engine) -> None:
    """After all revisions nothing is left for Alembic to change: tables, columns, types, keys, indexes."""
    upgrade(engine)
    with engine.connect() as connection:
        options = {"compare_type": True, "render_as_batch": True}
        context = MigrationContext.configure(connection, opts=options)
        assert context.get_current_heads() == (REVISIONS[-1],)
        assert compare_metadata(context, Base.metadata) == []


def test_names_of_constraints_are_those_of_the_tables(engine: Engine) -> None:
    """Keys and constraints are named as the tables' naming rule names them, so that they can be changed."""
    upgrade(engine)
    found = reflected(engine)
    for table in Base.metadata.sorted_tables:
        ours = {constraint.name for constraint in table.constraints}
        assert {constraint.name for constraint in found.tables[table.name].constraints} == ours


def test_there_is_one_head() -> None:
    """The revisions form one line: numbered, each after the one before."""
    assert SCRIPTS.get_heads() == [REVISIONS[-1]]
    assert [f"{number:04d}" for number in range(1, len(REVISIONS) + 1)] == REVISIONS


def test_upgrading_again_changes_nothing(engine: Engine, path: str) -> None:
    """A database at the head, with data in it, is byte for byte what it was."""
    upgrade(engine)
    fill(engine)
    before = dump(path)
    upgrade(engine)
    open_store(path).close()
    assert dump(path) == before


@pytest.mark.parametrize("revision", REVISIONS)
def test_rows_survive_from_every_revision(engine: Engine, revision: str) -> None:
    """A row in each table of each revision is still there at the head, in every column that still is."""
    upgrade(engine, to=revision)
    before = fill(engine)
    upgrade(engine)
    now = reflected(engine).tables
    with engine.connect() as connection:
        for name in before.keys() & now.keys():
            (row,) = connection.execute(select(now[name])).mappings()
            shared = before[name].keys() & row.keys()
            assert {column: row[column] for column in shared} == {
                column: before[name][column] for column in shared
            }


def test_plans_from_before_changes_have_none(path: str) -> None:
    """A plan stored by the first revision is read by today's store, whole, with nothing changed about it."""
    engine = make_engine(path)
    upgrade(engine, to="0001")
    engine.dispose()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(
            "INSERT INTO chats (id, address, stage, \"group\") VALUES (1, 'terminal:here', 'ready', 0)"
        )
        connection.execute(
            "INSERT INTO plans (id, chat, title, source, zone, awake, serve, created, status, revision) VALUES "
            "(7, 1, 'Soup', 'crockbell: 1', 'Europe/Paris', '07:00-22:30', '2026-12-12T18:30:00.000000Z', "
            "'2026-12-01T08:00:00.000000Z', 'active', 3)"
        )
        connection.commit()
    store = open_store(path)
    with store() as unit:
        row = unit.plans.get(7)
        assert row is not None and (row.title, row.revision, row.changes) == ("Soup", 3, ())
        saved = unit.plans.save(replace(row, changes=(Change(ChangeKind.GEAR, gear="burner"),)), based_on=3)
        unit.commit()
    with store() as unit:
        assert unit.plans.get(7) == saved
    store.close()


def test_an_upgrade_that_fails_leaves_nothing_behind(engine: Engine, path: str) -> None:
    """All of it or nothing: a crash at the last table leaves a database that upgrades as if new."""

    def crash(connection: object, cursor: object, statement: str, *rest: object) -> None:
        if "CREATE TABLE inbox" in statement:
            raise ZeroDivisionError

    event.listen(engine, "before_cursor_execute", crash)
    with pytest.raises(ZeroDivisionError):
        upgrade(engine)
    assert dump(path) == ["BEGIN TRANSACTION;", "COMMIT;"]
    event.remove(engine, "before_cursor_execute", crash)
    upgrade(engine)
    assert "outbox" in reflected(engine).tables


def test_foreign_keys_are_kept_again_after_an_upgrade(engine: Engine) -> None:
    """The connection that upgraded refuses a plan of no chat."""
    upgrade(engine)
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1


def test_a_database_of_a_newer_version_is_left_alone(path: str) -> None:
    """An unknown revision raises StoreError that says so, and not a byte of the data changes."""
    open_store(path).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.execute("ALTER TABLE chats ADD COLUMN mood VARCHAR")
        connection.commit()
    before = dump(path)
    with pytest.raises(StoreError, match=r"9999.*newer"):
        open_store(path)
    assert dump(path) == before


def test_a_database_of_something_else_is_left_alone(path: str) -> None:
    """A SQLite file with other tables raises StoreError, and gets none of ours."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE stamps (country TEXT)")
    before = dump(path)
    with pytest.raises(StoreError, match="something else"):
        open_store(path)
    assert dump(path) == before


def test_a_draft_follows_the_head_and_finds_nothing_to_do(tmp_path: Path) -> None:
    """With tables and revisions in step, the drafted revision is the next in line and empty."""
    draft(make_engine(None), "nothing new", tmp_path)
    (written,) = tmp_path.glob("r*.py")
    made = runpy.run_path(str(written))
    assert (made["revision"], made["down_revision"]) == (f"{len(REVISIONS) + 1:04d}", REVISIONS[-1])
    assert written.name == f"r{made['revision']}_nothing_new.py"
    assert made["upgrade"]() is None


def test_a_draft_writes_down_what_a_new_column_takes(tmp_path: Path) -> None:
    """A column the revisions do not have yet is added by the draft, in the database's own types."""
    engine = make_engine(None)
    upgrade(engine)
    with engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE plans DROP COLUMN serve")
    draft(engine, "serve", tmp_path)
    (written,) = tmp_path.glob("r*.py")
    assert (
        "batch_op.add_column(sa.Column('serve', sa.String(length=27), nullable=False))" in written.read_text()
    )
