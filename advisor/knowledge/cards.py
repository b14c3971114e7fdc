"""A coral's card as an answer: its lines with source and grade, and its cautions for people."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge.cardlines import ROWS, Row, Statement, in_words, words_of
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.results import CardAnswer, CardLine, Caution
from advisor.model.vocabulary import Measure, Source, Vocabulary

ASK_THE_SELLER = ("origin-light", "seller-light", "seller-flow", "feeding", "seller-temper")
"""Measures whose question is worth asking where a coral is bought, as far as the vocabulary has them."""

_HARMLESS = frozenset({"none", "protected"})


def card_answer(name: str, library: Library, known_as: str = "") -> CardAnswer:
    """Return everything the card `name` says, one line a statement.

    Parameters
    ----------
    name
        Name of a card of `library`.
    known_as
        How the name that was asked for led to this card.

    Returns
    -------
    The card as an answer. Two statements that differ about one value stand
    one under the other, both marked disputed.

    Raises
    ------
    KeyError
        If there is no such card.
    """
    card = library.cards[name]
    lines = [line for row in ROWS for line in _lines(row, card)]
    lines += [
        CardLine(label="ask the seller", text=question)
        for question in seller_questions(library.vocabulary, card.title)
    ]
    return CardAnswer(
        card=card.name,
        title=card.title,
        known_as=known_as,
        cautions=cautions(card),
        lines=tuple(lines),
        also=card.also,
    )


def cautions(card: Card) -> tuple[Caution, ...]:
    """Return what a person must mind about this animal, in the words of its card."""
    words = {word for value in card.values if value.key == "hazard" for word in words_of(value)}
    texts = [value for value in card.values if value.key == "hazard-text"]
    if words and words <= _HARMLESS:
        return ()
    if not texts:
        return tuple(
            Caution(text=f"{card.title}: {in_words(word)}", source="", grade="")
            for word in sorted(words - _HARMLESS)
        )
    return tuple(
        Caution(text=f"{value.text}", source=_source_text(value, card), grade=_grade_text(value, card))
        for value in texts
    )


def seller_questions(vocabulary: Vocabulary, title: str) -> tuple[str, ...]:
    """Return the questions to ask a seller about the animal called `title`."""
    found = (vocabulary.measures.get(name) for name in ASK_THE_SELLER)
    return tuple(_filled(measure, title) for measure in found if measure is not None and measure.ask)


def _filled(measure: Measure, title: str) -> str:
    """Return the measure's question with the animal named in it."""
    return measure.ask.replace(f"{{{measure.params[0].name}}}", f"the {title}")


def ground_of(value: CardValue, card: Card) -> Source | None:
    """Return the source a value of a card rests on: its own line's, or the card's."""
    return value.source or card.source


def _lines(row: Row, card: Card) -> list[CardLine]:
    """Return one line for each statement of the card about the values of `row`."""
    statements = _statements(row.keys, card)
    lines = []
    for statement in statements:
        text = row.text(statement)
        if text:
            lines.append(
                CardLine(
                    label=row.label,
                    text=text,
                    grade=_grade_text(statement[0], card),
                    source=_source_text(statement[0], card),
                    disputed=_disputed(statement, statements),
                )
            )
    return lines


def _statements(keys: Iterable[str], card: Card) -> list[Statement]:
    """Return the values of these keys, those that one source says of one thing together.

    A line may go on below itself. What is said once more on a line further
    down is another statement, for sources may differ.
    """
    wanted = set(keys)
    found: list[list[CardValue]] = []
    for value in card.values:
        if value.key not in wanted:
            continue
        last = next((group for group in reversed(found) if group[0].of == value.of), None)
        if last is None or not _goes_on(last, value):
            found.append([value])
        else:
            last.append(value)
    return [tuple(values) for values in found]


def _goes_on(group: list[CardValue], value: CardValue) -> bool:
    """Whether a value belongs to what was begun above it."""
    said_above = any(each.key == value.key and each.span.line != value.span.line for each in group)
    return value.source == group[0].source and not said_above


def _disputed(statement: Statement, statements: Iterable[Statement]) -> bool:
    """Whether another statement says otherwise about one of the same values."""
    said = {(value.key, value.of): _content(value) for value in statement if value.number is not None}
    others = (value for other in statements if other is not statement for value in other)
    return any(said.get((value.key, value.of), _content(value)) != _content(value) for value in others)


def _content(value: CardValue) -> tuple[object, ...]:
    return (value.number, words_of(value), value.text)


def _source_text(value: CardValue, card: Card) -> str:
    ground = ground_of(value, card)
    return ground.text if ground else ""


def _grade_text(value: CardValue, card: Card) -> str:
    ground = ground_of(value, card)
    return ground.grade.value if ground else ""
