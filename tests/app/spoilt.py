"""Good input of every kind, spoilt at random, given to whatever reads it: it is read, or told what is wrong and where.

`trial` makes one from its number alone, so that each can be made again.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.testclient import TestClient
from tests.files.books import workbook
from tests.web.shops import AT, FILE, client_at, made, png
from tests.web.shops import SHOW as QUAY

from fourply.app import bringing, price_sheet
from fourply.app.keep import Desk
from fourply.app.keep_pictures import keep_picture
from fourply.app.ports_store import SHOP, Kind
from fourply.app.shows import layer_of, open_show
from fourply.errors import BadFile, BadInput, FourplyError
from fourply.files.convertors import Reading
from fourply.files.cutters import read_cutter
from fourply.files.faults import Fault
from fourply.files.rules import TREATMENT
from fourply.files.works import Asked
from fourply.measure.notation import Unit, parse_length
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore

DEMO = resources.files("fourply.files").joinpath("demo")
STARTER = resources.files("fourply.files").joinpath("starter")

LENGTHS = ("16 3/8", "1' 2 1/2\"", "415 mm", "0.055in", "2 3⁄8", "1½", "60mm", "3.5 cm", "8 1/4 in", "1,5 cm", "5 ft 3")
RULES = {
    "border": "3 in",
    "bottom": "x 4/3",
    "borders": "top 3 in, right 3 in, bottom 4 in, left 3 in",
    "mats": "white 4-ply, oval + red 4-ply @ 1/4 in flat reverse",
    "grooves": "1/2 in + 3/4 in",
    "shape": "stepped 1/4 in + 1/4 in",
    "layout": "grid 3, gutter 1 in",
    "inlay": "red 4-ply @ 1/2 in, 1/4 in wide",
    "title": "3 x 1/2 in, drop 1 in",
    "outer": "16 in w x 20 in h",
    "sink": "white 8-ply, clearance 1/8 in",
}
PRICES = (
    "kind,name,thickness,size,cost,length,width,lip,rabbet depth\n"
    "board,chalk 4-ply,0.055,32 x 40,11.50,,,,\n"
    "moulding,ash plain,,,38.00,120,3/4,1/4,5/8\n"
    "glass,clear,3/32,16 x 20,4.00,,,,\n"
)
TREATMENT_BODY = '{"value": {"name": "wide", "rules": {"name": "a", "values": {}}}}'
NASTY = (
    *(
        "\0",
        "\ufeff",
        "\ud7ff",
        "\U0001f4d0",
        "\u202e",
        "½",
        "⁄",
        "１",
        "-",
        "−",
        "+",
        "1e999",
        "9" * 400,
        "nan",
        "inf",
    ),
    *("=1+1", "@SUM(A1)", "<b>", "../../etc/passwd", "file:///", "{{7*7}}", "%s", "'", '"', '""', ",", ";", "\t", "\r"),
    *(
        "\n",
        "\n\n",
        "#REF!",
        "[",
        "]" * 3,
        "[[" * 40,
        "{",
        "}",
        "\\",
        "a" * 3000,
        " ",
        "1/0",
        "0",
        "1 1/",
        "/",
        "x",
        "×",
    ),
)
ENCODINGS = ("utf-8", "utf-8", "utf-8", "utf-8-sig", "utf-16", "utf-16-be", "cp1252", "latin-1", "cp437")


def spoilt(text: str, chance: random.Random) -> str:
    """Return a text with a few things in it put wrong."""
    for _ in range(chance.randint(1, 4)):
        at, to = sorted(chance.randrange(len(text) + 1) for _ in range(2))
        to = min(to, at + chance.choice((0, 1, 1, 3, 20)))
        match chance.randrange(6):
            case 0:
                text = text[:at] + text[to:]
            case 1:
                text = text[:at] + text[at:to] * chance.choice((2, 2, 50)) + text[to:]
            case 2:
                lines = text.split("\n")
                chance.shuffle(lines)
                text = "\n".join(lines)
            case _:
                text = text[:at] + chance.choice(NASTY) + text[to:]
    return text


def encoded(text: str, chance: random.Random) -> bytes:
    """Return a text in an encoding that people's programs write."""
    return text.encode(chance.choice(ENCODINGS), "replace")


