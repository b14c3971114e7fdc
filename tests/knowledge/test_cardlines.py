"""Single lines of a card, in words."""

from __future__ import annotations

import pytest

from advisor.errors import Span
from advisor.knowledge.cardlines import ROWS, in_words, words_of
from advisor.language.nodes import Card, CardValue
from advisor.language.parse import parse_file

BY_LABEL = {row.label: row for row in ROWS}


def values(line: str) -> tuple[CardValue, ...]:
    parsed, problems = parse_file("odd.rules", f'edition 1\n\ncard odd "odd"\n  {line}\n')
    assert problems == ()
    card = parsed.declarations[0]
    assert isinstance(card, Card)
    return card.values


@pytest.mark.parametrize(
    ("label", "line", "text"),
    [
        ("good light", "light best 80 to 150 PAR", "80 to 150 PAR"),
        ("light it stands", "light min 50 PAR max 250 PAR", "50 to 250 PAR"),
        ("light it stands", "light max 250 PAR", "at most 250 PAR"),
        ("flow it stands", "flow min 4 cm/s", "at least 4 cm/s"),
        ("flow pattern", "flow pattern random, pulsing", "random, pulsing"),
        ("keep out of", "flow avoid direct-jet", "direct jet"),
        ("weapon", "weapon sweeper-tentacles potency 5", "sweeper tentacles, sting 5 of 5"),
        ("weapon", "weapon filaments", "filaments"),
        ("weapon", "weapon filaments reach 1 cm at-most 2 cm", ""),
        ("reach", "weapon filaments reach 1 cm at-most 2 cm", "1 cm, at most 2 cm"),
        ("stands a sting", "defence 3", "3 of 5"),
        ("kin it may touch", "contact group torch rule touch-usually", "torch: may usually touch"),
        ("kin it may touch", "contact rule gap-only", "near, not touching"),
        ("poisons the water", "toxins 2", "2 of 3"),
        ("grows", "growth form table up 2 mm/month out 6 mm/month", "table, up 2 mm/month, out 6 mm/month"),
        ("grown size", "growth mature-width 45 cm mature-height 15 cm", "45 cm wide, 15 cm high"),
        ("grown size", "growth mature-width 45 cm", "45 cm wide"),
        ("stands on", "footing rock, sand faces up shelter open", "rock, sand; faces up; shelter open"),
        ("moves", 'moves walks "at night"', "walks: at night"),
        ("opens to", "swells most 2.2 times", "2.2 times its resting width"),
        ("food", 'feeding weekly "small meaty food"', "weekly: small meaty food"),
        ("note", 'note "keep it dry"', "keep it dry"),
    ],
)
def test_a_line_reads_in_words(label: str, line: str, text: str) -> None:
    assert BY_LABEL[label].text(values(line)) == text


def test_labels_and_words_fit_a_narrow_page() -> None:
    assert len(BY_LABEL) == len(ROWS)
    assert max(len(label) for label in BY_LABEL) <= 22


def test_words_are_spoken_without_hyphens() -> None:
    assert in_words("sweeper-tentacles") == "sweeper tentacles"


def test_words_are_found_whichever_way_they_are_held() -> None:
    span = Span("x")
    assert words_of(CardValue(span, "moves", word="fixed")) == ("fixed",)
    assert words_of(CardValue(span, "footing", words=("rock", "sand"))) == ("rock", "sand")
    assert words_of(CardValue(span, "defence", number=3.0)) == ()
