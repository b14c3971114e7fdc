"""Every shipped card, and how a card reads as an answer."""

from __future__ import annotations

from functools import cache

import pytest

from advisor.errors import Span
from advisor.knowledge.cards import card_answer, cards_called, cautions, seller_questions
from advisor.knowledge.load import read_rules, shipped_rules
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.language.parse import parse_file
from advisor.model.vocabulary import (
    Grade,
    Measure,
    NumberType,
    SetType,
    Source,
    Supplier,
    Vocabulary,
    WordType,
)
from advisor.units import unit_named
from tests.outside.published import cards

NEEDED = (
    *(
        "taxon",
        "genus",
        "group",
        "lives-on",
        "defence",
        "toxins",
        "hazard",
        "difficulty",
        "feeding",
        "moves",
        "edge",
    ),
    *("light-min", "light-best-low", "light-best-high", "light-max"),
    *("flow-min", "flow-best-low", "flow-best-high", "flow-max", "flow-pattern"),
    *("weapon", "weapon-reach", "weapon-at-most", "weapon-potency", "contact-group", "contact-rule"),
    *("growth-form", "growth-up", "growth-out", "growth-mature-width", "growth-mature-height", "swells-most"),
    *("footing", "footing-faces", "footing-shelter"),
)
EVERY = sorted(cards())


@cache
def vocabulary() -> Vocabulary:
    text = (shipped_rules() / "measures.rules").read_text(encoding="utf-8")
    parsed, problems = parse_file("measures.rules", text)
    assert problems == ()
    return Vocabulary({each.name: each for each in parsed.declarations if isinstance(each, Measure)})


def library() -> Library:
    return Library(vocabulary(), cards=cards())


def values(card: str, key: str) -> list[CardValue]:
    return [value for value in cards()[card].values if value.key == key]


def test_there_are_117_cards_one_a_file_each_read_without_a_fault() -> None:
    texts, problems = read_rules(shipped_rules() / "corals")
    assert problems == ()
    assert len(texts) == len(cards()) == 117
    for name, text in texts:
        parsed, faults = parse_file(name, text)
        assert faults == (), name
        found = [each for each in parsed.declarations if isinstance(each, Card)]
        assert [f"{card.name}.rules" for card in found] == [name.rsplit("/", 1)[-1]]


@pytest.mark.parametrize("card", EVERY)
def test_a_card_has_every_line_the_rules_ask_for(card: str) -> None:
    missing = [key for key in NEEDED if not values(card, key)]
    assert missing == []


@pytest.mark.parametrize("card", EVERY)
def test_a_card_lies_in_the_folder_of_its_group(card: str) -> None:
    span = cards()[card].span
    assert span.file.split("/")[0] == values(card, "group")[0].words[0]


@pytest.mark.parametrize("card", EVERY)
def test_every_value_of_a_card_has_a_ground(card: str) -> None:
    shown = cards()[card]
    assert shown.source is not None
    assert shown.source.grade is Grade.GUESS
    for value in shown.values:
        ground = value.source or shown.source
        assert ground.text


@pytest.mark.parametrize("card", EVERY)
def test_the_bands_of_a_card_are_in_order(card: str) -> None:
    for head in ("light", "flow"):
        found = [
            values(card, f"{head}-{end}")[0].number or 0 for end in ("min", "best-low", "best-high", "max")
        ]
        assert found == sorted(found)
    for reach, most in zip(values(card, "weapon-reach"), values(card, "weapon-at-most"), strict=True):
        assert (reach.number or 0) <= (most.number or 0)


@pytest.mark.parametrize("card", EVERY)
def test_every_value_fits_the_measure_it_feeds(card: str) -> None:
    by_line = {
        each.card_line: each for each in vocabulary().measures.values() if Supplier.CARD in each.suppliers
    }
    for value in cards()[card].values:
        measure = by_line.get(value.key)
        if measure is None:
            assert value.text or value.key.endswith("-text"), value.key
        elif isinstance(measure.type, NumberType):
            assert value.number is not None
            assert measure.low <= value.number <= measure.high, value
            if value.unit:
                assert unit_named(value.unit).dimension is measure.type.dimension
        elif isinstance(measure.type, WordType | SetType) and measure.type.words:
            assert set(value.words) <= set(measure.type.words), value
        else:
            assert len(value.words) == 1


def test_the_known_disagreements_are_carried_as_two_lines() -> None:
    disputed = {
        ("candy-cane", "good light"),
        ("chalice", "weapon"),
        ("cactus-pavona", "weapon"),
        ("elegance", "good flow"),
        ("wall-hammer", "reach"),
        ("branching-hammer", "reach"),
        ("gigas-clam", "good light"),
        ("maxima-clam", "good light"),
        ("crocea-clam", "good light"),
        ("bubble-tip", "good light"),
    }
    found = {
        (card, line.label) for card in EVERY for line in card_answer(card, library()).lines if line.disputed
    }
    assert found == disputed


