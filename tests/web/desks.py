"""One person at the desk: what is pressed and read there, in the words that stand on the pages."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Locator, Page
from tests.web.design_shop import Shop
from tests.web.hands import Hand


@dataclass
class Desk:
    """The window, the hand, the shop that stands behind it and where it is served."""

    page: Page
    hand: Hand
    shop: Shop
    at: str

    def go(self, path: str) -> None:
        self.page.goto(self.at + path)

    def button(self, name: str) -> Locator:
        return self.page.get_by_role("button", name=name, exact=True)

    def link(self, name: str) -> Locator:
        return self.page.get_by_role("link", name=name, exact=True)

    def field(self, label: str) -> Locator:
        return self.page.get_by_label(label, exact=True)

    def handle(self, name: str) -> Locator:
        return self.page.locator(f'[data-handle="{name}"]')

    def says(self, words: str) -> None:
        """Wait until these words are to be seen."""
        self.page.get_by_text(words).first.wait_for()

    def kept(self, label: str) -> None:
        """Wait until the title block offers to take this back."""
        self.page.locator(f'[data-undo][title*="{label}"]').wait_for()

    def takes_back(self, label: str) -> None:
        """Press the undo of the title block and wait until the page says what it took back."""
        self.hand.press(self.page.locator("[data-undo]"))
        self.page.locator(".message", has_text=f"Taken back: {label}").wait_for()

    def shows(self, path: str, text: str) -> None:
        """Wait until a figure of the design page reads so."""
        self.page.locator(f'button.why[data-figure="{path}"]', has_text=text).wait_for()

    def design(self, number: str) -> dict[str, Any]:
        """Return what the server has kept of a design."""
        found: dict[str, Any] = self.page.request.get(f"{self.at}{self.shop.page(number)}.json").json()
        return found
