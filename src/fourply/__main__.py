"""Starts the command line; nothing else happens at import."""

from __future__ import annotations

import sys

from fourply.cli.main import run

if __name__ == "__main__":
    sys.exit(run(sys.argv[1:]))
