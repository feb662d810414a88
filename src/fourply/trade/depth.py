"""The stack of layers against the depth of the rabbet, and the clearance between art and glazing."""

from __future__ import annotations

from collections.abc import Sequence

from fourply.measure.length import Length, total
from fourply.trade import rules
from fourply.trade.materials import Backing, Board, Fillet, Glazing, Spacer
from fourply.trade.package import ArtPlace, Frame, Lift, Mat, Sink, Stack, StackLayer
from fourply.trade.work import Artwork
from fourply.working.ledger import Ledger
from fourply.working.working import Rule


class Layers:
    """The layers of one package as they are stacked, front to back, each entered as a figure."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._layers: list[StackLayer] = []

    def add(self, name: str, material: str, thickness: Length) -> None:
        """Put one more layer behind the others."""
        self._ledger.given(f"stack.{_slug(name)}", thickness, material or name)
        self._layers.append(StackLayer(name, material, thickness))

    def close(self, frame: Frame | None) -> Stack:
        """Return the stack against the shallowest rabbet of the frame, where there is one."""
        ledger, layers = self._ledger, tuple(self._layers)
        names = [_slug(layer.name) for layer in layers]
        formula = " + ".join(names)
        rule = Rule(rules.DEPTH.id, formula, rules.DEPTH.reason, rules.DEPTH.source)
        depth = total([layer.thickness for layer in layers])
        ledger.figure("stack.depth", depth, rule, **{name: f"stack.{name}" for name in names})
        if frame is None:
            return Stack(layers, depth, None, None)
        rabbet = min(rail.moulding.rabbet_depth for rail in frame.rails)
        path = "moulding" if rabbet == frame.moulding.rabbet_depth else "moulding_sides"
        operands = {"rabbet": f"{path}.rabbet_depth", "depth": "stack.depth"}
        spare = ledger.figure("stack.spare", rabbet - depth, rules.SPARE, **operands)
        return Stack(layers, depth, rabbet, spare)


def stack_layers(
    ledger: Ledger,
    arts: Sequence[ArtPlace],
    mats: tuple[Mat, ...],
    between: tuple[Glazing | None, Spacer | None, Fillet | None],
    sink: Sink | None,
) -> Layers:
    """Return the layers from the glazing to the art; `between` is glazing, spacer and fillet, None where left out.

    `arts` are the sheets that lie behind the mats and do not float; the thickest counts, or the boards round it.
    """
    glazing, spacer, fillet = between
    layers = Layers(ledger)
    if glazing is not None:
        layers.add("glazing", glazing.name, glazing.thickness)
    if spacer is not None:
        layers.add("spacer", spacer.name, spacer.depth)
    for mat in mats:
        layers.add(mat.name, mat.board.name, mat.board.caliper)
    if fillet is not None:
        layers.add("fillet", fillet.name, fillet.thickness)
    if sink is not None:
        layers.add("sink mat", sink.board.name, sink.height)
    elif arts:
        layers.add("art", "art", max(place.art.thickness for place in arts))
    return layers


def close_stack(layers: Layers, mount: Board, backing: Backing | None, frame: Frame | None) -> Stack:
    """Return the whole stack with mount board and backing behind the art."""
    layers.add("mount board", mount.name, mount.caliper)
    if backing is not None:
        layers.add("backing", backing.name, backing.thickness)
    return layers.close(frame)


def clear_of_glazing(
    ledger: Ledger,
    art: Artwork,
    mats: tuple[Mat, ...],
    between: tuple[Spacer | None, Fillet | None],
    *,
    lift: Lift | None,
    floats: bool,
    sink: Sink | None = None,
) -> Length:
    """Return how far the face of a sheet is from the glazing, with spacer and fillet between where there are any.

    A covered sheet lies behind the mats, at the bottom of its sink where there is one; a floated one is raised by its
    lift into the window.
    """
    spacer, fillet = between
    room = total([mat.board.caliper for mat in mats])
    room += (spacer.depth if spacer else Length(0)) + (fillet.thickness if fillet else Length(0))
    names = [f"stack.{_slug(mat.name)}" for mat in mats]
    names += (["stack.spacer"] if spacer else []) + (["stack.fillet"] if fillet else [])
    taken = {}
    if sink is not None:
        names.append("stack.sink_mat")
        room += sink.height
    if floats or sink is not None:
        taken["art"] = "art.thickness"
        room -= art.thickness
    if lift is not None:
        taken["lift"] = "lift.rise"
        room -= lift.rise
    operands = {name.removeprefix("stack."): name for name in names}
    formula = " + ".join(operands) + "".join(f" - {name}" for name in taken)
    rule = Rule(rules.CLEAR_OF_GLASS.id, formula, rules.CLEAR_OF_GLASS.reason, rules.CLEAR_OF_GLASS.source)
    return ledger.figure("art.to_glazing", room, rule, **operands, **taken)


def _slug(name: str) -> str:
    return name.replace(" ", "_").replace("-", "_")
