"""The bench list of a show as a PDF, from the order of its work."""

from __future__ import annotations

from collections.abc import Iterable

from fourply.app.papers import Papers
from fourply.bench.settings import settings
from fourply.bench.steps import Steps
from fourply.render import pdf
from fourply.sheets.bench_list import compose_bench
from fourply.sheets.bench_picture import Bench
from fourply.sheets.bench_words import BenchJob, bench_view
from fourply.trade.package import Package


def print_bench(packages: Iterable[Package], steps: Steps, papers: Papers) -> bytes:
    """Return `bench.pdf`: the steps of a show, whose figures are those of its packages on the papers' cutter."""
    benches = {package.work.id: Bench(package, settings(package, papers.cutter)) for package in packages}
    job = BenchJob(steps, benches, papers.cutter, papers.words)
    return pdf.render(compose_bench(bench_view(job), papers.paper), title=f"{steps.show}: bench list")
