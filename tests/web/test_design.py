"""The design page's routes: what a change would make, what is kept, what is said of it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.web.design_shop import Caller, caller_at, figure, handle
from tests.web.shops import png

from fourply.app.design_rules import GROUPS
from fourply.files.rules import TREATMENT

ALL = [f"TM-{number:02}" for number in range(1, 25)]


@pytest.fixture(scope="module")
def looking(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    """Somebody who keeps nothing, shared by the tests of this module."""
    with caller_at(tmp_path_factory.mktemp("design")) as caller:
        yield caller


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    with caller_at(tmp_path) as caller:
        yield caller


def test_page_carries_the_data_that_it_draws(looking: Caller) -> None:
    answer = looking.client.get(looking.shop.page("TM-12"))
    assert answer.status_code == 200
    found = re.search(r'<script type="application/json" id="design-data">(.*?)</script>', answer.text, re.DOTALL)
    assert found is not None
    data = json.loads(found[1])
    assert data["number"] == "TM-12"
    assert data["front"]["fills"][0]["kind"] == "wood"
    assert "unsafe-inline" not in answer.headers["Content-Security-Policy"]


def test_work_in_the_mat_of_another_leads_there(looking: Caller) -> None:
    answer = looking.client.get(looking.shop.page("TM-13b"), follow_redirects=False)
    assert answer.headers["Location"].endswith(looking.shop.page("TM-13"))


@pytest.mark.parametrize("number", ALL)
def test_every_handle_moves_its_own_value_by_one_step(looking: Caller, number: str) -> None:
    before = looking.design(number)
    for each in before["handles"]:
        after = looking.ask(number, handle=each["name"], steps=1)
        assert after["faults"] == []
        now = handle(after, each["name"])
        assert now["now"] - each["now"] == pytest.approx(25.4 / 16, abs=1e-6), each["name"]  # 1/16 in
    assert looking.design(number)["version"] == before["version"], "looking keeps nothing"


@pytest.mark.parametrize("number", ALL)
def test_what_is_filled_is_what_is_outlined(looking: Caller, number: str) -> None:
    front = looking.design(number)["front"]
    outlines = [json.dumps(each["steps"]) for each in front["outlines"]]
    windows = [each for each in front["fills"] if each["kind"] == "window"]
    assert len(windows) == sum("the window" in each["edge"] for each in front["outlines"])
    assert all(json.dumps(each["steps"]) in outlines for each in windows)


def test_equal_borders_move_as_one_unless_one_is_moved_alone(looking: Caller) -> None:
    together = looking.ask("TM-12", handle="border.left", steps=2)
    assert figure(together, "mat.1.border.top") == "2 7/8"  # derived: 2 3/4 + 2/16
    alone = looking.ask("TM-12", handle="border.left", steps=2, alone=True)
    sides = {each["name"]: each["value"] for each in alone["handles"] if each["name"].startswith("border")}
    assert sides == {"border.top": "2 3/4", "border.right": "2 3/4", "border.bottom": "3 1/4", "border.left": "2 7/8"}


def test_bottom_moves_by_itself_and_takes_what_its_rule_understands(looking: Caller) -> None:
    moved = looking.ask("TM-12", handle="border.bottom", steps=4)
    assert (figure(moved, "mat.1.border.bottom"), figure(moved, "mat.1.border.top")) == ("3 1/2", "2 3/4")
    ratio = looking.ask("TM-12", handle="border.bottom", text="x 4/3")
    assert figure(ratio, "mat.1.border.bottom") == "3 21/32"  # derived: 2 3/4 · 4/3 = 3 2/3, on the 1/32 grid


def test_millimetres_may_be_typed_in_a_show_in_inches(looking: Caller) -> None:
    found = looking.ask("TM-12", handle="border.top", text="89mm")
    assert handle(found, "border.top")["value"] == "3 1/2"  # derived: of 1/32 in, 3 1/2 (88.9 mm) is nearest to 89 mm
    assert found["groups"][1]["here"][0]["says"] == "border 89 mm", "the rule stays as it was typed"


def test_drag_comes_to_rest_on_the_nearest_step(looking: Caller) -> None:
    found = looking.ask("TM-12", handle="reveal.2", by_mm=1.9)
    assert handle(found, "reveal.2")["value"] == "5/16"  # derived: 1/4 + 1/16, 1.9 mm being nearer to 1 step than to 2


@pytest.mark.parametrize("text", ["3 1/", "wide", "-2", "1e9999"])
def test_what_cannot_be_read_is_refused_with_what_would_be_right(looking: Caller, text: str) -> None:
    answer = looking.client.post(f"{looking.shop.page('TM-12')}.json", json={"handle": "border.top", "text": text})
    assert answer.status_code == 422
    assert answer.json()["expected"]


def test_keeping_is_one_entry_that_says_from_what_to_what(caller: Caller) -> None:
    design = caller.design("TM-12")
    kept = caller.keep("TM-12", design["version"], handle="border.bottom", steps=4)
    assert kept["version"] == design["version"] + 1
    assert "TM-12: bottom border 3 1/4 to 3 1/2" in kept["strip"]
    here = [each for group in kept["groups"] for each in group["here"] if each["rule"] == "bottom"]
    assert here == [{"rule": "bottom", "says": "bottom 3 1/2 in", "under": "+1/2 in", "of": "double"}]


def test_way_back_gives_what_the_treatment_has(caller: Caller) -> None:
    design = caller.design("TM-12")
    kept = caller.keep("TM-12", design["version"], handle="border.bottom", steps=4)
    back = caller.keep("TM-12", kept["version"], back=["bottom"])
    assert figure(back, "mat.1.border.bottom") == figure(design, "mat.1.border.bottom")
    assert back["changes"] == design["changes"]


def test_stale_version_is_refused_and_both_are_told(caller: Caller) -> None:
    design = caller.design("TM-12")
    caller.keep("TM-12", design["version"], handle="border.top", steps=1)
    second = caller.keep("TM-12", design["version"], handle="border.top", steps=2)
    assert second["status"] == 412
    assert second["yours"]
    assert second["theirs"]["version"] == design["version"] + 1
    assert handle(caller.design("TM-12"), "border.top")["value"] == "2 13/16"


def test_what_cannot_be_made_is_not_kept(caller: Caller) -> None:
    design = caller.design("TM-12")
    refused = caller.keep("TM-12", design["version"], rules={"mats": "no such board"})
    assert refused["status"] == 422
    assert caller.design("TM-12")["version"] == design["version"]


def test_kept_design_agrees_with_the_api(caller: Caller) -> None:
    design = caller.design("TM-03")
    kept = caller.keep("TM-03", design["version"], handle="groove.1", steps=-2)
    record = caller.client.get(f"/api/v1/works/{caller.shop.works['TM-03']}").json()
    assert record["version"] == kept["version"]
    (groove,) = record["value"]["listed"]["own"]["values"]["grooves"]
    assert groove["distance"] in {12_700_000, "1/2 in"}  # derived: 5/8 - 2/16, in nanometres


def test_why_gives_terms_sum_and_reason(looking: Caller) -> None:
    at = looking.shop.page("TM-12").replace("design", "why.json")
    why = looking.client.post(at, json={"figure": "mat.1.border.bottom", "handle": "border.top", "steps": 4}).json()
    assert {each["label"]: each["value"] for each in why["terms"]}["top"] == "3", "the change in hand is in it"
    assert why["reason"]
    assert why["value"] == "3 1/2 in"


def test_form_has_every_rule_and_each_is_read_back_as_it_stands(looking: Caller) -> None:
    assert sorted(key for keys in GROUPS.values() for key in keys) == sorted(TREATMENT)
    for number in ("TM-03", "TM-12", "TM-14", "TM-24"):
        design = looking.design(number)
        said = {rule["key"]: rule["text"] for group in design["rules"]["groups"] for rule in group["rules"]}
        again = looking.ask(number, rules=said)
        assert again["faults"] == []
        assert again["front"] == design["front"]


@pytest.mark.parametrize(
    ("rules", "edge"),
    [
        ({"shape": "oval"}, "the window"),
        ({"grooves": '[{ distance = "1/2 in", shape = "oval" }]'}, "edge of a groove"),
        (
            {"lines": '[{ distance = "1/4 in", width = "1/4 in", colour = "#c9b68a", wash = true }]'},
            "edge of a ruled line",
        ),
        ({"inlay": "red 4-ply @ 1/2 in, 1/4 in wide"}, "edge of an inlay"),
    ],
)
def test_shapes_and_accents_are_typed_as_rules(looking: Caller, rules: dict[str, str], edge: str) -> None:
    found = looking.ask("TM-16" if "shape" in rules else "TM-17", rules=rules)
    assert found["faults"] == []
    assert any(each["edge"] == edge for each in found["front"]["outlines"])
    kind = next(iter(rules))
    if kind != "shape":
        assert any(each["rule"] == kind for each in found["handles"])


def test_unknown_rule_handle_and_work_are_told(looking: Caller) -> None:
    at = f"{looking.shop.page('TM-12')}.json"
    assert looking.client.post(at, json={"rules": {"bordr": "3"}}).status_code == 422
    assert looking.client.post(at, json={"handle": "border.middle", "steps": 1}).status_code == 422
    assert looking.client.post(at, json={"by_mm": "wide"}).status_code == 422
    assert looking.client.get("/works/none-such/design.json").status_code == 404


def test_picture_of_the_work_lies_in_its_place(caller: Caller) -> None:
    picture = caller.client.post(
        "/api/v1/pictures?file=a.png", content=png(), headers={"Content-Type": "application/octet-stream"}
    ).json()
    at = f"/api/v1/works/{caller.shop.works['TM-12']}"
    work = caller.client.get(at).json()
    value = {**work["value"], "pictures": [picture["value"]["hash"]]}
    kept = caller.client.put(at, json={"value": value}, headers={"If-Match": f'"{work["version"]}"'})
    assert kept.status_code == 200, kept.text
    (address,) = caller.design("TM-12")["pictures"]
    assert caller.client.get(address).headers["Content-Type"] == "image/png"
