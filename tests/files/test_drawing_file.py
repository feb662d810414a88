"""The path in an SVG drawing: which one is taken, what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadFile
from fourply.files.drawing_file import MOST_BYTES, path_in

D = "M0 0 H8 V6 Z"


def svg(inside: str, head: str = "", root: str = "") -> bytes:
    return f'{head}<svg xmlns="http://www.w3.org/2000/svg" {root}>{inside}</svg>'.encode()


PATH = f'<path d="{D}"/>'


@pytest.mark.parametrize(
    "data",
    [
        svg(PATH),
        svg(PATH + '<path d="M9 9"/>'),
        svg(f"<g><g>{PATH}</g></g>"),
        svg('<defs><clipPath><path d="M1 1"/></clipPath><path d="M2 2"/></defs>' + PATH),
        svg(f'<g transform="translate(3,4)">{PATH}</g>'),
        svg(f'<g transform="translate(3) scale(2) scale(.5, 0.5)">{PATH}</g>'),
        svg(f'<g transform="matrix(2 0 0 2 -10 7)">{PATH}</g>'),
        svg('<g transform="rotate(9)"><rect/></g>' + PATH),
        svg(PATH, '<?xml version="1.0" encoding="UTF-8"?>'),
        svg(PATH, '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'),
        svg(PATH, root='preserveAspectRatio="xMidYMid meet" viewBox="0 0 9 9"'),
        f"<svg>{PATH}</svg>".encode(),
    ],
)
def test_the_first_path_that_is_drawn_is_taken(data: bytes) -> None:
    assert path_in("a.svg", data) == D


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "XML that is broken"),
        (b"\x1f\x8b packed", "XML that is broken"),
        (b"<svg>", "XML that is broken"),
        (b"<html><svg/></html>", "a file of html"),
        (svg("<rect/>"), "without a path"),
        (svg(f"<defs>{PATH}</defs>"), "without a path"),
        (svg(f'<g transform="rotate(45)">{PATH}</g>'), "only moves and even scaling"),
        (svg(f'<g transform="scale(2 1)">{PATH}</g>'), "under transform scale(2 1)"),
        (svg(f'<g transform="scale(-1)">{PATH}</g>'), "only moves and even scaling"),
        (svg(f'<g transform="matrix(0 1 -1 0 0 0)">{PATH}</g>'), "only moves and even scaling"),
        (svg(f'<g transform="translate(a)">{PATH}</g>'), "only moves and even scaling"),
        (svg(f'<g transform="translate(1 2 3)">{PATH}</g>'), "only moves and even scaling"),
        (svg(f'<path transform="skewX(3)" d="{D}"/>'), "only moves and even scaling"),
        (svg(f'<g style="fill:none; transform: rotate(3deg)">{PATH}</g>'), "a transform in a style"),
        (svg(PATH, root='preserveAspectRatio="none" viewBox="0 0 9 9"'), "preserveAspectRatio"),
        (svg(PATH, '<!DOCTYPE svg [<!ENTITY a "b">]>'), "with entities"),
        (svg(PATH, "<!DOCTYPE svg [<!ELEMENT a ANY>]>"), "with entities"),
        (svg(f"&a;{PATH}", '<!DOCTYPE svg SYSTEM "a.dtd">'), "with entities"),
        (svg("<g>" * 200 + PATH + "</g>" * 200), "nested too deep"),
        (svg(" " * MOST_BYTES), "a drawing of"),
        (svg(PATH, '<?xml version="1.0" encoding="klingon"?>'), "XML that is broken"),
    ],
)
def test_what_cannot_be_followed_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(BadFile) as refused:
        path_in("a.svg", data)
    assert says in str(refused.value)
    assert str(refused.value).startswith("a.svg: ")


PIECES = st.sampled_from(
    [
        *(
            "<svg>",
            "</svg>",
            "<g>",
            "</g>",
            PATH,
            "<path/>",
            '<g transform="scale(1',
            '2)">',
            "<!DOCTYPE svg",
            "[",
            "]>",
        ),
        *('<!ENTITY a "b">', "&a;", "<defs>", "</defs>", "<!--", "-->", '<?xml version="1.0" encoding="', 'utf-16"?>'),
    ]
)


@given(st.binary(max_size=200) | st.lists(PIECES, max_size=12).map(lambda pieces: "".join(pieces).encode()))
def test_any_bytes_as_a_drawing(data: bytes) -> None:
    try:
        found = path_in("a.svg", data)
    except BadFile:
        return
    assert isinstance(found, str)