def test_both_sides_of_a_disagreement_are_shown_with_their_sources() -> None:
    lines = [line for line in card_answer("candy-cane", library()).lines if line.label == "good light"]
    assert [line.text for line in lines] == ["80 to 160 PAR", "150 to 250 PAR"]
    assert all(line.disputed and line.source for line in lines)
    assert lines[0].source != lines[1].source


def test_a_card_reads_as_a_note_card() -> None:
    answer = card_answer("torch", library(), known_as="'torch-1' is a torch")
    lines = {line.label: line for line in answer.lines if line.label != "note"}
    assert answer.title == "torch coral"
    assert answer.known_as == "'torch-1' is a torch"
    assert lines["good light"].text == "80 to 150 PAR"
    assert lines["good light"].grade == "experience"
    assert lines["light it stands"].text == "50 to 250 PAR"
    assert lines["light it stands"].grade == "guess"
    assert lines["reach"].text == "12 cm, at most 25 cm"
    assert lines["weapon"].text == "sweeper tentacles, sting 5 of 5"
    assert lines["grown size"].text == "30 cm wide, 20 cm high"
    assert lines["opens to"].text == "2.2 times its resting width"


def questions(card: str) -> list[str]:
    return [line.text for line in card_answer(card, library()).lines if line.label == "ask the seller"]


def test_a_card_ends_with_what_to_ask_the_seller() -> None:
    lines = card_answer("torch", library()).lines
    assert questions("torch") == list(seller_questions(cards()["torch"], lines))
    assert [line.label for line in lines[-len(questions("torch")) :]] == ["ask the seller"] * 6
    assert any("PAR" in question for question in questions("torch"))
    assert "What stood within 25 cm of it, and did either suffer?" in questions("torch")


def test_what_lives_on_food_is_asked_to_be_seen_eating() -> None:
    assert any("see it eat" in question for question in questions("sun-coral"))
    assert not any("PAR" in question for question in questions("sun-coral"))


def test_what_sources_dispute_is_asked() -> None:
    assert questions("candy-cane")[-1] == "Sources disagree on its good light: what have you seen?"


def test_what_was_found_stands_apart_from_what_to_plan_with() -> None:
    lines = card_answer("torch", library()).lines
    planned = next(line for line in lines if line.label == "grows")
    found = [line for line in lines if line.topic == "found in a study"]
    assert planned.topic == "growth"
    assert [line.grade for line in found] == ["study"]
    assert "0.9 mm a month on average" in found[0].text


def test_numbers_that_can_be_drawn_come_with_their_unit() -> None:
    lines = {line.label: line for line in card_answer("torch", library()).lines}
    assert (lines["good light"].low, lines["good light"].high, lines["good light"].unit) == (80, 150, "PAR")
    assert (lines["reach"].low, lines["reach"].high, lines["reach"].unit) == (12, 25, "cm")
    assert (lines["weapon"].low, lines["weapon"].high, lines["weapon"].unit) == (5, 5, "")
    assert lines["flow pattern"].low is None


def test_a_card_several_names_lead_to_is_given_once() -> None:
    asked = (("torch", "torch-1"), ("gold torch", "torch-2"), ("no such thing", "odd-1"))
    answers, unknown = cards_called(asked, library())
    assert [(answer.card, answer.called) for answer in answers] == [("torch", ("torch-1", "torch-2"))]
    assert answers[0].known_as == "'gold torch' is another name for torch"
    assert [name for name, _ in unknown] == ["no such thing"]


@pytest.mark.parametrize("card", ["zoanthus", "palythoa", "yellow-polyps"])
def test_zoanthids_warn_of_palytoxin_unasked(card: str) -> None:
    warned = cautions(cards()[card])
    text = " ".join(caution.text for caution in warned)
    for word in ("palytoxin", "boil", "scrub", "steam", "Gloves", "eye", "medical help"):
        assert word in text
    assert warned[0].grade == "study"
    assert card_answer(card, library()).cautions == warned


@pytest.mark.parametrize("card", EVERY)
def test_whatever_can_hurt_a_person_says_so_in_a_sentence(card: str) -> None:
    words = {word for value in values(card, "hazard") for word in value.words}
    warned = cautions(cards()[card])
    assert bool(warned) == bool(words - {"none", "protected"})
    assert all(caution.text.endswith(".") and caution.source for caution in warned)


def test_a_hazard_without_a_text_is_still_told() -> None:
    span = Span("x")
    card = Card(
        span,
        "odd",
        "odd coral",
        (),
        (CardValue(span, "hazard", words=("mild-sting",)),),
        Source("us", Grade.GUESS),
    )
    assert [caution.text for caution in cautions(card)] == ["odd coral: mild sting"]


def test_an_unknown_card_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        card_answer("no-such-coral", library())
