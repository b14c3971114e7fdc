"""Lines of a card to fill in."""

from __future__ import annotations

from advisor.language.parse import parse_file
from advisor.rulework.blank_card import card_comments
from advisor.session.opening import shipped


def test_every_line_that_a_card_may_have_is_there_with_its_question() -> None:
    vocabulary = shipped().vocabulary
    text = " ".join(line.removeprefix("#").strip() for line in card_comments(vocabulary))
    heads = {line.split()[1] for line in card_comments(vocabulary)}
    used = {value.key for card in shipped().cards.values() for value in card.values}
    assert {key.split("-")[0] for key in used} - {"taxon", "genus", "group", "lives"} <= heads
    for measure in vocabulary.measures.values():
        if (
            measure.card_line
            and measure.params[0].kind.lives
            and measure.name not in ("taxon", "genus", "group")
        ):
            assert measure.ask.replace("{a}", "it") in text


def test_what_can_hurt_a_person_comes_first() -> None:
    assert card_comments(shipped().vocabulary)[1].startswith("# hazard")


def test_units_and_words_are_told() -> None:
    lines = card_comments(shipped().vocabulary)
    assert "# light       min … PAR  best … to … PAR  max … PAR" in lines
    assert "#   edge: one of skeleton, open" in lines
    assert "# defence     … (from 0 to 5)" in lines
    assert max(map(len, lines)) <= 98


def test_a_line_filled_in_can_be_read() -> None:
    number = {"light", "flow", "growth", "swells"}
    for line in card_comments(shipped().vocabulary):
        if line.split()[1] in number:
            told = (
                line.removeprefix("# ").replace("pattern …", "pattern random").replace("avoid …", "avoid jet")
            )
            told = told.replace("form …", "form plate").replace("…", "5")
            assert parse_file("x", f"edition 1\n\ncard x\n  {told}\n")[1] == ()
