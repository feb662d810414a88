"""Starts the command line; nothing else happens at import, since worker processes import this too."""

from __future__ import annotations

import os
import sys

if __name__ == "__main__":
    from fourply.cli.main import run
    from fourply.cli.stopping import STOPPED
    from fourply.wiring import parts

    code = run(sys.argv[1:], parts())
    if code == STOPPED:  # Python takes a while to wind up, and may exchange the code for the signal
        sys.stderr.flush()
        os._exit(code)
    sys.exit(code)
