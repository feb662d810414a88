"""Commands on what is kept: the whole way of a show through the store, as a person types it."""

from __future__ import annotations

from pathlib import Path
from time import monotonic, sleep

import pytest
from tests.cli.conftest import Run

from fourply.app.demo import copy_demo
from fourply.app.keep import Desk, create_show
from fourply.cli.shop import each_day
from fourply.files.kept import KeptShow
from fourply.measure.notation import Unit
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore

LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\nA-3,Wrong,x,13\n"
PRICES = "kind,name,size,cost,caliper\nboard,Mauve,32 x 40 in,9.80,1/16 in\nboard,Odd,32 x 40 in,?,1/16 in\n"


@pytest.fixture
def list_file(tmp_path: Path) -> Path:
    path = tmp_path / "tide.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_a_show_is_kept_listed_opened_and_asked_why(call: Run, tmp_path: Path) -> None:
    assert "./run keep" in call("shows")[1]
    path = copy_demo(tmp_path / "demo", metric=True)
    assert call("keep", path)[0] == 0
    assert "Herbarium" in call("shows", "herb")[1]
    assert "No show" in call("shows", "zebra")[1]
    code, out, _ = call("open", "HERBARIUM")
    assert (code, len(out.splitlines())) == (0, 8)
    number = out.split()[0]
    assert "window" in call("open", "Herbarium", number)[1]
    assert call("why", "Herbarium", number, "outer.width") == call("why", path, number, "outer.width")
    assert call("open", "Herbarium", "no such work")[0] == 1


def test_a_kept_show_is_made_as_its_file_is(call: Run, tmp_path: Path) -> None:
    path = copy_demo(tmp_path / "demo", metric=True)
    call("keep", path)
    path.unlink()
    code, out, err = call("make", "Herbarium", "--out", tmp_path / "out", "--steps", "5", "--workers", "1")
    assert (code, err) == (0, "")
    assert "8 works made" in out or "works made, 0 with faults" in out
    assert (tmp_path / "out" / "tickets.pdf").exists()


def test_a_list_is_kept_with_its_faults_told_and_added_to(call: Run, list_file: Path) -> None:
    code, out, err = call("keep", list_file, "--title", "Tide")
    assert (code, "Kept Tide with 2 works" in out, "row 4" in err) == (2, True, True)
    code, _, err = call("keep", list_file, "--title", "Tide")
    assert (code, "called 'Tide' already" in err) == (1, True)
    list_file.write_text(LIST.replace("A-", "B-"), encoding="utf-8")
    assert "Added 2 works" in call("keep", list_file, "--into", "tide")[1]
    assert len(call("open", "Tide")[1].splitlines()) == 4


def test_history_is_told_undone_and_redone(call: Run, list_file: Path) -> None:
    call("keep", list_file, "--title", "Tide")
    list_file.write_text(LIST.replace("A-", "B-"), encoding="utf-8")
    call("keep", list_file, "--into", "tide")
    assert "2 works from tide.csv" in call("history", "tide", "--undo")[1]
    assert len(call("open", "Tide")[1].splitlines()) == 2
    call("history", "tide", "--redo")
    assert len(call("open", "Tide")[1].splitlines()) == 4
    told = [line.split("  ")[1] for line in call("history", "tide")[1].splitlines()]
    assert told[:2] == ["redo of 2 works from tide.csv", "undo of 2 works from tide.csv"]
    assert call("history", "tide", "--redo")[2].strip() == "there is nothing to redo"
    assert call("history", "--undo", "--redo")[0] == 64


def test_prices_are_shown_then_kept(call: Run, tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_text(PRICES, encoding="utf-8")
    code, out, err = call("prices", path, "--order", "width x height", "--supplier", "Weir Supply")
    assert (code, "Mauve: new" in out, "not kept yet" in out, "row 3" in err) == (2, True, True, True)
    assert (
        "1 change, kept" in call("prices", path, "--order", "width x height", "--supplier", "Weir Supply", "--keep")[1]
    )
    path.write_text(PRICES.replace("9.80", "10.20"), encoding="utf-8")
    assert "9.80 USD -> " in call("prices", path, "--order", "width x height")[1]
    path.write_text(PRICES.replace("Mauve", "Other"), encoding="utf-8")
    assert (
        "Mauve: it stays as it is" in call("prices", path, "--order", "width x height", "--supplier", "Weir Supply")[1]
    )


def test_a_shop_is_backed_up_put_back_exported_and_brought_in(call: Run, list_file: Path, tmp_path: Path) -> None:
    call("keep", list_file, "--title", "Tide")
    backup = Path(call("backup")[1].strip())
    assert backup.exists()
    call("history", "tide", "--undo")
    assert "Tide" not in call("shows")[1]
    assert "What was there before is in" in call("restore", backup)[1]
    assert "Tide" in call("shows")[1]
    call("export", tmp_path / "shop.zip")
    assert "records are here" in call("import", tmp_path / "shop.zip", "--data", tmp_path / "other")[1]
    assert "Tide" in call("shows", "--data", tmp_path / "other")[1]
    assert call("import", tmp_path / "shop.zip")[0] == 1


def test_a_damaged_shop_says_what_to_do_and_is_put_back(call: Run, list_file: Path, tmp_path: Path) -> None:
    call("keep", list_file, "--title", "Tide")
    backup = call("backup")[1].strip()
    (tmp_path / "data" / "shop.sqlite").write_bytes(b"rubbish" * 1000)
    code, _, err = call("shows")
    assert (code, "./run restore FILE" in err) == (1, True)
    assert call("restore", backup)[0] == 0
    assert "Tide" in call("shows")[1]


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (("make", "No such show", "--out", "x"), 64, "no file"),
        (("open", "No such show"), 64, "no show is kept"),
        (("why", ".", "1"), 64, "no file"),
        (("keep", "missing.csv"), 64, "does not exist"),
        (("restore", "missing.sqlite"), 64, "does not exist"),
    ],
)
def test_what_is_not_there_is_told(call: Run, arguments: tuple[str, ...], code: int, says: str) -> None:
    found, _, err = call(*arguments)
    assert (found, says in err) == (code, True)


def test_a_kept_show_has_a_unit_of_its_own(call: Run, list_file: Path) -> None:
    call("keep", list_file, "--title", "Tide")
    code, _, err = call("why", "Tide", "A-1", "--unit", "mm")
    assert (code, "of its own" in err) == (64, True)


def test_whoever_runs_for_days_has_a_backup_of_each(tmp_path: Path) -> None:
    store = SqlStore(sqlite_url(tmp_path / "shop.sqlite"), tmp_path)
    create_show(Desk(store), KeptShow("Tide", Unit.MM, None, "EUR"))
    until = monotonic() + 30
    with each_day(store, every=0.01):
        while not [*tmp_path.glob("backups/*.sqlite")] and monotonic() < until:
            sleep(0.01)
    store.close()
    assert len([*tmp_path.glob("backups/*.sqlite")]) == 1


def test_a_backup_that_fails_is_told_and_stops_nothing(call: Run, list_file: Path, tmp_path: Path) -> None:
    call("keep", list_file, "--title", "Tide")
    (tmp_path / "data" / "backups").write_text("in the way", encoding="utf-8")
    code, out, err = call("shows")
    assert (code, "Tide" in out, "no backup was made" in err) == (0, True, True)
