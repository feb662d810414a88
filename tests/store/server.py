"""A PostgreSQL server for tests, where this machine has one: started in a folder of its own, stopped afterwards.

FOURPLY_TEST_POSTGRES names another server to use, as postgresql://user@host:port (its user may make databases).
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp
from uuid import uuid4

GIVEN = "FOURPLY_TEST_POSTGRES"
PLACES = os.pathsep.join((os.environ.get("PATH", os.defpath), "/usr/sbin", "/sbin"))
"""Where runuser is looked for: where programs of the system stand, whatever PATH is."""


def programs() -> Path | None:
    """Return the folder of initdb and pg_ctl, of the newest server where there are several."""
    found = shutil.which("initdb")
    if found:
        return Path(found).parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: float(path.parts[-3]))
    return folders[-1].parent if folders else None


def why_not() -> str:
    """Return why there is no server here, "" where there is one."""
    if os.environ.get(GIVEN):
        return ""
    try:
        import psycopg  # noqa: F401, PLC0415
    except ImportError:
        return "needs psycopg: the extra postgres"
    if programs() is None:
        return f"needs a PostgreSQL server on this machine, or {GIVEN}"
    return (
        ""
        if os.geteuid() or shutil.which("runuser", path=PLACES)
        else "PostgreSQL does not start as root, and runuser is missing"
    )


@contextmanager
def server(*, durable: bool = False) -> Iterator[str]:
    """Give the address of a server; `durable` as it comes, for crashes, otherwise without waiting for the disk."""
    if given := os.environ.get(GIVEN):
        yield given.rstrip("/")
        return
    bin_folder = programs()
    assert bin_folder is not None, why_not()
    folder = Path(mkdtemp(prefix="fourply-pg-"))
    data, port = folder / "data", _free_port()
    data.mkdir(mode=0o700)
    if not os.geteuid():
        folder.chmod(0o755)
        shutil.chown(data, "postgres")
    fast = "" if durable else " -c fsync=off -c synchronous_commit=off -c full_page_writes=off"
    options = f"-p {port} -k {data} -c listen_addresses=127.0.0.1{fast}"
    _run(bin_folder / "initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8")
    _run(bin_folder / "pg_ctl", "-D", data, "-w", "-l", data / "log", "-o", options, "start")
    try:
        yield f"postgresql://postgres@127.0.0.1:{port}"
    finally:
        _run(bin_folder / "pg_ctl", "-D", data, "-m", "immediate", "stop")
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def database(address: str) -> Iterator[str]:
    """Give the address of a new database on a server."""
    import psycopg  # noqa: PLC0415

    name = f"fourply_{uuid4().hex}"
    with psycopg.connect(f"{address}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        try:
            yield f"{address}/{name}"
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def _run(*command: object) -> None:
    own = [] if os.geteuid() else [shutil.which("runuser", path=PLACES) or "runuser", "-u", "postgres", "--"]
    words = [*own, *map(str, command)]
    done = subprocess.run(words, cwd="/", stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False, timeout=60)
    assert not done.returncode, done.stdout.decode()
