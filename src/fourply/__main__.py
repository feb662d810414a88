"""Starts the command line; nothing else happens at import, since worker processes import this too."""

from __future__ import annotations

import sys

if __name__ == "__main__":
    from fourply.cli.main import run
    from fourply.wiring import parts

    sys.exit(run(sys.argv[1:], parts()))
