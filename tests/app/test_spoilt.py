"""Spoilt input of every kind is read, or what is wrong is said and where: a slice of what the soak does."""

from __future__ import annotations

from contextlib import ExitStack

from tests.app.spoilt import readers, trials


def test_spoilt_input_is_read_or_told_and_nothing_else_happens() -> None:
    """Four hundred trials, at least one of each way in but the rarest; each raises where something is not said."""
    with ExitStack() as stack:
        seen = {(name, how) for _, name, how in trials(readers(stack), range(400))}
    assert {name for name, _ in seen} >= {"length", "rule", "list of works", "show file", "price list", "request"}
    assert {how for _, how in seen} == {"read", "told", "refused"}
