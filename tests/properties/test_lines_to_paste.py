"""A suggested line that changes a value of a card is read back as it was, for every value of every card."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.format_house import YOUR_REASON, pasteable
from advisor.language.house_guess import number_of
from advisor.language.nodes import CardValue, HouseEdit, HouseVerb
from advisor.language.parse import parse_file
from advisor.session.opening import shipped

HEAD = "edition 1\n"


def change_of(card: str, value: CardValue) -> HouseEdit:
    """A change of one value of a card into itself."""
    words = value.words or ((value.word,) if value.word else ())
    number = number_of(value) if value.number is not None else None
    of = value.of if value.key.startswith("weapon-") else ""
    return HouseEdit(
        Span(""), HouseVerb.CHANGE_CARD, card, key=value.key, of=of, old=number, new=number,
        old_words=words if number is None else (), new_words=words if number is None else (),
    )  # fmt: skip


def test_every_change_of_a_card_that_may_be_suggested_can_be_read() -> None:
    library = shipped()
    lines = {measure.card_line for measure in library.vocabulary.measures.values()} - {""}
    edits = [
        change_of(card.name, value)
        for card in library.cards.values()
        for value in card.values
        if value.key in lines and (value.number is not None or value.words or value.word)
    ]
    assert {edit.key for edit in edits} >= {"contact-rule", "weapon-reach", "light-best-low", "hazard"}
    texts = [pasteable(edit).replace(YOUR_REASON, "seen") for edit in edits]
    file, problems = parse_file("house.rules", HEAD + "".join(f"\nhouse\n  {text}\n" for text in texts))
    assert problems == ()
    read = [item for item in file.declarations if isinstance(item, HouseEdit)]
    assert [(one.target, one.key, one.of, one.old_words, one.new_words) for one in read] == [
        (one.target, one.key, one.of, one.old_words, one.new_words) for one in edits
    ]
    for one, again in zip(edits, read, strict=True):
        assert (one.old is None) == (again.old is None)
        if one.old is not None and again.old is not None:
            assert (one.old.value, one.old.unit) == (again.old.value, again.old.unit)
