"""What spreadsheets do to what was typed: dates out of fractions, formulas, error values.

Typed into a spreadsheet, 3/8 becomes 8 March and 5/32 becomes May 1932; exported, that reads `8-Mar` or `May-32`.
Nobody may guess such a cell back into a length, but it can be recognised, and what it was likely meant to be said.
"""

from __future__ import annotations

import re
from types import MappingProxyType

_MONTHS = MappingProxyType(
    {
        short: number
        for number, shorts in enumerate(
            (
                "jan gen ene janv",
                "feb fév fev febr févr",
                "mar mär mrz mrt mars maa",
                "apr avr abr avri",
                "may mai mei mag",
                "jun jui juin giu",
                "jul juil lug",
                "aug aoû aou ago août",
                "sep set sept",
                "oct okt ott",
                "nov",
                "dec dez déc dic",
            ),
            start=1,
        )
        for short in shorts.split()
    }
)
_YEAR = r"(?:[-\s/.,]+(?P<year>[0-9]{2,4}))?"
_DAY_MONTH = re.compile(rf"(?P<day>[0-9]{{1,2}})\.?[-\s/.]+(?P<month>[^\W\d]{{3,9}})\.?{_YEAR}")
_MONTH_DAY = re.compile(rf"(?P<month>[^\W\d]{{3,9}})\.?[-\s/.]+(?P<day>[0-9]{{1,2}}){_YEAR}")
_NUMERIC = re.compile(
    r"(?:(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})|"
    r"(?P<one>[0-9]{1,2})[/.](?P<two>[0-9]{1,2})[/.](?P<last>[0-9]{2}|[0-9]{4}))(?:[T\s]+[0-9:.]+)?"
)
_UNDERS = (2, 4, 8, 16, 32, 64)
_ERROR = re.compile(r"#(?:N/A|REF!|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!)|#{3,}")


def is_month_text(text: str) -> bool:
    """Tell whether text is a date with a month in letters, as spreadsheets show those that they made themselves.

    >>> is_month_text("8-Mar"), is_month_text("16 3/8")
    (True, False)
    """
    return _date(text) is not None and not _NUMERIC.fullmatch(text.strip())


def date_fault(text: str) -> str:
    """Return what would be right where a spreadsheet made a date of a length; empty where text is no date.

    >>> date_fault("8-Mar")
    'the spreadsheet made a date of it; it was likely 3/8: format the column as text and type it again'
    """
    date = _date(text)
    if date is None:
        return ""
    likely = _meant(*date)
    guess = f"; it was likely {likely}" if likely else ""
    return f"the spreadsheet made a date of it{guess}: format the column as text and type it again"


def dead_cell(text: str) -> str:
    """Return what would be right where a cell holds a formula or an error value; empty where it holds neither.

    >>> dead_cell("=B4*2")
    'a formula without its result: copy the cell and paste its value'
    """
    if text.startswith("="):
        return "a formula without its result: copy the cell and paste its value"
    if _ERROR.fullmatch(text.strip()):
        return "the spreadsheet could not work out this cell: type its value"
    return ""


def _date(text: str) -> tuple[int, int, int] | None:
    """Return year (0 where none stands), month and day."""
    if len(text) > 40:
        return None
    text = text.strip()
    found = _DAY_MONTH.fullmatch(text) or _MONTH_DAY.fullmatch(text)
    if found:
        month = _MONTHS.get(found["month"].lower()) or _MONTHS.get(found["month"].lower()[:3])
        return (int(found["year"] or 0), month, int(found["day"])) if month else None
    found = _NUMERIC.fullmatch(text)
    if found is None:
        return None
    if found["year"]:
        return int(found["year"]), int(found["month"]), int(found["day"])
    return int(found["last"]), int(found["one"]), int(found["two"])


def _meant(year: int, month: int, day: int) -> str:
    """Return the length whose typing makes this date, empty where none comes to mind."""
    under = year % 100
    if day == 1 and under in {32, 64}:
        return f"{month}/{under}"  # 5/32 is taken for May 1932
    if year and under in _UNDERS and year < 2017 and day < under:
        return f"{month}-{day}/{under}"  # 5-1/2 is taken for 1 May 2002
    if day in {32, 64}:
        return f"{month}/{day}"  # shown as May-32
    over, under = sorted((month, day))
    return f"{over}/{under}" if under in _UNDERS and over < under else ""
