"""The database's schema, step by step. Run by `upgrade`; there is no configuration file.

A new step: change tables.py, then `python -m storage.migrations "what changes"` drafts a revision in
versions/ to be read and finished by hand.
"""

from __future__ import annotations

from pathlib import Path
from sqlite3 import Connection as SqliteConnection

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, inspect

from storage.errors import StoreError

VERSIONS = Path(__file__).parent / "versions"


def upgrade(engine: Engine, to: str = "head") -> None:
    """Bring the database to a revision, in one transaction: all of it or nothing.

    Does nothing to one that is there already. Raises StoreError, and changes nothing, for a database that
    a newer Crockbell wrote or that is not Crockbell's.
    """
    with engine.connect() as connection:
        _keep_foreign_keys(connection, False)  # SQLite changes a table by putting a copy in its place
        try:
            with connection.begin():
                _upgrade(connection, to)
        finally:
            _keep_foreign_keys(connection, True)


def draft(engine: Engine, message: str, folder: Path = VERSIONS) -> None:
    """Write a revision that takes a database at the head to what tables.py says, for a person to finish.

    `engine` is that of an empty database; `folder` is where the revision goes.
    """
    upgrade(engine)
    with engine.begin() as connection:
        config = settings(connection)
        number = sum(1 for _ in ScriptDirectory.from_config(config).walk_revisions()) + 1
        places = "\n".join(dict.fromkeys([str(VERSIONS), str(folder)])).replace("%", "%%")
        config.set_main_option("path_separator", "newline")
        config.set_main_option("version_locations", places)
        command.revision(config, message, autogenerate=True, rev_id=f"{number:04d}", version_path=folder)


def settings(connection: Connection | None = None) -> Config:
    """What Alembic needs to know; env.py finds the connection in the attributes."""
    config = Config()
    config.set_main_option("script_location", "storage:migrations")
    config.set_main_option("file_template", "r%%(rev)s_%%(slug)s")
    config.attributes["connection"] = connection
    return config


def _upgrade(connection: Connection, to: str) -> None:
    config = settings(connection)
    scripts = ScriptDirectory.from_config(config)
    at = MigrationContext.configure(connection).get_current_heads()
    _refuse_strange(connection, at, scripts)
    if at == tuple(scripts.get_heads()):
        return
    command.upgrade(config, to)
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if broken is not None:
        raise StoreError(f"a row of {broken[0]} points at a row of {broken[2]} that is not there")


def _refuse_strange(connection: Connection, at: tuple[str, ...], scripts: ScriptDirectory) -> None:
    known = {script.revision for script in scripts.walk_revisions()}
    unknown = [revision for revision in at if revision not in known]
    if unknown:
        raise StoreError(
            f"the database is at revision {unknown[0]}, which this version of Crockbell does not know: "
            "a newer one wrote it. Install that version, or use another database."
        )
    if not at and inspect(connection).get_table_names():
        raise StoreError("the database holds something else than Crockbell's data")


def _keep_foreign_keys(connection: Connection, on: bool) -> None:
    """Outside any transaction, where alone SQLite heeds it; so past SQLAlchemy, which would begin one."""
    driver = connection.connection.driver_connection
    if isinstance(driver, SqliteConnection):
        driver.execute(f"PRAGMA foreign_keys={'ON' if on else 'OFF'}")
