"""What was mended, told place by place."""

from __future__ import annotations

from advisor.model.fixes import FileFix, FixedPlace
from advisor.reports.fixes import fixes_page
from advisor.reports.printer import render


def place(line: int, was: str, now: str) -> FixedPlace:
    return FixedPlace(line=line, column=3, code="paste-110", was=was, now=now)


def test_each_place_is_told_once_with_how_often() -> None:
    fix = FileFix(
        file="house.rules",
        places=(place(1, "", "edition 1"), place(2, "5cm", "5 cm"), place(3, "–", "-"), place(3, "–", "-")),
    )
    assert render(fixes_page([fix])).splitlines() == [
        "FIXED  house.rules: 4 places",
        "  1     added: edition 1",
        "  2     5cm is 5 cm",
        "  3     – is - (2 times)",
    ]


def test_what_cannot_be_seen_is_put_into_words() -> None:
    fix = FileFix(file="a", places=(place(2, "\u00a0", " "), place(3, "", " ")))
    assert render(fixes_page([fix])).splitlines()[1:] == [
        "  2     a hard space is a plain one",
        "  3     a space between number and unit",
    ]


def test_what_was_left_says_why() -> None:
    fix = FileFix(file="a", places=(place(2, "“x”", '"x"'),), refused="it cannot be written to")
    assert render(fixes_page([fix])) == "LEFT   a: it cannot be written to\n"


def test_a_long_text_is_shortened() -> None:
    shown = render(fixes_page([FileFix(file="a", places=(place(2, f"“{'x' * 99}”", f'"{"x" * 99}"'),))]))
    assert max(map(len, shown.splitlines())) <= 80
    assert "“" in shown
    assert "”" in shown


def test_nothing_to_fix_is_said() -> None:
    assert render(fixes_page([])).startswith("Nothing to fix")
