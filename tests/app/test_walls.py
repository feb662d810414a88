"""A show as it hangs: resolved as far as somebody looks, worked out again only where something has changed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from fourply.app import editing, walls
from fourply.app.keep import Desk
from fourply.app.keep_shows import keep_file
from fourply.app.reading import asked_for
from fourply.trade.resolve import resolve_show
from fourply.wiring import store

SHOW = """
[show]
title = "Quay"
unit = "in"
order = "width x height"
works = "works.csv"
[defaults]
moulding = "ash 3/4"
[treatments.alike]
group = "pair"
[treatments.double]
mats = [{ board = "cream 4-ply" }, { board = "blue 4-ply", reveal = "1/4" }]
"""
WORKS = """number,title,size,treatment
1,Weir,9 x 12,alike
2,Ebb,11 x 14,alike
3,Flood,5 x 7,double
4,Sluice,8 x 10,
"""


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[tuple[Desk, str]]:
    (tmp_path / "show.toml").write_text(SHOW, encoding="utf-8")
    (tmp_path / "works.csv").write_text(WORKS, encoding="utf-8")
    kept = store(tmp_path / "shop")
    desk = Desk(kept)
    yield desk, keep_file(desk, tmp_path / "show.toml", asked_for(None, None)).record.id
    kept.close()


@pytest.fixture
def resolved(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The numbers of the works that were resolved, in that order."""
    found: list[str] = []

    def noted(works: list[tuple[object, object]], materials: object) -> object:
        found.extend(work.id for work, _ in works)  # type: ignore[attr-defined]
        return resolve_show(works, materials)  # type: ignore[arg-type]

    monkeypatch.setattr(walls, "resolve_show", noted)
    return found


def test_only_what_is_looked_at_is_resolved_and_only_once(shop: tuple[Desk, str], resolved: list[str]) -> None:
    desk, show = shop
    of = walls.Walls()
    records = of.works(desk, show)
    of.hung(desk, show, records[2:3])
    of.hung(desk, show, records[2:3])
    assert resolved == ["3"]


def test_a_work_of_a_group_is_resolved_with_the_others_of_it(shop: tuple[Desk, str], resolved: list[str]) -> None:
    desk, show = shop
    of = walls.Walls()
    first, second = of.hung(desk, show, of.works(desk, show)[:1])[0], of.hung(desk, show, of.works(desk, show)[1:2])[0]
    assert resolved == ["1", "2"]
    assert first.size == second.size


def test_a_change_of_one_work_leaves_the_others_as_they_are(shop: tuple[Desk, str], resolved: list[str]) -> None:
    desk, show = shop
    of = walls.Walls()
    before = of.hung(desk, show, of.works(desk, show))
    resolved.clear()
    editing.edit_work(desk, before[3].record.id, "width", "10", before[3].record.version)
    after = of.hung(desk, show, of.works(desk, show))
    assert "3" not in resolved
    assert "4" in resolved
    assert [each.stamp == other.stamp for each, other in zip(before, after, strict=True)] == [True, True, True, False]


def test_what_a_group_shares_is_part_of_what_a_preview_goes_by(shop: tuple[Desk, str]) -> None:
    desk, show = shop
    of = walls.Walls()
    before = of.hung(desk, show, of.works(desk, show))
    editing.edit_work(desk, before[1].record.id, "width", "20", before[1].record.version)
    after = of.hung(desk, show, of.works(desk, show))
    assert before[0].stamp != after[0].stamp
    assert of.preview(desk, after[0].record) != b""


def test_a_work_that_cannot_be_made_says_why(shop: tuple[Desk, str]) -> None:
    desk, show = shop
    of = walls.Walls()
    work = of.works(desk, show)[3]
    editing.change_many(desk, show, [(work.id, work.version)], editing.Wish(rules={"outer": "4 x 5"}))
    hung = of.hung(desk, show, of.works(desk, show))[3]
    assert hung.size == ""
    assert hung.why
    assert (hung.width, hung.height) == (64, 80)  # derived: the bare sheet, 8 x 10 in at eight dots an inch
