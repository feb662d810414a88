"""The words of the trade by region."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.working.terms import Terms, differs

TEXTS = st.lists(
    st.sampled_from(
        ["mat", "Mats", "under-mat", "mount board", "rabbet", "matted", "window", "mat.1.border", " ", ", "]
    )
    | st.text(max_size=6)
).map("".join)


@given(TEXTS)
def test_in_the_terms_that_it_thinks_in_nothing_is_changed(text: str) -> None:
    assert Terms.MAT.say(text) == text


@given(TEXTS)
def test_said_twice_is_said_once(text: str) -> None:
    once = Terms.MOUNT.say(text)
    assert Terms.MOUNT.say(once) == once
    assert not differs(once)


@given(TEXTS, TEXTS)
def test_what_is_kept_stands_as_it_was_typed(before: str, typed: str) -> None:
    assert typed in Terms.MOUNT.say(f"{before} “{typed}”", [typed])


@pytest.mark.parametrize(
    ("text", "said"),
    [  # common practice: a framer's mat and rabbet are a mount and a rebate in Britain
        ("Cut the mats, then the under-mats.", "Cut the mounts, then the inner mounts."),
        ("MAT BOARD", "Mountboard"),
        ("The mount board lies behind the mat", "The undermount lies behind the mount"),
        ("matte, format, mats/", "matte, format, mats/"),
        ("see mat.1.border.top and docs/mat", "see mat.1.border.top and docs/mat"),
    ],
)
def test_words(text: str, said: str) -> None:
    assert Terms.MOUNT.say(text) == said


def test_every_word_has_its_other() -> None:
    assert not re.search(r"\b(mats?|rabbets?|matted)\b", Terms.MOUNT.say("mat mats matted rabbet rabbets"))
