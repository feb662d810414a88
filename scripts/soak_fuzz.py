"""Gives spoilt lists, lengths, rules, files and requests to whatever reads them; each must be read, or told and where.

    .venv-test/bin/python scripts/soak_fuzz.py [--trials 20000] [--first 0]

Ends at the first error that a person should never see, with its number: --first with it and --trials 1 makes it again.
Ctrl-C ends it with what has been counted.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from contextlib import ExitStack, suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from tests.app.spoilt import readers, trials  # noqa: E402 - found by the line above


def main() -> int:
    """Run as many trials as the arguments ask for and print what came of them; returns the exit code."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--trials", type=int, default=20_000)
    options.add_argument("--first", type=int, default=0)
    asked = options.parse_args()
    began, counts = time.monotonic(), Counter[tuple[str, str]]()
    with ExitStack() as stack, suppress(KeyboardInterrupt):
        for number, name, how in trials(readers(stack), range(asked.first, asked.first + asked.trials)):
            counts[name, how] += 1
            if sys.stderr.isatty() or number % 1000 == 0:
                print(f"\r{number - asked.first + 1} of {asked.trials}", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    print("| what | trials | read | told with its place | refused with what would be right |\n|---|---|---|---|---|")
    for name in sorted({name for name, _ in counts}):
        row = [counts[name, how] for how in ("read", "told", "refused")]
        print(f"| {name} | {sum(row)} | {row[0]} | {row[1]} | {row[2]} |")
    print(f"\n{counts.total()} trials from {asked.first} on, no other error, {time.monotonic() - began:.0f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
