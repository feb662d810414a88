"""The bench list of a show as a PDF, from the order of its work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fourply.app.papers import Papers
from fourply.bench.settings import settings
from fourply.bench.steps import Steps
from fourply.drawing.record import Drawing
from fourply.render import pdf
from fourply.sheets.bench_job import BenchJob
from fourply.sheets.bench_list import compose_bench
from fourply.sheets.bench_picture import Bench
from fourply.sheets.bench_words import bench_view
from fourply.trade.package import Package


def print_bench(packages: Iterable[Package], steps: Steps, papers: Papers) -> bytes:
    """Return `bench.pdf`: the steps of a show on the papers' cutter, for which they must have been ordered."""
    return pdf.render(bench_pages(packages, steps, papers), title=f"{steps.show}: bench list")


def bench_pages(packages: Iterable[Package], steps: Steps, papers: Papers) -> Iterator[Drawing]:
    """Yield the pages of the bench list."""
    benches = {package.work.id: Bench(package, settings(package, papers.cutter)) for package in packages}
    view = papers.wording.view(bench_view(BenchJob(steps, benches, papers.cutter, papers.words)))
    yield from papers.pages(compose_bench(view, papers.paper))