def damaged(data: bytes, chance: random.Random) -> bytes:
    """Return bytes with some of them put wrong, gone, or twice."""
    found = bytearray(data)
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(found) + 1)
        match chance.randrange(4):
            case 0:
                del found[at:]
            case 1:
                found[at : at + 4] = bytes(chance.randrange(256) for _ in range(4))
            case 2:
                found[at:at] = found[at // 2 : at // 2 + 30]
            case _:
                del found[at : at + chance.choice((1, 2, 100))]
    return bytes(found)


class NotSaid(AssertionError):
    """Something was wrong and it was not said where, or what would be right."""


def _told(faults: Iterable[Fault]) -> int:
    """Return how many faults there are; raises NotSaid for one that does not say where and what would be right."""
    found = list(faults)
    for each in found:
        if not each.file or not each.expected.strip() or len(str(each)) > 2000:
            raise NotSaid(str(each)[:300])
    return len(found)


@dataclass
class Readers:
    """Whatever reads what people give, on a shop of its own."""

    folder: Path
    desk: Desk
    client: TestClient
    show: str
    backup: bytes
    archive: bytes

    def length(self, chance: random.Random) -> int:
        """A length as it is typed."""
        parse_length(spoilt(chance.choice(LENGTHS), chance), chance.choice((Unit.INCH, Unit.MM)))
        return 0

    def rule(self, chance: random.Random) -> int:
        """A rule of a treatment as it is typed."""
        key = chance.choice((*RULES, *RULES, *TREATMENT))
        layer_of({key: spoilt(RULES.get(key, "3 in"), chance)}, Reading(Unit.INCH))
        return 0

    def listed(self, chance: random.Random) -> int:
        """A list of works, as CSV, pasted, or as a workbook."""
        text = DEMO.joinpath(chance.choice(("works.csv", "metric.csv"))).read_text("utf-8")
        if chance.random() < 0.15:
            rows = [line.split(",") for line in text.splitlines()]
            sheet = bringing.Sheet("list.xlsx", damaged(workbook(rows), chance))
        elif chance.random() < 0.3:
            sheet = bringing.Sheet("pasted.csv", encoded(spoilt(text.replace(",", "\t"), chance), chance))
        else:
            sheet = bringing.Sheet("list.csv", encoded(spoilt(text, chance), chance))
        return _told(bringing.understand(self.desk, "", sheet).faults)

    def show_file(self, chance: random.Random) -> int:
        """A show file with its list beside it."""
        name = chance.choice(("show", "metric"))
        show, works = ("show.toml", "works.csv") if name == "show" else ("metric.toml", "metric.csv")
        with TemporaryDirectory(dir=self.folder) as at:
            (Path(at) / works).write_bytes(DEMO.joinpath(works).read_bytes())
            file = Path(at) / show
            file.write_bytes(encoded(spoilt(DEMO.joinpath(show).read_text("utf-8"), chance), chance))
            return _told(open_show(file, Asked()).faults)

    def prices(self, chance: random.Random) -> int:
        """A supplier's price list."""
        sheet = price_sheet.PriceSheet("prices.csv", encoded(spoilt(PRICES, chance), chance))
        return _told(price_sheet.look(self.desk, sheet).prices.faults)

    def cutter(self, chance: random.Random) -> int:
        """The file of a cutter."""
        text = STARTER.joinpath(chance.choice(("cutter-inch.toml", "cutter-metric.toml"))).read_text("utf-8")
        return _told(read_cutter("cutter.toml", encoded(spoilt(text, chance), chance)).faults)

    def picture(self, chance: random.Random) -> int:
        """A picture of a work."""
        keep_picture(self.desk, damaged(png(), chance), spoilt("weir.png", chance))
        return 0

    def backup_file(self, chance: random.Random) -> int:
        """A backup that is to be put back."""
        return self._taken("backup.sqlite", damaged(self.backup, chance), lambda store, file: store.restore(file))

    def database(self, chance: random.Random) -> int:
        """The file that the shop itself is kept in, damaged while nobody looked."""
        with TemporaryDirectory(dir=self.folder) as at:
            file = Path(at) / "shop.sqlite"
            file.write_bytes(damaged(self.backup, chance))
            store = SqlStore(sqlite_url(file), Path(at))
            try:
                store.every(Kind.PICTURE, SHOP)
                store.history()
            finally:
                store.close()
        return 0

    def archive_file(self, chance: random.Random) -> int:
        """An export that is to be brought in."""
        return self._taken("shop.zip", damaged(self.archive, chance), lambda store, file: store.bring_in(file))

    def _taken(self, name: str, data: bytes, take: Callable[[SqlStore, Path], object]) -> int:
        with TemporaryDirectory(dir=self.folder) as at:
            file = Path(at) / name
            file.write_bytes(data)
            store = SqlStore(sqlite_url(Path(at) / "other.sqlite"), Path(at))
            try:
                take(store, file)
            finally:
                store.close()
        return 0

    def asked(self, chance: random.Random) -> int:
        """What is sent to the API: typed works, rules, lists."""
        given = {"id": "9", "title": "Weir", "size": spoilt("9 x 12", chance), spoilt("notes", chance): "dry"}
        rules = {chance.choice((*RULES, "bordr")): spoilt("3 in", chance)}
        answers = {
            "live": lambda: self.client.post(f"{AT}/live", json={"show": self.show, "given": given, "rules": rules}),
            "typed": lambda: self.client.post(f"{AT}/works/typed", json={"scope": self.show, "given": given}),
            "list": lambda: self.client.post(
                f"{AT}/shows/{self.show}/list?file=list.csv",
                content=encoded(spoilt("No,Title,Width,Height\n21,Weir,8,10\n", chance), chance),
                headers=FILE,
            ),
            "body": lambda: self.client.post(
                f"{AT}/treatments",
                content=encoded(spoilt(TREATMENT_BODY, chance), chance),
                headers={"Content-Type": "application/json"},
            ),
        }
        answer = answers[chance.choice([*answers])]()
        if answer.status_code >= 500:
            raise NotSaid(f"{answer.status_code}: {answer.text[:300]}")
        if answer.status_code >= 400:
            told = answer.json()
            if not told.get("title") or not (told.get("detail") or told.get("errors")):
                raise NotSaid(answer.text[:300])
            return 1
        return 0

    @property
    def ways(self) -> Mapping[str, tuple[int, Callable[[random.Random], int]]]:
        """Every way in by its name, with how many of a hundred trials take it."""
        return {
            "length": (23, self.length),
            "rule": (14, self.rule),
            "list of works": (24, self.listed),
            "show file": (10, self.show_file),
            "price list": (10, self.prices),
            "cutter file": (5, self.cutter),
            "picture": (3, self.picture),
            "backup": (1, self.backup_file),
            "database": (1, self.database),
            "export": (1, self.archive_file),
            "request": (8, self.asked),
        }


def readers(stack: ExitStack) -> Readers:
    """Return the readers of a new shop, which goes when the stack is closed."""
    folder = Path(stack.enter_context(TemporaryDirectory()))
    client = stack.enter_context(client_at(folder / "web"))
    store = SqlStore(sqlite_url(folder / "shop.sqlite"), folder)
    stack.callback(store.close)
    desk = Desk(store)
    keep_picture(desk, png(), "weir.png")
    archive = store.export(folder / "shop.zip")
    show = made(client, "/shows", {"value": QUAY})["id"]
    return Readers(folder, desk, client, show, store.backup().read_bytes(), archive.read_bytes())


def trial(of: Readers, number: int) -> tuple[str, str]:
    """Return which way in the trial of a number took, and how it went: read, told, or refused.

    Raises NotSaid, or whatever error came up that a person should never see.
    """
    chance = random.Random(number)  # noqa: S311 (nothing is hidden by it)
    ways = of.ways
    name = chance.choices([*ways], [share for share, _ in ways.values()])[0]
    try:
        return name, "told" if ways[name][1](chance) else "read"
    except FourplyError as bad:
        if not str(bad).strip() or (isinstance(bad, BadInput) and not bad.expected.strip()):
            raise NotSaid(f"{type(bad).__name__}: {bad}") from bad
        if isinstance(bad, BadFile) and not bad.file:
            raise NotSaid(f"no file: {bad}") from bad
        return name, "refused"


def trials(of: Readers, numbers: Iterable[int]) -> Iterator[tuple[int, str, str]]:
    """Yield each trial's number with its way and how it went; raises as `trial` does, with the number."""
    for number in numbers:
        try:
            yield (number, *trial(of, number))
        except Exception as bad:
            bad.add_note(f"trial {number}")
            raise
