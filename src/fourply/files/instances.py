"""Board-cutting problems and plans as JSON files: the plain form that other planners read too, and our additions.

`docs/formats.md` gives both. A file that is wrong gives BadFile with the place; nothing is guessed.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from fourply.errors import BadFile, BadInput
from fourply.files.fields import Field
from fourply.planning.plan import Board, Node, Plan, Source, Way
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock, Wish

_MOST_BYTES = 64 * 1024 * 1024
_MOST_PIECES = 200_000
_DEEPEST = 200
_CUTTER = ("kerf", "trim", "least_held", "least_strip")


def read_instance(path: Path) -> Problem:
    """Return the planning problem in a JSON file; raises BadFile with the place of the first fault."""
    return problem_from_data(read_json(path), path.name)


def write_plan(path: Path, problem: Problem, plan: Plan) -> None:
    """Write a plan as a JSON file beside which its problem can be checked."""
    path.write_text(json.dumps(plan_to_data(problem, plan), indent=1) + "\n", encoding="utf-8")


def read_plan(path: Path, problem: Problem) -> Plan:
    """Return the plan in a JSON file; that it fits the problem is for the referee to say."""
    return plan_from_data(problem, read_json(path), path.name)


def read_json(path: Path) -> object:
    """Return the parsed JSON of a file of reasonable size and depth; raises BadFile."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise BadFile(path.name, f"{path.stat().st_size} bytes", f"at most {_MOST_BYTES}")
        return json.loads(path.read_bytes())
    except OSError as fault:
        raise BadFile(path.name, fault.strerror or "cannot be read", "a file that can be read") from fault
    except RecursionError as fault:
        raise BadFile(path.name, "lists nested too deep", "a planning instance or plan") from fault
    except ValueError as fault:
        raise BadFile(path.name, str(fault), "JSON in UTF-8") from fault


def problem_from_data(data: object, file: str) -> Problem:
    """Return the problem that parsed JSON states; `file` is the name that faults give."""
    top = Field(file, data)
    top.known(
        "unit",
        "oriented",
        "sheets",
        "rack",
        "blanks",
        "fallout_cost",
        "keep",
        "locked",
        "longest_cut",
        "wishes",
        *_CUTTER,
    )
    if top.get("unit", "nm").text() != "nm":
        raise top["unit"].fault("expected nm")
    stock = [*_stock(top["sheets"], Kind.SHEET), *_stock(top.get("rack", []), Kind.RACK)]
    pieces = [_piece(blank, str(at)) for at, blank in enumerate(top["blanks"].items())]
    if sum(p.copies for p in pieces) > _MOST_PIECES:
        raise BadFile(file, "too many blanks", f"at most {_MOST_PIECES}, copies counted")
    try:
        return Problem(
            pieces=tuple(pieces),
            stock=tuple(stock),
            fallout_cost=top.get("fallout_cost", 0).whole(),
            oriented=top.get("oriented", default=False).flag(),
            cutter=_cutter(top),
            keep=Rect(*top["keep"].wholes(2, 1)) if "keep" in top else None,
            locked=tuple(_locked(lock, stock, pieces) for lock in top.get("locked", []).items()),
            wishes=tuple(_wish(name) for name in top["wishes"].items()) if "wishes" in top else tuple(Wish),
        )
    except BadFile:
        raise
    except BadInput as fault:
        raise BadFile(file, fault.found, fault.expected) from fault


def _wish(name: Field) -> Wish:
    names = {wish.name.lower(): wish for wish in Wish}
    if name.text() not in names:
        raise name.fault(f"expected one of {', '.join(names)}")
    return names[name.text()]


def _cutter(top: Field) -> Cutter:
    kerf, trim, held, strip = (top.get(name, 0).whole() for name in _CUTTER)
    longest = top.get("longest_cut", None).maybe(1)
    return Cutter(kerf=kerf, trim=trim, least_held=held, least_strip=strip, longest_cut=longest)


def _stock(items: Field, kind: Kind) -> list[Stock]:
    return [_board(item, kind, f"{kind.value} {at}") for at, item in enumerate(items.items())]


def _board(item: Field, kind: Kind, key: str) -> Stock:
    item.known("key", "w", "h", "cost", "copies", "damaged", "factory_edges")
    factory = item["factory_edges"].flag() if "factory_edges" in item else None
    zones = tuple(_box(zone) for zone in item.get("damaged", []).items())
    try:
        return Stock(
            key=item.get("key", key).text(),
            w=item["w"].whole(1),
            h=item["h"].whole(1),
            cost=item["cost"].whole(),
            kind=kind,
            copies=item.get("copies", None).maybe(),
            zones=zones,
            factory_edges=factory,
        )
    except BadFile:
        raise
    except BadInput as fault:
        raise BadFile(item.file, f"{item.place}: {fault.found}", fault.expected) from fault


def _box(field: Field) -> Box:
    x, y, w, h = field.wholes(4)
    try:
        return Box(x, y, w, h)
    except BadInput as fault:
        raise field.fault("expected [x, y, w, h] with w and h above 0") from fault


