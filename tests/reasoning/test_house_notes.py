"""What the house changed is told where it is read, with its reason and its days."""

from __future__ import annotations

from pathlib import Path

from advisor.model.results import Reason, Step
from advisor.reasoning.house_notes import days_text, edit_words
from tests.language.house_lines import edit
from tests.planning.tanks import opened
from tests.planning.test_accepts import CORALS, spots

LET = 'change room-allowance from 2 cm to 4 cm because "mine swell" until 2027-06-01'


def test_a_line_in_words_without_its_reason() -> None:
    line = edit(LET)
    assert edit_words(line) == "room-allowance from 2 cm to 4 cm"
    assert "211 days left" in days_text(line, "2026-11-02")
    assert days_text(edit('change room-allowance from 2 cm to 4 cm because "x"'), "2026-11-02") == ""


def test_only_reasons_that_read_a_changed_number_say_so(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("30 cm"), corals=CORALS, house=f"house\n  {LET}\n")
    reasons = {reason.rule: reason for reason in session.why("torch-1", level=4).place.reasons}
    changed = {name for name, reason in reasons.items() if reason.house}
    assert "room-for-reach-and-growth" in changed
    assert "not-too-bright" not in changed
    (note,) = reasons["room-for-reach-and-growth"].house
    assert "mine swell" in note
    assert "2 cm to 4 cm" in note


def told_at(step: Step) -> list[str]:
    """Return the texts of the steps at which a house change is told."""
    own = [step.text] if step.house else []
    return own + [text for each in step.inputs for text in told_at(each)]


def test_the_step_that_reads_it_says_so_too(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("30 cm"), corals=CORALS, house=f"house\n  {LET}\n")
    found: list[Reason] = [
        reason
        for reason in session.why("torch-1", level=4).place.reasons
        if reason.rule == "room-for-reach-and-growth"
    ]
    assert found[0].step is not None
    assert any("room-allowance" in text for text in told_at(found[0].step))
