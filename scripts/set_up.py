"""Make the environment that a start script asks for; run by the plain Python that it found.

    set_up.py FOLDER LOCK STAMP

It uses the standard library alone, since nothing else is there yet. The stamp is written last, so that whatever
breaks off early is made again by the next start; a lock that the system itself lets go of keeps two starts apart.
"""

from __future__ import annotations

import fcntl
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TextIO

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = ".venv"


def main(folder: str, lock: str, stamp: str) -> None:
    """Leave FOLDER with the packages of LOCK and the project itself, unless another start has just done it."""
    cache = ROOT / ".cache"
    cache.mkdir(exist_ok=True)
    with (cache / f"set-up{folder}").open("w") as turn:
        take(turn)
        done = ROOT / folder / "stamp"
        if not done.exists() or done.read_text() != stamp:
            say(f"Setting up fourply in {folder} (about half a minute, over the network) …")
            make(ROOT / folder, lock, turn)
            done.write_text(stamp)
            say("Ready.")


def take(turn: TextIO) -> None:
    """Wait until no other start is at work here."""
    try:
        fcntl.flock(turn, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        say("Another start is setting up fourply; waiting for it …")
        fcntl.flock(turn, fcntl.LOCK_EX)


def make(environment: Path, lock: str, turn: TextIO) -> None:
    """Make the environment anew: what an older or broken one has left would not be what the lock says."""

    def run(python: str, *arguments: str) -> None:
        # Each child holds the turn too: if this process alone is killed, the next start waits until they have ended.
        subprocess.run([python, "-I", *arguments], check=True, pass_fds=[turn.fileno()])

    if environment.exists():
        (environment / "stamp").unlink(missing_ok=True)
        shutil.rmtree(environment)
    run(sys.executable, "-m", "venv", str(environment))
    python = str(environment / "bin" / "python")
    # The tests touch a part of the packages only; compiling the rest would cost more than it saves.
    compiling = "--compile" if environment.name == PROGRAM else "--no-compile"
    exact = ["--require-hashes", "--only-binary=:all:", "--no-deps", "-r", str(ROOT / lock)]
    run(python, "-m", "pip", "-qq", "--disable-pip-version-check", "--no-input", "install", compiling, *exact)
    (packages,) = environment.glob("lib/python3.*/site-packages")
    # From there up to the project: the folder may be moved as a whole.
    (packages / "fourply.pth").write_text("../../../../src\n")
    if environment.name == PROGRAM and (ROOT / "src/fourply/planning/warm.py").exists():
        run(python, "-m", "fourply.planning.warm")


def say(line: str) -> None:
    """Print on standard error: standard output belongs to the program."""
    print(line, file=sys.stderr, flush=True)


if __name__ == "__main__":
    try:
        main(*sys.argv[1:])
    except KeyboardInterrupt:
        sys.exit("\nStopped; the next start begins again.")
    except subprocess.CalledProcessError:
        sys.exit("fourply could not be set up: see above. With the network there, start again.")
    except OSError as fault:
        sys.exit(f"fourply could not be set up: {fault}")
