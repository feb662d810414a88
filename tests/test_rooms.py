"""Which room may import which, and that each room says so itself.

`ROOMS` is the table of CONTRIBUTING.md in full: besides itself and `errors`, a room imports what its row names and
nothing else, inside functions and under TYPE_CHECKING too. A row may be narrower than a room (`planning.referee`);
the narrowest row that fits holds. Rooms that are not built yet have their row already.
"""

from __future__ import annotations

import ast
import sys
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path

import grimp
import pytest

SRC = Path(str(resources.files("fourply")))

VALUES = "measure working trade planning.problem planning.plan planning.stick_problem bench costing"
PURE = "measure working trade planning bench costing drawing sheets"


@dataclass(frozen=True)
class May:
    """What one room may import: other rooms or modules of theirs, and packages; `fourply` itself is the public face."""

    ours: str = ""
    packages: str = ""


ROOMS = {
    "errors": May(),
    "measure": May(),
    "working": May("measure"),
    "trade": May("measure working"),
    "planning": May("measure", "highspy numba numpy"),
    "planning.referee": May("measure planning.problem planning.plan"),
    "bench": May("measure working trade planning.plan", "numpy"),
    "costing": May("measure working trade planning.plan"),
    "drawing": May("measure"),
    "sheets": May("measure working trade planning bench costing drawing", "segno"),
    "render": May("measure drawing", "PIL ezdxf fontTools numpy reportlab resvg_py"),
    "files": May(VALUES, "pydantic pydantic_core python_calamine"),
    "app": May(f"{PURE} render files"),
    "store": May(f"app.ports app.ports_store files {VALUES}", "alembic psycopg sqlalchemy"),
    "compute": May("app.ports", "distributed"),
    "cli": May(f"app settings {VALUES}", "click fourply rich"),
    "web": May(f"app settings {VALUES}", "fastapi fourply jinja2 markupsafe pydantic starlette uvicorn"),
}
# These know everything, and nothing knows them (`settings` apart, which the faces read).
COMPOSITION = {"", "__main__", "settings", "wiring"}


@cache
def imports() -> grimp.ImportGraph:
    return grimp.build_graph("fourply", include_external_packages=True, cache_dir=None)


def within(module: str, names: str) -> bool:
    return any(module == name or module.startswith(f"{name}.") for name in names.split())


def row_of(module: str) -> str:
    """Return the narrowest row of ROOMS that the module falls under."""
    rows = [room for room in ROOMS if within(module, room)]
    return max(rows, key=len) if rows else module.partition(".")[0]


def ours() -> list[str]:
    """Return every module of fourply, by its path below the package; the package itself is the empty one."""
    found = (name for name in imports().modules if name.partition(".")[0] == "fourply")
    return sorted(name.removeprefix("fourply").removeprefix(".") for name in found)


def is_allowed(importer: str, imported: str) -> bool:
    """Tell whether a module, by its path below fourply, may import another, by its full name."""
    row = row_of(importer)
    package, _, module = imported.partition(".")
    if package == "fourply" and module:
        return within(module, f"{row} errors {ROOMS[row].ours}")
    return package in sys.stdlib_module_names or package in ROOMS[row].packages.split()


@pytest.mark.parametrize("row", ROOMS)
def test_room_imports_only_what_its_row_names(row: str) -> None:
    wrong = [
        f"{importer} imports {imported}"
        for importer in ours()
        if row_of(importer) == row
        for imported in sorted(imports().find_modules_directly_imported_by(f"fourply.{importer}"))
        if not is_allowed(importer, imported)
    ]

    assert wrong == []


@pytest.mark.parametrize(
    ("importer", "imported", "allowed"),
    [
        ("trade.mat", "fourply.measure.length", True),
        ("trade.mat", "fourply.trade.bevel", True),
        ("trade.mat", "fourply.errors", True),
        ("trade.mat", "decimal", True),
        ("trade.mat", "numpy", False),
        ("trade.mat", "fourply.drawing.pen", False),
        ("bench.order", "fourply.planning.plan", True),
        ("bench.order", "fourply.planning.problem", False),
        ("bench.order", "fourply.planning", False),
        ("planning.guillotine", "fourply.planning.referee", True),
        ("planning.guillotine", "highspy", True),
        ("planning.referee", "fourply.planning.plan", True),
        ("planning.referee", "fourply.planning.bounds", False),
        ("planning.referee", "highspy", False),
        ("cli.make", "fourply", True),
        ("cli.make", "fourply.web.pages", False),
        ("trade.mat", "fourply", False),
        ("store.rows", "fourply.app.ports", True),
        ("store.rows", "fourply.app.make", False),
    ],
)
def test_the_table_is_read_as_it_stands(importer: str, imported: str, *, allowed: bool) -> None:
    assert is_allowed(importer, imported) is allowed


def test_every_module_has_a_row() -> None:
    known = {*ROOMS, *COMPOSITION}

    assert [module for module in ours() if row_of(module) not in known] == []


def test_no_folder_of_modules_is_left_out_of_the_package() -> None:
    folders = {path.parent for path in SRC.rglob("*.py")}

    assert sorted(str(folder.relative_to(SRC)) for folder in folders if not (folder / "__init__.py").exists()) == []


@pytest.mark.parametrize("room", sorted(path.parent.name for path in SRC.glob("*/__init__.py")))
def test_room_has_its_card(room: str) -> None:
    card = ast.get_docstring(ast.parse((SRC / room / "__init__.py").read_text("utf-8"))) or ""

    assert [entry for entry in ("Lives here:", "May import:", "Never here:", "Tested by:") if entry not in card] == []


@pytest.mark.parametrize("room", sorted(path.parent.name for path in SRC.glob("*/__init__.py")))
def test_room_holds_nothing_but_its_card(room: str) -> None:
    body = ast.parse((SRC / room / "__init__.py").read_text("utf-8")).body

    assert [ast.unparse(statement) for statement in body[1:]] == []


def test_nothing_is_exported_from_where_it_is_not_defined() -> None:
    passed_on = [
        f"{module} passes on {name}"
        for module in ours()
        if module and (SRC / module.replace(".", "/") / "__init__.py").exists()
        for name in imports().find_modules_directly_imported_by(f"fourply.{module}")
        if within(name, "fourply")
    ]

    assert passed_on == []
