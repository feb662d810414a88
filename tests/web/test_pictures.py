"""Pictures of works: hung at one work, or many at once by the names of their files; the demo has its own."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient
from tests.web.browser import browsing
from tests.web.design_shop import Caller, Shop, caller_at, served, shop_at

from fourply.app.hanging import fit_words, matched, sheets_of
from fourply.app.keep import Desk
from fourply.files.kept import KeptPicture
from fourply.measure.length import Length
from fourply.measure.size import Size


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    with caller_at(tmp_path) as found:
        yield found


def picture(width: int = 60, height: int = 40, colour: str = "#336699") -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (width, height), colour).save(file, "PNG")
    return file.getvalue()


def hang(caller: Caller, number: str, place: int = 0, data: bytes | None = None, **fields: str) -> str:
    """Send the form of one sheet; returns the page that it leads to."""
    version = str(caller.design(number)["version"])
    files = {"picture": ("front.png", picture() if data is None else data)} if "act" not in fields else None
    at = f"/works/{caller.shop.works[number]}/pictures/{place}"
    answer = caller.client.post(at, data={"version": version} | fields, files=files)
    assert answer.status_code == 200, answer.text
    return answer.text


def test_picture_hangs_in_its_place_and_comes_down_again(caller: Caller) -> None:
    """It is on the design page and in the preview of the wall; taking it away leaves none; both can be undone."""
    bare = caller.client.get(f"/api/v1/works/{caller.shop.works['TM-02']}/preview.svg").text
    html = hang(caller, "TM-02")
    assert "front.png" in html
    assert caller.design("TM-02")["pictures"][0].startswith("/api/v1/pictures/")
    hung = caller.client.get(f"/api/v1/works/{caller.shop.works['TM-02']}/preview.svg").text
    assert "data:image/jpeg" in hung
    assert "data:image" not in bare
    assert "Undo “TM-02: picture front.png”" in html
    html = hang(caller, "TM-02", act="remove")
    assert "front.png" not in html.split("Picture</h2>")[1].split("</section>")[0]
    assert caller.design("TM-02")["pictures"] in ([], [""])


def test_each_sheet_of_a_mat_has_its_own(caller: Caller) -> None:
    """The second and third sheet hang at the work whose mat it is; the first stays without."""
    hang(caller, "TM-13", 2, picture(colour="#aa2200"))
    hang(caller, "TM-13", 1)
    pictures = caller.design("TM-13")["pictures"]
    assert [bool(each) for each in pictures] == [False, True, True]
    assert pictures[1] != pictures[2]
    preview = caller.client.get(f"/api/v1/works/{caller.shop.works['TM-13']}/preview.svg").text
    assert preview.count("data:image/jpeg") == 2


@pytest.mark.parametrize(
    ("data", "fields", "says"),
    [
        (b"no picture", {}, "JPEG, PNG"),
        (b"", {}, "is not hung"),
        (None, {"version": "1000"}, "changed elsewhere"),
    ],
)
def test_what_cannot_hang_is_said_and_nothing_changes(
    caller: Caller, data: bytes | None, fields: dict[str, str], says: str
) -> None:
    version = caller.design("TM-02")["version"]
    assert says in hang(caller, "TM-02", 0, data, **fields)
    assert caller.design("TM-02")["version"] == version


def test_sheet_that_there_is_not_is_told(caller: Caller) -> None:
    assert "is not hung" in hang(caller, "TM-02", 1)


def test_what_is_cut_off_is_said(caller: Caller) -> None:
    """TM-02 is 14 1/2 x 11 1/4, 1.29 wide to 1 high: of a picture 2 to 1 a good third of the width goes (derived)."""
    assert "36 % of its width is cut off" in hang(caller, "TM-02", data=picture(200, 100))
    size = Size(Length.mm(100), Length.mm(100))
    assert fit_words(KeptPicture("0" * 64, "image/png", 101, 100, 9), size) == ""
    assert fit_words(KeptPicture("0" * 64, "image/png", 100, 200, 9), size) == "50 % of its height is cut off"


def test_many_are_matched_by_name_looked_at_and_hung_as_one_entry(caller: Caller) -> None:
    client: TestClient = caller.client
    at = f"/shows/{caller.shop.show}/pictures"
    names = ["tm-13b (front).png", "TM-01.PNG", "TM_04-back.png", "holiday.png", "TM-011.png"]
    files = [("picture", (name, picture(colour=f"#00{at:02x}00"))) for at, name in enumerate(names)]
    html = client.post(at, files=[*files, ("picture", ("TM-05.png", b"nothing"))]).text
    rows = re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', html, re.DOTALL)
    chosen = {name: re.findall(r"selected>(\S+)", row) for name, row in rows}
    assert [chosen[name][:1] for name in names] == [["TM-13b"], ["TM-01"], ["TM-04"], [], []]
    assert "JPEG, PNG" in dict(rows)["TM-05.png"]
    assert not any(caller.design("TM-01")["pictures"])
    fields = {
        key: re.findall(pattern, html)
        for key, pattern in (("content", r'name="content" value="(\w+)"'), ("name", r'name="name" value="([^"]*)"'))
    }
    wanted = [next(iter(re.findall(r'value="(\S+)" selected', row)), "") for _, row in rows[:5]]
    answer = client.post(f"{at}/hang", data=fields | {"at": wanted})
    assert "Undo “hang 3 pictures”" in answer.text
    assert all(caller.design(number)["pictures"][place] for number, place in (("TM-01", 0), ("TM-04", 0), ("TM-13", 1)))


def test_nothing_chosen_is_said(caller: Caller) -> None:
    at = f"/shows/{caller.shop.show}/pictures"
    assert "choose at least one" in caller.client.post(at, files=[("other", ("a.png", b""))]).text
    assert "no picture has a sheet" in caller.client.post(f"{at}/hang", data={"content": "0" * 64, "at": ""}).text
    hostile = {"content": "../../etc/passwd", "name": "x", "at": f"{caller.shop.works['TM-01']}.0"}
    assert caller.client.post(f"{at}/hang", data=hostile).status_code in {404, 422}


def test_name_means_the_longest_number_that_it_begins_with(caller: Caller) -> None:
    sheets = sheets_of(Desk(caller.shop.app.state.room.parts.store), caller.shop.show)
    keys = {each.key: each.number for each in sheets}
    names = ["TM-13.jpg", "TM-13b.jpg", "tm 13 c.tif", "C:\\scans\\TM-20 print.webp", "13.jpg", "", "TM.png"]
    found = [keys.get(key, "") for key in matched(names, sheets)]
    assert found == ["TM-13", "TM-13b", "TM-13c", "TM-20", "", "", ""]


# ── in a browser ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Any, str, Shop, Path]]:
    """A browser, a shop that is served, and a picture in a file."""
    with browsing() as browser:
        folder = tmp_path_factory.mktemp("pictures")
        file = folder / "front.png"
        file.write_bytes(picture())
        shop = shop_at(folder / "shop")
        with served(shop) as address:
            yield browser, address, shop, file


@pytest.mark.parametrize("hand", ["mouse", "keyboard"])
def test_journey_from_a_file_to_its_place(desk: tuple[Any, str, Shop, Path], hand: str) -> None:
    """A file is chosen by a click, or by the keys alone, hangs at once in the drawing, and is taken down again."""
    browser, address, shop, file = desk
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.goto(f"{address}{shop.page('TM-05')}")
    field = page.locator("[data-hang]")
    with page.expect_file_chooser() as chooser:
        if hand == "mouse":
            field.click()
        else:
            field.focus()
            page.keyboard.press("Enter")
    chooser.value.set_files(file)
    page.locator("[data-front] image").wait_for(state="attached")
    away = page.get_by_role("button", name="take it away")
    if hand == "mouse":
        away.click()
    else:
        away.focus()
        page.keyboard.press("Enter")
    page.locator("[data-front] image").wait_for(state="detached")
    page.close()