def _piece(blank: Field, key: str) -> Piece:
    blank.known("key", "w", "h", "copies", "fallout", "fallouts", "turnable", "lot", "most")
    fallouts = [Rect(*blank["fallout"].wholes(2, 1))] if "fallout" in blank else []
    fallouts += [Rect(*rect.wholes(2, 1)) for rect in blank.get("fallouts", []).items()]
    try:
        return Piece(
            key=blank.get("key", key).text(),
            w=blank["w"].whole(1),
            h=blank["h"].whole(1),
            copies=blank.get("copies", 1).whole(1),
            fallouts=tuple(fallouts),
            turnable=blank.get("turnable", default=True).flag(),
            lot=blank["lot"].text() if "lot" in blank else None,
            most=Rect(*blank["most"].wholes(2, 1)) if "most" in blank else None,
        )
    except BadFile:
        raise
    except BadInput as fault:
        raise BadFile(blank.file, f"{blank.place}: {fault.found}", fault.expected) from fault


def _locked(lock: Field, stock: list[Stock], pieces: list[Piece]) -> Locked:
    lock.known("from", "fixed")
    of_kind = [s for s in stock if s.kind is _kind(lock["from"]["kind"])]
    fixed = []
    for item in lock["fixed"].items():
        item.known("blank", "x", "y", "rotated")
        piece = _at(item["blank"], pieces)
        turned = item.get("rotated", default=False).flag()
        fixed.append(Fixed(piece.key, item["x"].whole(), item["y"].whole(), turned))
    try:
        return Locked(_at(lock["from"]["index"], of_kind).key, tuple(fixed))
    except BadFile:
        raise
    except BadInput as fault:
        raise BadFile(lock.file, f"{lock.place}: {fault.found}", fault.expected) from fault


def _at[T](index: Field, items: Sequence[T]) -> T:
    at = index.whole()
    if at >= len(items):
        raise index.fault(f"expected an index below {len(items)}")
    return items[at]


def _kind(field: Field) -> Kind:
    try:
        return Kind(field.text())
    except ValueError as fault:
        raise field.fault("expected sheet, rack or fallout") from fault


def problem_to_data(problem: Problem) -> dict[str, object]:
    """Return the problem as data for JSON; reading it back gives an equal problem."""
    cutter = problem.cutter
    data: dict[str, object] = {
        "unit": "nm",
        "oriented": problem.oriented,
        "sheets": [_stock_data(s) for s in problem.stock if s.kind is Kind.SHEET],
        "rack": [_stock_data(s) for s in problem.stock if s.kind is Kind.RACK],
        "blanks": [_piece_data(p) for p in problem.pieces],
        "fallout_cost": problem.fallout_cost,
        "trim": cutter.trim,
    }
    extra = {name: getattr(cutter, name) for name in (*_CUTTER, "longest_cut") if name != "trim"}
    data |= {name: value for name, value in extra.items() if value}
    if problem.keep is not None:
        data["keep"] = [problem.keep.w, problem.keep.h]
    if problem.wishes != tuple(Wish):
        data["wishes"] = [wish.name.lower() for wish in problem.wishes]
    if problem.locked:
        data["locked"] = [_locked_data(problem, lock) for lock in problem.locked]
    return data


def _stock_data(stock: Stock) -> dict[str, object]:
    data: dict[str, object] = {"key": stock.key, "w": stock.w, "h": stock.h, "cost": stock.cost, "copies": stock.copies}
    if stock.zones:
        data["damaged"] = [[z.x, z.y, z.w, z.h] for z in stock.zones]
    if stock.factory_edges is not None:
        data["factory_edges"] = stock.factory_edges
    return data


def _piece_data(piece: Piece) -> dict[str, object]:
    data: dict[str, object] = {"key": piece.key, "w": piece.w, "h": piece.h, "copies": piece.copies}
    rects = [[f.w, f.h] for f in piece.fallouts]
    data["fallout"] = rects[0] if rects else None
    if rects[1:]:
        data["fallouts"] = rects[1:]
    if not piece.turnable:
        data["turnable"] = False
    if piece.lot is not None:
        data["lot"] = piece.lot
    if piece.most is not None:
        data["most"] = [piece.most.w, piece.most.h]
    return data


def _locked_data(problem: Problem, lock: Locked) -> dict[str, object]:
    stock = next(s for s in problem.stock if s.key == lock.stock)
    index = _Index(problem)
    fixed = [{"blank": index.pieces[f.piece], "x": f.x, "y": f.y, "rotated": f.turned} for f in lock.fixed]
    return {"from": {"kind": stock.kind.value, "index": index.stock[stock.key]}, "fixed": fixed}


class _Index:
    """The place of each key in its list, as the plain form counts."""

    def __init__(self, problem: Problem) -> None:
        self.pieces = {p.key: at for at, p in enumerate(problem.pieces)}
        self.stock: dict[str, int] = {}
        for kind in Kind:
            self.stock |= {s.key: at for at, s in enumerate(s for s in problem.stock if s.kind is kind)}


