"""Connections: one engine that writes, one that reads, on SQLite or PostgreSQL.

Writers take turns. On SQLite a write begins with BEGIN IMMEDIATE: the driver's own way reads first and locks later, and
so loses updates. On PostgreSQL it begins by taking a lock of the shop's own. So entries get their numbers in the order
in which they are committed, and nobody who follows the history misses one.
"""

from __future__ import annotations

import weakref
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from sqlite3 import Connection as SqliteConnection
from sqlite3 import Error as SqliteError
from threading import local

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DatabaseError, NoSuchModuleError, OperationalError

from fourply.errors import BadInput, Unavailable

BUSY_SECONDS = 30
_LOCK = 0x666F7572  # any number that every fourply shares
_PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_SECONDS * 1000}")


class Engines:
    """Both engines of one database."""

    def __init__(self, url: str) -> None:
        self.url = _checked(url)
        self._held = local()
        self.is_sqlite = self.url.get_backend_name() == "sqlite"
        if self.is_sqlite:
            self._write = _sqlite(url, "BEGIN IMMEDIATE")
            self._read = _sqlite(url, "BEGIN")
        else:
            self._write = _postgres(self.url)
            self._read = self._write.execution_options(isolation_level="REPEATABLE READ")
        # Whoever forgets to close, as a command that ends does, leaves no connection to the collector.
        for engine in (self._read, self._write):
            weakref.finalize(self, engine.dispose)

    @property
    def file(self) -> Path | None:
        """The file of a SQLite database."""
        return Path(self.url.database) if self.is_sqlite and self.url.database else None

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a transaction that nobody else writes beside; kept when it is left well, undone when it is not."""
        with _clearly(self.url.render_as_string()), self._write.begin() as connection:
            if not self.is_sqlite:
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a transaction that sees one state of the shop throughout: that of `snapshot` within one."""
        if (held := getattr(self._held, "connection", None)) is not None:
            yield held
            return
        with _clearly(self.url.render_as_string()), self._read.begin() as connection:
            yield connection

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """Let everything that this thread reads meanwhile see one state of the shop."""
        with self.reading() as connection:
            before = getattr(self._held, "connection", None)
            self._held.connection = connection
            try:
                yield
            finally:
                self._held.connection = before

    def close(self) -> None:
        """Close every connection."""
        self._read.dispose()
        self._write.dispose()


DAMAGED = "the file is damaged"


def _checked(url: str) -> URL:
    """Return an address; raises BadInput, without repeating what may hold a password."""
    kinds = "sqlite:///FILE or postgresql://user@host/name"
    try:
        found = make_url(url)
    except ArgumentError as bad:
        raise BadInput("the address of the database", kinds) from bad
    if found.get_backend_name() not in {"sqlite", "postgresql"}:
        raise BadInput(found.drivername, kinds)
    return found


def _postgres(url: URL) -> Engine:
    try:
        return create_engine(url, pool_pre_ping=True)
    except (ImportError, NoSuchModuleError) as bad:
        why = "PostgreSQL needs the extra postgres: pip install --require-hashes -r requirements-postgres.lock"
        raise Unavailable(url.render_as_string(), why) from bad


def sqlite_url(file: Path) -> str:
    """Return the address of a SQLite database in a file."""
    return f"sqlite:///{file}"


def _sqlite(url: str, begin: str) -> Engine:
    engine = create_engine(url, connect_args={"timeout": BUSY_SECONDS})

    def connected(connection: SqliteConnection, _: object) -> None:
        connection.isolation_level = None  # the driver begins nothing by itself
        for pragma in _PRAGMAS:
            connection.execute(f"PRAGMA {pragma}")

    def begun(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    event.listen(engine, "connect", connected)
    event.listen(engine, "begin", begun)
    return engine


@contextmanager
def _clearly(where: str) -> Iterator[None]:
    try:
        yield
    except DatabaseError as bad:
        if type(bad) not in {DatabaseError, OperationalError} or bad.orig is None:
            raise
        raise _unavailable(where, bad.orig) from bad
    except SqliteError as bad:  # while a connection is made
        raise _unavailable(where, bad) from bad
    except UnicodeDecodeError as bad:  # of SQLite's own sentence, where the damage that it repeats is no text
        if b"malformed" not in bad.object:
            raise
        raise Unavailable(where, DAMAGED, damaged=True) from bad


def _unavailable(where: str, why: BaseException) -> Unavailable:
    damaged = getattr(why, "sqlite_errorname", "") in {"SQLITE_NOTADB", "SQLITE_CORRUPT"}
    return Unavailable(where, (str(why).strip().splitlines() or [type(why).__name__])[0], damaged=damaged)
