"""Every plan is rechecked here before anyone sees it, from the problem and the plan alone.

Shares no code with any planner: it walks the cut trees as a cutter would, box by box, and counts. It says the first
fault that it finds; it never mends a plan.
"""

from __future__ import annotations

from collections import Counter

from fourply.errors import BadPlan
from fourply.planning.plan import Board, Node, Plan, Way
from fourply.planning.problem import Box, Kind, Locked, Piece, Problem, Stock


def check(problem: Problem, plan: Plan) -> None:
    """Raise BadPlan with the first rule that the plan breaks; return nothing where it keeps them all."""
    _Hearing(problem, plan).hear()


def _rule(*, kept: bool, fault: str) -> None:
    if not kept:
        raise BadPlan(fault)


class _Hearing:
    """One plan before the referee: looked up by key, counted board by board in the order of the plan."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem = problem
        self.plan = plan
        self.pieces: dict[str, Piece] = {p.key: p for p in problem.pieces}
        self.stock: dict[str, Stock] = {s.key: s for s in problem.stock}
        self.made: Counter[str] = Counter()
        self.fallouts: Counter[str] = Counter()
        self.taken: Counter[str] = Counter()
        self.lots: dict[str, int] = {}
        self.cost = 0

    def hear(self) -> None:
        for at, board in enumerate(self.plan.boards):
            root, zones = self._source(board, f"board {at}")
            on_it = self._tree(board, root, zones, f"board {at}")
            self._lots(board, on_it, at)
            for key, count in on_it.items():
                self.made[key] += count * board.copies
        for piece in self.problem.pieces:
            made = self.made[piece.key]
            _rule(kept=made == piece.copies, fault=f"{made} cut of piece {piece.key}, {piece.copies} wanted")
        self._locked()
        _rule(kept=self.plan.cost == self.cost, fault=f"the plan says cost {self.plan.cost}, it is {self.cost}")
        bound = self.plan.lower_bound
        _rule(kept=bound <= self.cost, fault=f"lower bound {bound} is above the cost {self.cost}")

    def _source(self, board: Board, name: str) -> tuple[Box, tuple[Box, ...]]:
        ok = type(board.copies) is int and board.copies > 0
        _rule(kept=ok, fault=f"{name}: {board.copies!r} copies")
        if board.source.kind is Kind.FALLOUT:
            return self._fallout(board, name), ()
        stock = self.stock.get(board.source.key)
        if stock is None or stock.kind is not board.source.kind:
            raise BadPlan(f"{name}: there is no {board.source.kind.value} {board.source.key}")
        self.taken[stock.key] += board.copies
        taken, limit = self.taken[stock.key], stock.copies
        _rule(kept=limit is None or taken <= limit, fault=f"{taken} used of {stock.key}, there are {limit}")
        self.cost += stock.cost * board.copies
        off = self.problem.cutter.trim if stock.trimmed else 0
        w, h = stock.w - 2 * off, stock.h - 2 * off
        _rule(kept=min(w, h) > 0, fault=f"{name}: trimming leaves nothing of {stock.key}")
        return Box(off, off, w, h), stock.zones

    def _fallout(self, board: Board, name: str) -> Box:
        parent, choice = self.pieces.get(board.source.key), board.source.choice
        if parent is None or not 0 <= choice < len(parent.fallouts):
            raise BadPlan(f"{name}: piece {board.source.key} leaves no fallout {choice}")
        self.fallouts[parent.key] += board.copies
        used, there = self.fallouts[parent.key], self.made[parent.key]
        _rule(kept=used <= there, fault=f"{name}: fallout {used} of piece {parent.key} used when {there} are cut")
        self.cost += self.problem.fallout_cost * board.copies
        rect = parent.fallouts[choice]
        return Box(0, 0, rect.w, rect.h)

    def _tree(self, board: Board, root: Box, zones: tuple[Box, ...], name: str) -> Counter[str]:
        _rule(kept=board.tree.box == root, fault=f"{name}: the tree fills {board.tree.box}, the board is {root}")
        on_it: Counter[str] = Counter()
        for node in board.tree.walk():
            if node.cut is not None:
                leaf = node.piece is None and not node.kept
                _rule(kept=leaf, fault=f"{name}: {node.box} is cut and used as a whole")
                self._cut(node, name)
                continue
            _rule(kept=not node.children, fault=f"{name}: {node.box} has parts but no cut")
            if node.piece is not None:
                self._piece(board, node, name)
                on_it[node.piece] += 1
            _rule(kept=self._may_keep(node), fault=f"{name}: {node.box} is not worth keeping")
            clean = (node.piece is None and not node.kept) or not any(z.overlaps(node.box) for z in zones)
            _rule(kept=clean, fault=f"{name}: {node.box} lies on a damaged zone")
        _rule(kept=bool(on_it), fault=f"{name}: used, but no piece is cut from it")
        return on_it

    def _cut(self, node: Node, name: str) -> None:
        """Hold the parts against the node: low to high, one kerf apart; the saw may eat what is left at the end."""
        cutter, box = self.problem.cutter, node.box
        across = node.cut is Way.V
        at, end, length = (box.x, box.x + box.w, box.h) if across else (box.y, box.y + box.h, box.w)
        longest = cutter.longest_cut
        _rule(kept=longest is None or length <= longest, fault=f"{name}: a cut of {length} is too long")
        _rule(kept=bool(node.children), fault=f"{name}: a cut of {box} leaves nothing")
        for i, child in enumerate(node.children):
            start, size = (child.box.x, child.box.w) if across else (child.box.y, child.box.h)
            side = (
                (child.box.y, child.box.h) == (box.y, box.h) if across else (child.box.x, child.box.w) == (box.x, box.w)
            )
            _rule(kept=side and start == at, fault=f"{name}: {child.box} is not what the cut of {box} leaves")
            _rule(kept=size >= cutter.least_strip, fault=f"{name}: a strip of {size} cannot be cut off")
            last = i == len(node.children) - 1 and start + size == end
            held = min(end - start, length)
            _rule(kept=last or held >= cutter.least_held, fault=f"{name}: {held} is too small to be held for a cut")
            at = start + size + cutter.kerf
        over = at - cutter.kerf - end
        _rule(kept=-cutter.kerf <= over <= 0, fault=f"{name}: the parts of {box} end {over} from its edge")
        _rule(kept=len(node.children) > 1 or over < 0, fault=f"{name}: {box} is cut, but whole")

    def _piece(self, board: Board, node: Node, name: str) -> None:
        piece = self.pieces.get(node.piece or "")
        if piece is None:
            raise BadPlan(f"{name}: there is no piece {node.piece}")
        least, most = piece.size, piece.most or piece.size
        if node.turned:
            square = least == most and least.w == least.h
            may = square or self.problem.may_turn(piece)
            _rule(kept=may, fault=f"{name}: piece {piece.key} is turned, which it may not be")
            least, most = least.turned, most.turned
        ok = least.fits(node.box.size) and node.box.size.fits(most)
        _rule(kept=ok, fault=f"{name}: piece {piece.key} is {least} to {most}, its place is {node.box}")
        if board.source.kind is Kind.FALLOUT and not self.problem.may_turn(piece):
            parent = self.pieces[board.source.key]
            fault = f"{name}: the fallout of {parent.key} may be turned, piece {piece.key} may not"
            _rule(kept=not self.problem.may_turn(parent), fault=fault)

    def _may_keep(self, node: Node) -> bool:
        least = self.problem.keep
        if not node.kept:
            return True
        return node.piece is None and least is not None and any(r.fits(node.box.size) for r in (least, least.turned))

    def _lots(self, board: Board, on_it: Counter[str], at: int) -> None:
        for lot in {self.pieces[key].lot for key in on_it} - {None}:
            fault = f"the pieces of lot {lot} do not come from one board"
            _rule(kept=board.copies == 1 and self.lots.setdefault(lot or "", at) == at, fault=fault)

    def _locked(self) -> None:
        left = [board.copies for board in self.plan.boards]
        for lock in sorted(self.problem.locked, key=lambda lock: -len(lock.fixed)):
            found = [i for i, b in enumerate(self.plan.boards) if left[i] and _keeps(b, lock)]
            _rule(kept=bool(found), fault=f"a locked board {lock.stock} is not as the user fixed it")
            left[found[0]] -= 1


def _keeps(board: Board, lock: Locked) -> bool:
    if board.source.kind is Kind.FALLOUT or board.source.key != lock.stock:
        return False
    there = {(n.piece, n.box.x, n.box.y, n.turned) for n in board.tree.walk() if n.piece is not None}
    return all((f.piece, f.x, f.y, f.turned) in there for f in lock.fixed)
