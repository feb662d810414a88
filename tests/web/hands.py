"""The two hands of a journey: one that points and clicks, one that has nothing but the keys.

A journey is written once and walked by both. The one of the keys comes to everything by Tab, as somebody must who
cannot point; on its way whatever it stands on has to be seen.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

MOST_STOPS = 400

WAY = """(thing) => {
  const here = document.activeElement;
  if (here === thing) return "here";
  return here.compareDocumentPosition(thing) & Node.DOCUMENT_POSITION_PRECEDING ? "Shift+Tab" : "Tab";
}"""
"""Which way something lies from what is in hand."""

UNSEEN = """() => {
  const here = document.activeElement;
  if (here === document.body) return "";
  const marked = (each) => {
    const { outlineStyle, outlineWidth } = getComputedStyle(each);
    return outlineStyle !== "none" && parseFloat(outlineWidth) > 0;
  };
  const box = here.getBoundingClientRect();
  const inside = box.right > 0 && box.left < innerWidth && box.bottom > 0 && box.top < innerHeight;
  const near = [here, ...here.querySelectorAll("*"), ...(here.labels?.[0]?.querySelectorAll("*") ?? [])];
  return inside && near.some(marked) ? "" : here.outerHTML.slice(0, 160);
}"""
"""What is in hand where it is not in sight or not marked, "" where it is."""


class Hand(ABC):
    """What somebody does at one page."""

    def __init__(self, page: Page) -> None:
        self.page = page

    @abstractmethod
    def press(self, thing: Locator) -> None:
        """Press a button, follow a link, tick a box."""

    @abstractmethod
    def reach(self, thing: Locator) -> None:
        """Take a field in hand."""

    @abstractmethod
    def leave(self) -> None:
        """Be done with the field in hand, so that it is kept."""

    @abstractmethod
    def choose(self, field: Locator, option: str) -> None:
        """Choose one of a list."""

    @abstractmethod
    def pull(self, handle: Locator, dots: float, keys: str) -> None:
        """Move a handle down by so many dots, or by these keys."""

    @abstractmethod
    def let_go(self) -> None:
        """Let go of the handle, so that where it stands is kept."""

    @abstractmethod
    def open(self, handle: Locator) -> None:
        """Have the value of a handle to type."""

    def write_at(self, handle: Locator, value: str) -> None:
        """Type the value of a handle and keep it."""
        self.open(handle)
        self.page.locator("#typed:focus").wait_for()
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(value)
        self.page.keyboard.press("Enter")

    def write(self, field: Locator, text: str) -> None:
        """Write over what a field says."""
        self.reach(field)
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)

    def paste(self, field: Locator, text: str) -> None:
        """Paste into a field."""
        self.reach(field)
        self.page.keyboard.insert_text(text)

    def give(self, field: Locator, file: Path) -> None:
        """Give a file to a field."""
        with self.page.expect_file_chooser() as asked:
            self.press(field)
        asked.value.set_files(file)


class Mouse(Hand):
    """Points and clicks."""

    def press(self, thing: Locator) -> None:
        thing.click()

    def reach(self, thing: Locator) -> None:
        thing.click()

    def leave(self) -> None:
        self.page.locator("h1").click()

    def choose(self, field: Locator, option: str) -> None:
        field.select_option(label=option)

    def pull(self, handle: Locator, dots: float, keys: str) -> None:  # noqa: ARG002
        box = handle.bounding_box()
        assert box
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x, y + dots, steps=6)

    def let_go(self) -> None:
        self.page.mouse.up()

    def open(self, handle: Locator) -> None:
        name = str(handle.get_attribute("aria-label")).split(",")[0]
        self.page.locator(f'button.label[title="Set {name.lower()}"]').click()


class Keys(Hand):
    """Has no mouse."""

    def press(self, thing: Locator) -> None:
        self.reach(thing)
        self.page.keyboard.press("Space" if thing.evaluate("(each) => each.matches('input')") else "Enter")

    def reach(self, thing: Locator) -> None:
        thing.wait_for()
        if self.page.evaluate("document.activeElement === document.body"):
            self.page.keyboard.press("Tab")  # from where the page was read last, wherever that is
        first = way = thing.evaluate(WAY)
        for _ in range(MOST_STOPS):
            if way == "here":
                return
            assert way == first, f"Tab passes over {thing}"
            self.page.keyboard.press(way)
            assert (unseen := self.page.evaluate(UNSEEN)) == "", f"in hand and not to be seen: {unseen}"
            way = thing.evaluate(WAY)
        raise AssertionError(f"{thing} is too far away")

    def leave(self) -> None:
        self.page.keyboard.press("Tab")

    def choose(self, field: Locator, option: str) -> None:
        self.reach(field)
        self.page.keyboard.press("Space")
        self.page.keyboard.type(option)
        self.page.keyboard.press("Enter")

    def pull(self, handle: Locator, dots: float, keys: str) -> None:  # noqa: ARG002
        self.reach(handle)
        for key in keys.split():
            self.page.keyboard.press(key)

    def let_go(self) -> None:
        self.page.keyboard.press("Enter")

    def open(self, handle: Locator) -> None:
        self.reach(handle)
        self.page.keyboard.press("Enter")


HANDS: tuple[Callable[[Page], Hand], ...] = (Mouse, Keys)
