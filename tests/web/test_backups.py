"""Backups in the browser: made, looked into, given out, brought in; the shop put back, and put forward again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.design_shop import Caller, caller_at

AT = "/settings/backups"


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    with caller_at(tmp_path) as found:
        yield found


def listed(client: TestClient) -> list[str]:
    """Return the names of the backups on the page of settings, the newest first."""
    return re.findall(rf'href="{AT}/([^"/]+)"', client.get("/settings").text)


def border(caller: Caller) -> str:
    return next(str(each["value"]) for each in caller.design("TM-02")["handles"] if each["name"] == "border.top")


def change(caller: Caller, text: str) -> None:
    kept = caller.keep("TM-02", caller.design("TM-02")["version"], handle="border.top", text=text)
    assert kept["status"] == 200


def test_shop_is_put_back_and_forward_again_while_it_is_served(caller: Caller) -> None:
    """Pages show what the backup has at once, though the server remembers what was; the way back works."""
    client = caller.client
    was = border(caller)
    wall = f"/shows/{caller.shop.show}"
    shelf = client.get(f"{wall}/shelf.svg")
    client.post(AT, data={"act": "make"})
    change(caller, "4 1/2")
    change(caller, "5")
    stamps = re.findall(r"/works/\w+/\w+\.svg", client.get(wall).text)
    (name,) = listed(client)
    page = client.get(f"{AT}/{name}").text
    assert "TM-02: top border" in page
    refused = client.post(f"{AT}/{name}/restore", data={})
    assert "say that you want it" in refused.text
    assert border(caller) == "5"
    done = client.post(f"{AT}/{name}/restore", data={"sure": "yes"})
    assert f"The shop is as {name} has it" in done.text
    assert border(caller) == was
    assert re.findall(r"/works/\w+/\w+\.svg", client.get(wall).text) != stamps
    again = client.get(f"{wall}/shelf.svg", headers={"If-None-Match": shelf.headers["etag"]})
    assert again.text == shelf.text
    change(caller, "4 1/2")
    assert border(caller) == "4 1/2"
    newest = listed(client)[0]
    assert newest.endswith("-before-restore.sqlite")
    client.post(f"{AT}/{newest}/restore", data={"sure": "yes"})
    assert border(caller) == "5"


def test_backup_goes_out_as_a_file_and_comes_in_again(caller: Caller) -> None:
    client = caller.client
    client.post(AT, data={"act": "make"})
    (name,) = listed(client)
    file = client.get(f"{AT}/{name}/file")
    assert file.content.startswith(b"SQLite format 3")
    assert name in file.headers["content-disposition"]
    brought = client.post(AT, files={"backup": ("mine.sqlite", file.content)})
    assert "brought in" in brought.text
    assert "Put it back" in brought.text
    assert len(listed(client)) == 2


@pytest.mark.parametrize("data", [b"no database", b"SQLite format 3\0" + b"\0" * 100, b""])
def test_what_is_no_backup_is_refused_and_not_kept(caller: Caller, data: bytes) -> None:
    answer = caller.client.post(AT, files={"backup": ("shop.sqlite", data)})
    assert "a backup that" in answer.text
    assert listed(caller.client) == []


@pytest.mark.parametrize("name", ["none.sqlite", "..%2Fshop.sqlite", "shop.sqlite"])
def test_backup_that_there_is_not_is_told(caller: Caller, name: str) -> None:
    for answer in (
        caller.client.get(f"{AT}/{name}"),
        caller.client.get(f"{AT}/{name}/file"),
        caller.client.post(f"{AT}/{name}/restore", data={"sure": "yes"}),
    ):
        assert answer.status_code in {200, 404}
        assert answer.status_code == 404 or "Nothing is put back" in answer.text
