"""The printed sheets and drawings of a show, as bytes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fourply.app.bench_printing import print_bench
from fourply.app.cutting import Cutting, Means
from fourply.app.papers import Papers
from fourply.app.ports import Progress, Task, Tell
from fourply.app.shows import Opened
from fourply.app.whereabouts import bought_rails, whereabouts
from fourply.app.writing import file_name
from fourply.bench.steps import Steps
from fourply.drawing.record import Drawing, Recorder
from fourply.errors import FourplyError
from fourply.render import pdf, svg
from fourply.sheets.cutting import compose_boards, compose_nothing
from fourply.sheets.cutting_view import CutJob, board_views, windows_of
from fourply.sheets.front import compose_front
from fourply.sheets.front_view import front_view
from fourply.sheets.furniture import content
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.trade.package import Package


@dataclass(frozen=True, slots=True)
class TicketOrder:
    """What `tickets.pdf` is made from; `sources` name where each piece is cut from, by its key."""

    show: str
    packages: tuple[Package, ...]
    sources: Mapping[str, str]
    papers: Papers
    bought: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class CuttingOrder:
    """What `cutting.pdf` is made from."""

    show: str
    jobs: tuple[CutJob, ...]
    papers: Papers


@dataclass(frozen=True, slots=True)
class BenchOrder:
    """What `bench.pdf` is made from."""

    packages: tuple[Package, ...]
    steps: Steps
    papers: Papers


type Order = TicketOrder | CuttingOrder | BenchOrder


def get_ready() -> None:
    """Load what is loaded with the first page: a tenth of a second, to be spent while something is waited for."""
    pdf.get_ready()


def print_sheets(
    opened: Opened, cutting: Cutting, steps: Steps, papers: Papers, means: Means
) -> tuple[bytes, bytes, bytes]:
    """Return tickets, cutting sheets and bench list, made side by side where there are enough pages for it to pay."""
    title = opened.show.title
    tickets = TicketOrder(title, opened.packages, whereabouts(cutting), papers, bought_rails(cutting))
    windows = windows_of(opened.packages)
    jobs = tuple(
        CutJob(title, flat.material, flat.parts, flat.problem, flat.plan, papers.words, windows)
        for flat in cutting.flats
    )
    boards = sum(len(flat.plan.boards) for flat in cutting.flats)
    bench = BenchOrder(opened.packages, steps, papers)
    tasks: list[Task[Order]] = [
        Task("tickets", tickets, len(opened.packages) // _PAGES_LIKE_ONE_PIECE),
        Task("cutting", CuttingOrder(title, jobs, papers), boards // _PAGES_LIKE_ONE_PIECE),
        Task("bench", bench, len(steps.blocks) // _BLOCKS_A_PAGE // _PAGES_LIKE_ONE_PIECE),
    ]
    made = []
    for result in means.compute(print_pages, tasks, _Printing(means.progress)):
        if isinstance(result, FourplyError):
            raise result
        made.append(result)
    return made[0], made[1], made[2]


_BLOCKS_A_PAGE = 9
_PAGES_LIKE_ONE_PIECE = 20
"""Pages that take about as long to print as one rectangle does to plan: it decides only where they are printed."""


class _Printing:
    """Passes on how many pages are printed."""

    def __init__(self, progress: Progress) -> None:
        self.progress = progress
        self.pages = {0: (0, 0), 1: (0, 0), 2: (0, 0)}

    def standing(self, task: int, cost: int, bound: int) -> None:
        self.pages[task] = (cost, bound)
        self.waiting()

    def finished(self, task: int) -> None:
        done = self.pages[task][1]
        self.pages[task] = (done, done)

    def waiting(self) -> None:
        done, total = (sum(pages[at] for pages in self.pages.values()) for at in (0, 1))
        self.progress("printing", done, total)


def print_pages(order: Order, tell: Tell) -> bytes:
    """Return one PDF; tells (works or materials done, all of them) as it goes."""
    if isinstance(order, BenchOrder):
        return print_bench(order.packages, order.steps, order.papers)
    if isinstance(order, TicketOrder):
        return pdf.render(_tickets(order, tell), title=f"{order.show}: tickets")
    return pdf.render(_cutting(order, tell), title=f"{order.show}: cutting")


def _tickets(order: TicketOrder, tell: Tell) -> Iterator[Drawing]:
    """Yield a page a work, more where one does not hold it."""
    total, papers = len(order.packages), order.papers
    for number, package in enumerate(order.packages, start=1):
        tell(number - 1, total)
        place = f"ticket {number} of {total}"
        context = Context(order.show, place, papers.cutter, papers.words, order.sources, order.bought)
        yield from papers.pages(compose_ticket(papers.wording.view(ticket_view(package, context)), papers.paper))


def _cutting(order: CuttingOrder, tell: Tell) -> Iterator[Drawing]:
    """Yield a page a sheet, glazing and backing among them; small boards share theirs."""
    papers = order.papers
    if not order.jobs:
        yield from papers.pages([compose_nothing(order.show, papers.paper)])
    for number, job in enumerate(order.jobs):
        tell(number, len(order.jobs))
        yield from papers.pages(compose_boards(papers.wording.view(board_views(job)), papers.paper))


def front_drawings(packages: Iterable[Package], papers: Papers, progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Yield the front view of each work as an SVG with its file name."""
    packages = tuple(packages)
    taken: set[str] = set()
    for number, package in enumerate(packages):
        progress("drawings", number, len(packages))
        yield _free_name(package.work.id, taken), svg.render(_front(package, papers))
    progress("drawings", len(packages), len(packages))


def _front(package: Package, papers: Papers) -> Drawing:
    pen, paper = Recorder(), papers.paper
    compose_front(pen, content(paper), papers.wording.view(front_view(package, papers.words)))
    drawn = pen.drawing(paper.width, paper.height, title=f"{package.work.id} {package.work.title}")
    return papers.wording.drawing(drawn)


def _free_name(work: str, taken: set[str]) -> str:
    """Return a file name for a work's number: letters and digits only, no two alike, no path in it."""
    base = file_name(work)
    name, more = base, 1
    while name.lower() in taken:
        more += 1
        name = f"{base}_{more}"
    taken.add(name.lower())
    return f"{name}-front.svg"
