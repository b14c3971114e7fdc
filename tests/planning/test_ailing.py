"""An animal that is told to do badly is named, whatever the rules find."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.planning.ailing import doing_badly, told_to_do_badly
from advisor.reports.audit import audit_page
from advisor.reports.printer import render
from tests.planning.tanks import coral, opened, spot


def candy(doing: str) -> str:
    return coral("candy-1", "candy cane", f"spot: here, size: 5 cm{doing}")


@pytest.mark.parametrize(
    ("doing", "named"),
    [(", doing: badly", ("candy-1",)), (", doing: so-so", ()), (", doing: well", ()), ("", ())],
)
def test_only_what_surely_does_badly_is_named(tmp_path: Path, doing: str, named: tuple[str, ...]) -> None:
    desk = opened(tmp_path, spots=spot("here"), corals=candy(doing))._desk
    survey = desk.survey()
    assert doing_badly(desk, survey) == named
    assert bool(told_to_do_badly(desk, survey, "candy-1")) is bool(named)


def test_audit_and_why_tell_it_in_words(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spot("here"), corals=candy(", doing: badly"))
    shown = render(audit_page(session.audit(), 0))
    assert "candy-1 is told to do badly" in shown
    assert "Nothing is known to be wrong" not in shown
    assert any("told to do badly" in note for note in session.why("candy-1").notes)
