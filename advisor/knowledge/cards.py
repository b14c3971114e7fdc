"""A coral's card as an answer: its lines with source and grade, and its cautions for people."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge.cardlines import ROWS, Row, Statement, ends_of, in_words, words_of
from advisor.knowledge.names import find_card
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.results import CardAnswer, CardLine, Caution
from advisor.model.vocabulary import Grade, Source

_HARMLESS = frozenset({"none", "protected"})
_FOUND = "found in a study"
"""Label and part of the lines that tell what was measured, apart from what to plan with."""
_PALYTOXIN = "palytoxin"
_UNNAMED = "No card says what this is, so it counts as a zoanthid until you know."
_FAR_CM = 5.0
"""From this reach on a seller is asked what stood near. [cm]"""


def card_answer(
    name: str, library: Library, known_as: str = "", called: tuple[str, ...] = (), alone: str = ""
) -> CardAnswer:
    """Return everything the card `name` says, one line a statement.

    Parameters
    ----------
    name
        Name of a card of `library`.
    known_as
        How the name that was asked for led to this card.
    called
        What was asked for: names, or ids of animals in a tank.
    alone
        The animal whose own values count, where the house changes the card for it alone.

    Returns
    -------
    The card as an answer. Two statements that differ about one value stand
    one under the other, both marked disputed.

    Raises
    ------
    KeyError
        If there is no such card.
    """
    card = library.alone.get(alone, {}).get(name, library.cards[name])
    lines = [line for row in ROWS for line in _lines(row, card)]
    lines.sort(key=_part)
    questions = seller_questions(card, lines)
    lines += [CardLine(label="ask the seller", text=text, topic="ask the seller") for text in questions]
    return CardAnswer(
        card=card.name,
        title=card.title,
        called=called,
        taxon=_first_word(card, "taxon"),
        group=_first_word(card, "group"),
        known_as=known_as,
        cautions=cautions(card),
        lines=tuple(lines),
        also=card.also,
    )


def cards_called(
    asked: Iterable[tuple[str, str]], library: Library
) -> tuple[list[CardAnswer], list[tuple[str, tuple[str, ...]]]]:
    """Return a card for each name, each card once, and the names that mean none.

    Parameters
    ----------
    asked
        A name, and what it is called in a tank; the name again where it is in none.
    library
        The checked rule files.

    Returns
    -------
    The cards in the order asked for, one that the house changes for an animal alone apart; then
    each unknown name with the cards nearest to it.
    """
    called: dict[tuple[str, str], dict[str, None]] = {}
    known_as: dict[tuple[str, str], dict[str, None]] = {}
    unknown: list[tuple[str, tuple[str, ...]]] = []
    for name, own in asked:
        match = find_card(name, library)
        if not match.cards:
            unknown.append((name, match.candidates))
        for card in match.cards:
            key = card, own if card in library.alone.get(own, {}) else ""
            called.setdefault(key, {}).setdefault(own)
            known_as.setdefault(key, {}).setdefault(match.how)
    answers = [
        card_answer(card, library, "; ".join(filter(None, known_as[card, alone])), tuple(names), alone)
        for (card, alone), names in called.items()
    ]
    return answers, unknown


def _part(line: CardLine) -> int:
    """What to plan with stands first, then what was found, then notes."""
    return 2 if line.label == "note" else int(line.topic == _FOUND)


def _first_word(card: Card, key: str) -> str:
    """The first word a card gives for `key`."""
    return next((word for value in card.values if value.key == key for word in words_of(value)), "")


def hazards(card: Card) -> frozenset[str]:
    """Return the words a card gives for what can hurt a person."""
    return frozenset(word for value in card.values if value.key == "hazard" for word in words_of(value))


def cautions(card: Card) -> tuple[Caution, ...]:
    """Return what a person must mind about this animal, in the words of its card."""
    words = hazards(card)
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


def cautions_of_unnamed(library: Library) -> tuple[Caution, ...]:
    """Return what a person must mind with an animal nobody can name: the shipped words about palytoxin."""
    own = set(library.own_cards)
    cards = [card for name, card in sorted(library.cards.items()) if name not in own]
    told = next((cautions(card)[0] for card in cards if _PALYTOXIN in hazards(card)), None)
    if told is None:
        return (Caution(text=_UNNAMED, source="", grade=""),)
    return (told.model_copy(update={"text": f"{_UNNAMED} {told.text}"}),)


def unnamed_answer(name: str, own: str, library: Library, near: tuple[str, ...] = ()) -> CardAnswer:
    """Return what stands in place of a card for an animal that has none: its caution, and what to ask.

    Parameters
    ----------
    name, own
        What it is said to be, and what it is called in the tank.
    library
        The checked rule files.
    near
        Cards with names like it.
    """
    which = f"; did you mean {', '.join(near[:4])}?" if near else ""
    question = "What is it, by its scientific name, and has anybody looked whether it is a zoanthid?"
    return CardAnswer(
        card="",
        title=own,
        called=(own,),
        known_as=f"I have no card called '{name}'{which}",
        cautions=cautions_of_unnamed(library),
        lines=(CardLine(label="ask the seller", text=question, topic="ask the seller"),),
    )


def seller_questions(card: Card, lines: Iterable[CardLine]) -> tuple[str, ...]:
    """Return what to ask whoever sells the animal of a card, what sources dispute last.

    Parameters
    ----------
    card
        The card; an animal that lives on food, stings far or is taken wild is asked about more.
    lines
        The lines of the card, as they are shown.
    """
    shown = tuple(lines)
    lives_on = {word for value in card.values if value.key == "lives-on" for word in words_of(value)}
    reach_cm = max((line.high or 0.0 for line in shown if line.topic == "reach"), default=0.0)
    asked = [
        "How many PAR did it stand in, and for how long?" if "light" in lives_on or not lives_on
        else "Was it shaded, and does it open by day?",
        "How far from the pump, and did its polyps sway or bend?",
        "What is it fed, and how often?" if "food" not in lives_on
        else "What is it fed, how often, and may I see it eat?",
        "Wild, farmed at sea or grown in a tank, and how long here?",
        "Was it dipped, with what and when, and were any pests seen?",
    ]  # fmt: skip
    if reach_cm >= _FAR_CM:
        asked.append(f"What stood within {reach_cm:g} cm of it, and did either suffer?")
    labels = dict.fromkeys(line.label for line in shown if line.disputed)
    asked += [f"Sources disagree on its {label}: what have you seen?" for label in labels]
    return tuple(asked)


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
            low, high, unit = ends_of(row, statement)
            grade = _grade_text(statement[0], card)
            lines.append(
                CardLine(
                    label=_label(row, grade),
                    text=text,
                    topic=_FOUND if _found_in_a_study(row, grade) else row.topic,
                    grade=grade,
                    source=_source_text(statement[0], card),
                    disputed=_disputed(statement, statements),
                    low=low,
                    high=high,
                    unit=unit,
                )
            )
    return lines


def _found_in_a_study(row: Row, grade: str) -> bool:
    """Whether a line tells what was found, not what to plan with."""
    return row.label == "note" and grade == Grade.STUDY.value


def _label(row: Row, grade: str) -> str:
    return _FOUND if _found_in_a_study(row, grade) else row.label


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
    line = value.span.file, value.span.line
    if any(each.key == value.key and (each.span.file, each.span.line) != line for each in group):
        return False
    return value.source == group[0].source or line == (group[-1].span.file, group[-1].span.line)


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
