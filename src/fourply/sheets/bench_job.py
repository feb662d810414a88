"""What the bench list of a show rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fourply.bench.cutter import Cutter
from fourply.bench.steps import Steps
from fourply.sheets.bench_picture import Bench
from fourply.working.words import Words


@dataclass(frozen=True, slots=True)
class BenchJob:
    """All that the bench list of a show rests on; `benches` hold its works' packages and settings by their numbers."""

    steps: Steps
    benches: Mapping[str, Bench]
    cutter: Cutter
    words: Words
