"""Nothing from a file reaches the terminal as a command."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.reports.clean import clean, to_ascii


@pytest.mark.parametrize(
    ("given_text", "shown"),
    [
        ("plain words", "plain words"),
        ("\x1b[31mred\x1b[0m", "red"),
        ("\x1b]0;new title\x07after", "after"),
        ("\x1b]8;;http://x\x1b\\link\x1b]8;;\x1b\\", "link"),
        ("\x9b2Jgone", "gone"),
        ("a\nb\tc\rd", "a b c d"),
        ("bell\x07 null\x00", "bell null"),
        ("abc\u202edcba\u2066x\u2069", "abcdcbax"),
        ("zero\u200bwidth\ufeff", "zerowidth"),
        ("half \ud800 letter", "half ? letter"),
        ("[bold]kept[/bold]", "[bold]kept[/bold]"),
        ("珊瑚 ± µ", "珊瑚 ± µ"),
    ],
)
def test_escapes_and_hidden_marks_go(given_text: str, shown: str) -> None:
    assert clean(given_text) == shown


@given(st.text(alphabet=st.characters(codec=None)))
def test_no_control_character_survives(text: str) -> None:
    assert [c for c in clean(text) if unicodedata.category(c) in ("Cc", "Cs")] == []


@given(st.text())
def test_cleaning_twice_changes_nothing(text: str) -> None:
    assert clean(clean(text)) == clean(text)


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("118 ±12 PAR", "118 +-12 PAR"),
        ("25 °C", "25 deg C"),
        ("Größe", "Grosse"),
        ("µmol m⁻² s⁻¹", "umol m-2 s-1"),
        ("珊", "?"),
        ("“so”…", '"so"...'),
    ],
)
def test_ascii_spells_signs_out(text: str, plain: str) -> None:
    assert to_ascii(text) == plain


@given(st.text())
def test_ascii_is_ascii(text: str) -> None:
    assert to_ascii(clean(text)).isascii()
