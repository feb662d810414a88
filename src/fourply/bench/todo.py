"""What is to be done to the boards of a show, piece by piece, before anybody thinks of the order.

A task is one cut, or one thing done by hand. It names the state that the bench must be in, the tasks that come before
it, and how it lies. Two tasks of one piece have the same `lying` while the piece can stay on the cutter between them:
what is shaved, taped or ruled is taken off it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from fourply.bench.cuts import Cut, Operation, Oval, Ruled, Shave, Task, Template
from fourply.bench.settings import Settings
from fourply.bench.steps import Head, Kind, Setting, Strike, Use
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.package import Mat, Package
from fourply.trade.treatment import Bevel

TURNS = {"top": 0, "left": 1, "bottom": 2, "right": 3}


@dataclass(frozen=True, slots=True)
class Piece:
    """One board of one copy of a work; `key` is the key of its blank among the pieces of the cutting plan."""

    work: str
    title: str
    board: str
    name: str
    copy: int
    size: Size

    @property
    def key(self) -> str:
        """The key of its blank, the same for all copies."""
        return f"{self.work}/{self.board}"


@dataclass(frozen=True, slots=True)
class Todo:
    """One task: see the module. `then` says what becomes of what falls out once all tasks of its operation are done."""

    piece: Piece
    kind: Kind
    setting: Setting
    strike: Strike
    after: tuple[int, ...]
    lying: int
    turn: int
    uses: tuple[Use, ...]
    then: str = ""


@dataclass(slots=True)
class Todos:
    """Tasks as they are found; `frees` names, by piece and copy, the tasks after which its fallout is there."""

    tasks: list[Todo] = field(default_factory=list)
    frees: dict[tuple[str, int], list[int]] = field(default_factory=dict)
    starts: dict[tuple[str, int], list[int]] = field(default_factory=dict)
    lyings: int = 0

    def lying(self) -> int:
        """Return a new number for a piece as it is laid."""
        self.lyings += 1
        return self.lyings

    def add(self, todo: Todo, key: tuple[str, int]) -> int:
        """Enter a task of a piece and return its number."""
        self.tasks.append(todo)
        self.starts.setdefault(key, []).append(len(self.tasks) - 1)
        return len(self.tasks) - 1


@dataclass(frozen=True, slots=True)
class Bench:
    """What of a cutter an order of work asks: whether it has both stops, and whether squaring takes the guide off."""

    stops: bool = True
    guide_off: bool = False


def todos(works: Iterable[tuple[Package, Settings]], bench: Bench) -> Todos:
    """Return every task at the mat cutter for all copies of all works, each work's in the order of its settings."""
    found = Todos()
    for package, settings in works:
        for copy in range(package.work.copies):
            _Work(found, package, bench, copy).enter(settings.operations)
    return found


