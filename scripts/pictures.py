"""Makes the README's pictures from the demo show: python scripts/pictures.py, with poppler's pdftoppm on the path."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
PICTURES = {"ticket": ("tickets.pdf", 11), "cutting": ("cutting.pdf", 7)}


def main() -> None:
    """Make the demo and take one page of each paper."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "fourply", "demo", "--out", folder], check=True)
        for name, (paper, page) in PICTURES.items():
            target = ROOT / "docs" / "pictures" / name
            page_of = ("-r", "110", "-f", str(page), "-l", str(page), "-png", "-gray", "-singlefile")
            subprocess.run(["pdftoppm", *page_of, str(Path(folder) / paper), str(target)], check=True)  # noqa: S607


if __name__ == "__main__":
    main()
