"""Writes docs/rules.md from the rules themselves: python scripts/rules_page.py.

A test holds the page against the rules, so it cannot fall behind.
"""

from __future__ import annotations

from pathlib import Path

from fourply.bench import cut_rules, fitting, set_up_rules
from fourply.trade import opening_rules, rules, service
from fourply.working.working import Rounding, Rule

PAGE = Path(__file__).parent.parent / "docs" / "rules.md"
_HEAD = """# Every rule

Each figure names the rule that it rests on. `down`, `up` and `nearest` say how a figure is brought to the marking grid;
no word means that it stays exact. Sources: a name is that of a published standard, handbook or textbook; *common
practice* is what shops do, with no publication to point to; *derived* follows from geometry.

| rule | formula | why | source |
| --- | --- | --- | --- |
"""


def page() -> str:
    """Return the page as text."""
    found = [
        value
        for module in (rules, opening_rules, service, cut_rules, fitting, set_up_rules)
        for value in vars(module).values()
        if isinstance(value, Rule)
    ]
    lines = {rule.id: _line(rule) for rule in found if rule.formula}
    return _HEAD + "".join(lines.values())


def _line(rule: Rule) -> str:
    rounded = f", {rule.rounding.value}" if rule.rounding is not Rounding.NONE else ""
    return f"| {rule.id} | `{rule.formula}`{rounded} | {rule.reason} | {rule.source} |\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