def plan_to_data(problem: Problem, plan: Plan) -> dict[str, object]:
    """Return the plan as data for JSON, with indices into the lists of the problem."""
    index = _Index(problem)
    return {
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "engine": plan.engine,
        "steps": plan.steps,
        "seconds": plan.seconds,
        "stock": [
            {"from": _source_data(index, b.source), "copies": b.copies, "tree": _whole_data(problem, index, b)}
            for b in plan.boards
        ],
    }


def _source_data(index: _Index, source: Source) -> dict[str, object]:
    if source.kind is not Kind.FALLOUT:
        return {"kind": source.kind.value, "index": index.stock[source.key]}
    data: dict[str, object] = {"kind": "fallout", "index": index.pieces[source.key]}
    return data | ({"choice": source.choice} if source.choice else {})


def _whole_data(problem: Problem, index: _Index, board: Board) -> dict[str, object]:
    """Return the tree of a board from its factory edges inward: trimming is four cuts that leave waste."""
    tree, whole = _tree_data(index, board.tree), _trimmed_from(problem, board.source)
    if whole is None:
        return tree
    box, trim = board.tree.box, problem.cutter.trim
    across = Box(box.x, 0, box.w, whole.h)
    below, above = Box(box.x, 0, box.w, trim), Box(box.x, box.y + box.h, box.w, trim)
    middle = _cut(across, "h", [_waste(below), tree, _waste(above)])
    left, right = Box(0, 0, trim, whole.h), Box(box.x + box.w, 0, trim, whole.h)
    return _cut(Box(0, 0, whole.w, whole.h), "v", [_waste(left), middle, _waste(right)])


def _trimmed_from(problem: Problem, source: Source) -> Stock | None:
    """Return the stock that a board is trimmed from in the plain form; None where it is not, or where a kerf parts."""
    stock = next((s for s in problem.stock if s.key == source.key and s.kind is source.kind), None)
    plain = problem.cutter.trim and not problem.cutter.kerf
    return stock if stock is not None and stock.trimmed and plain else None


def _waste(box: Box) -> dict[str, object]:
    return {"x": box.x, "y": box.y, "w": box.w, "h": box.h, "waste": True}


def _cut(box: Box, way: str, children: list[dict[str, object]]) -> dict[str, object]:
    return {"x": box.x, "y": box.y, "w": box.w, "h": box.h, "cut": way, "children": children}


def _tree_data(index: _Index, node: Node) -> dict[str, object]:
    data: dict[str, object] = {"x": node.box.x, "y": node.box.y, "w": node.box.w, "h": node.box.h}
    if node.cut is not None:
        return data | {"cut": node.cut.value, "children": [_tree_data(index, child) for child in node.children]}
    if node.piece is not None:
        return data | {"blank": index.pieces[node.piece], "rotated": node.turned}
    return data | {"waste": True} | ({"remnant": True} if node.kept else {})


def plan_from_data(problem: Problem, data: object, file: str) -> Plan:
    """Return the plan that parsed JSON states for this problem; `file` is the name that faults give."""
    top = Field(file, data)
    boards = tuple(_board_of(problem, item) for item in top["stock"].items())
    bound = top["lower_bound"]
    if not isinstance(bound.value, int | float) or isinstance(bound.value, bool):
        raise bound.fault("expected a number")
    seconds = top.get("seconds", None).value
    return Plan(
        boards,
        top["cost"].whole(),
        -int(-bound.value // 1),
        top.get("engine", "unknown").text(),
        top.get("steps", 0).whole(),
        float(seconds) if isinstance(seconds, int | float) else None,
    )


def _board_of(problem: Problem, item: Field) -> Board:
    kind, index = _kind(item["from"]["kind"]), item["from"]["index"]
    if kind is Kind.FALLOUT:
        source = Source(kind, _at(index, problem.pieces).key, item["from"].get("choice", 0).whole())
    else:
        source = Source(kind, _at(index, [s for s in problem.stock if s.kind is kind]).key)
    tree, whole = _node_of(problem, item["tree"], 0), _trimmed_from(problem, source)
    if whole is not None and tree.box == Box(0, 0, whole.w, whole.h) and len(tree.children) == 3:
        inner = tree.children[1].children
        tree = inner[1] if len(inner) == 3 else tree  # the trimming is the stock's own: a plan starts inside it
    return Board(source, tree, item.get("copies", 1).whole(1))


def _node_of(problem: Problem, item: Field, depth: int) -> Node:
    if depth > _DEEPEST:
        raise item.fault(f"expected at most {_DEEPEST} cuts one inside the other")
    box = _box(Field(item.file, [item[k].whole() for k in ("x", "y", "w", "h")], item.place))
    if "blank" in item:
        piece = _at(item["blank"], problem.pieces)
        return Node(box, piece=piece.key, turned=item.get("rotated", default=False).flag())
    if "cut" not in item:
        return Node(box, kept=item.get("remnant", default=False).flag())
    if item["cut"].value not in ("v", "h"):
        raise item["cut"].fault("expected v or h")
    children = tuple(_node_of(problem, child, depth + 1) for child in item["children"].items())
    return Node(box, cut=Way(item["cut"].value), children=children)