class _Work:
    """One copy of one work while its tasks are entered."""

    def __init__(self, found: Todos, package: Package, bench: Bench, copy: int) -> None:
        self.found = found
        self.package = package
        self.bench = bench
        self.copy = copy
        self.stacked = package.treatment.stack_cut
        self.lying: dict[str, int] = {}
        self.done: dict[str, list[int]] = {}  # by board, what its next stage waits for

    def enter(self, operations: Sequence[Operation]) -> None:
        """Enter all tasks; those of an inlay's own blank before it is set in, which the windows wait for."""
        inlay = [each for each in operations if each.board == "inlay"]
        others = [each for each in operations if each.board != "inlay"]
        sets_in = max((at for at, each in enumerate(others) if each.name.startswith("inlay")), default=None)
        stages = [*_stages(others)]
        for each in inlay:
            self._stage([each])
        for stage in stages:
            self._stage(stage)
            if sets_in is not None and others[sets_in] in stage:
                self._set_in(stage[0])
        self._fallouts(others)

    def _stage(self, stage: Sequence[Operation]) -> None:
        """Enter operations that may be done in any order among themselves, after all before them on their board."""
        first = stage[0]
        for copy in range(first.copies):
            board = first.board if first.copies == 1 else f"{first.board} {copy + 1}"
            if self._on_stack(first):
                self._tape(first)
            before = self.done.get(self._body(first, board), [])
            after = [at for each in stage for at in self._operation(each, board, before, copy)]
            self.done[self._body(first, board)] = after or before

    def _on_stack(self, operation: Operation) -> bool:
        return operation.mat > 1 and self.stacked and not self._mat(operation).hidden

    def _mat(self, operation: Operation) -> Mat:
        return self.package.mats[max(operation.mat, 1) - 1]

    def _body(self, operation: Operation, board: str) -> str:
        """Return what is laid on the cutter for a board: in a stack that is the top mat with all taped to it."""
        return "mat.1" if self._on_stack(operation) else board

    def _piece(self, operation: Operation, copy: int = 0) -> Piece:
        work = self.package.work
        name = operation.board if not operation.mat else self._mat(operation).name
        number = self.copy * operation.copies + copy
        return Piece(work.id, work.title, operation.board, name, number, operation.size)

    def _tape(self, operation: Operation) -> None:
        piece = self._piece(operation)
        strike = Strike("tape face down on the back, outside the opening; the fallout back in its hole, same way round")
        before = self.done.get("mat.1", [])
        at = self._by_hand(piece, Kind.STACK, strike, before, Use("stack", 1))
        self.done["mat.1"] = [at]
        self.lying["mat.1"] = self.found.lying()

    def _set_in(self, operation: Operation) -> None:
        before = [*self.done.get("mat.1", []), *self.done.get("inlay", [])]
        strike = Strike("set the inlay in, tape from behind")
        at = self._by_hand(self._piece(operation), Kind.HAND, strike, before, Use("inlay", 1))
        self.done["mat.1"] = [at]
        self.lying["mat.1"] = self.found.lying()

    def _by_hand(self, piece: Piece, kind: Kind, strike: Strike, before: Sequence[int], use: Use) -> int:
        todo = Todo(piece, kind, Setting(), strike, tuple(before), self.found.lying(), 0, (use,))
        return self.found.add(todo, (piece.key, piece.copy))

    def _operation(self, operation: Operation, board: str, before: Sequence[int], copy: int) -> list[int]:
        """Enter one operation and return what the next waits for."""
        piece, body = self._piece(operation, copy), self._body(operation, board)
        self.lying.setdefault(body, self.found.lying())
        waits, entered, first = list(before), list[int](), len(self.found.tasks)
        if not self.bench.stops:
            waits = self._marks(operation, piece, body, waits) or waits
        for run in _runs(operation.tasks):
            if isinstance(run[0], Cut):
                entered = self._cuts(operation, piece, body, waits, run)
            else:
                entered = [self._other(operation, piece, waits, task) for task in run]
                self.lying[body] = self.found.lying()
            waits = entered
        if not isinstance(operation.tasks[-1], Ruled):
            self._falls(range(first, len(self.found.tasks)), operation.then)
        return entered

    def _falls(self, tasks: Iterable[int], then: str) -> None:
        for at in tasks:
            self.found.tasks[at] = replace(self.found.tasks[at], then=then)

    def _marks(self, operation: Operation, piece: Piece, body: str, waits: Sequence[int]) -> list[int]:
        """Enter the pencil lines that cuts without stops end at: one along each side."""
        made = []
        for side, cut in {(cut.side, cut.guide): cut for cut in operation.cuts if cut.guided.reached}.items():
            strike = Strike(operation.name, cut.side, cut.figure, operation.hole)
            setting = Setting(Head.PENCIL, guide=cut.guided.reading, strip=cut.guided.strip or None)
            todo = Todo(
                piece, Kind.MARK, setting, strike, tuple(waits), self.lying[body], TURNS[side[0]], (Use("mark", 1),)
            )
            made.append(self.found.add(todo, (piece.key, piece.copy)))
        return made

    def _cuts(
        self, operation: Operation, piece: Piece, body: str, waits: Sequence[int], cuts: Sequence[Task]
    ) -> list[int]:
        """Enter straight cuts along the sides: in any order, but the rings of stepped corners one after the other."""
        entered: list[int] = []
        ring, before = None, list(waits)
        for cut in cuts:
            if not isinstance(cut, Cut):
                continue
            if cut.ring != ring:
                before, ring = [*waits, *entered], cut.ring
            entered.append(self._cut(operation, piece, cut, (body, before)))
        return entered

    def _cut(self, operation: Operation, piece: Piece, cut: Cut, on: tuple[str, Sequence[int]]) -> int:
        body, before = on
        if not cut.guided.reached:
            strike = Strike(f"{operation.name}: out of the guide's reach, see the ticket", cut.side, cut.figure)
            return self._by_hand(piece, Kind.HAND, replace(strike, hole=operation.hole), before, Use("hand_cut", 1))
        far, near = (cut.far.stop, cut.near.stop) if self.bench.stops else (None, None)
        setting = Setting(
            self._head(operation),
            self._through(operation),
            cut.guided.reading,
            far,
            near,
            strip=cut.guided.strip or None,
        )
        strike = Strike(
            operation.name,
            cut.side,
            cut.figure,
            operation.hole,
            0,
            cut.far.towards,
            cut.near.towards,
            cut.length,
        )
        uses = (Use("cut", 1), Use("cut_metre", cut.length.as_mm / 1000))
        todo = Todo(piece, Kind.CUT, setting, strike, tuple(before), self.lying[body], TURNS[cut.side], uses)
        return self.found.add(todo, (piece.key, piece.copy))

    def _other(self, operation: Operation, piece: Piece, waits: Sequence[int], task: Task) -> int:
        if isinstance(task, Oval):
            setting = Setting(Head.OVAL, self._through(operation), oval=(task.difference, task.semi[0]))
            strike = Strike(operation.name, "", task.figure, operation.hole)
            todo = Todo(piece, Kind.OVAL, setting, strike, tuple(waits), self.found.lying(), 0, (Use("oval_cut", 1),))
            return self.found.add(todo, (piece.key, piece.copy))
        name, entry = operation.name, "hand_cut"
        if isinstance(task, Shave):
            name, entry = f"{operation.name}: shave the drop-out face up, put it back, tape from behind", "shave"
        elif isinstance(task, Ruled):
            name, entry = "rule the line" if not task.wash else "lay the wash", "rule"
        elif isinstance(task, Template):
            entry = "template_cut"
        return self._by_hand(piece, Kind.HAND, Strike(name, "", task.figure, operation.hole), waits, Use(entry, 1))

    def _head(self, operation: Operation) -> Head:
        if operation.board == "sink":
            return Head.UPRIGHT
        mat = self._mat(operation)
        windows = operation.name.endswith("title") or operation.mat > 1 or "window" in operation.name
        opening = mat.holes[max(operation.hole, 1) - 1].opening if windows else None
        return Head.REVERSE if opening is not None and opening.bevel is Bevel.REVERSE else Head.BEVEL

    def _through(self, operation: Operation) -> str:
        """Return what the blade goes through, a stack as what is cut on what lies under it."""
        if operation.board == "sink" and self.package.sink is not None:
            return _named(self.package.sink.board.ply or self.package.sink.board.name, self.package.sink.board.caliper)
        if operation.board == "inlay" and self.package.inlay is not None:
            return _named(
                self.package.inlay.board.ply or self.package.inlay.board.name, self.package.inlay.board.caliper
            )
        boards = [self._mat(operation).board]
        if self._on_stack(operation):
            boards.append(self.package.mats[0].board)
        return " on ".join(_named(board.ply or board.name, board.caliper) for board in boards)

    def _fallouts(self, operations: Sequence[Operation]) -> None:
        """Note after which tasks the fallouts of each board are there: those of a stack when its last mat is cut."""
        for operation in operations:
            if operation.tasks and not operation.name.startswith(("V-groove", "inlay", "lines")):
                for copy in range(operation.copies):
                    board = operation.board if operation.copies == 1 else f"{operation.board} {copy + 1}"
                    piece = self._piece(operation, copy)
                    self.found.frees[piece.key, piece.copy] = self.done[self._body(operation, board)]


def _named(ply: str, caliper: Length) -> str:
    return f"{ply}, {caliper.as_mm:g} mm"


def _runs(tasks: Iterable[Task]) -> Iterator[list[Task]]:
    """Yield tasks in runs: cuts along sides together, what is set out by hand together, what is shaved by itself."""
    run: list[Task] = []
    for task in tasks:
        if run and (isinstance(task, Cut) is not isinstance(run[-1], Cut) or isinstance(task, Shave)):
            yield run
            run = []
        run.append(task)
    if run:
        yield run


def _stages(operations: Iterable[Operation]) -> Iterator[list[Operation]]:
    """Yield operations that wait for one another apart: the windows of one mat together, every groove by itself."""
    stage: list[Operation] = []
    for operation in operations:
        if not operation.tasks:
            continue
        together = stage and stage[-1].board == operation.board and _is_window(operation) and _is_window(stage[-1])
        if stage and not together:
            yield stage
            stage = []
        stage.append(operation)
    if stage:
        yield stage


def _is_window(operation: Operation) -> bool:
    return not operation.name.startswith(("V-groove", "inlay", "insert", "lines"))
