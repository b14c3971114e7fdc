"""A coral's card as an answer: its lines with source and grade, and its cautions for people."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.results import CardAnswer, CardLine, Caution
from advisor.model.vocabulary import Measure, Source, Vocabulary
from advisor.units import PLAIN, from_base, format_number, format_quantity, unit_named

ASK_THE_SELLER = ("origin-light", "seller-light", "seller-flow", "feeding", "seller-temper")
"""Measures whose question is worth asking where a coral is bought, as far as the vocabulary has them."""

_HARMLESS = frozenset({"none", "protected"})
_Statement = tuple[CardValue, ...]


@dataclass(frozen=True, slots=True)
class _Row:
    """One kind of line of a note card: which values it joins and how they read."""

    label: str
    keys: tuple[str, ...]
    text: Callable[[_Statement], str]


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
    lines = [line for row in _ROWS for line in _lines(row, card)]
    lines += [CardLine(label="ask the seller", text=question)
              for question in seller_questions(library.vocabulary, card.title)]
    return CardAnswer(card=card.name, title=card.title, known_as=known_as, cautions=cautions(card),
                      lines=tuple(lines), also=card.also)


def cautions(card: Card) -> tuple[Caution, ...]:
    """Return what a person must mind about this animal, in the words of its card."""
    words = {word for value in card.values if value.key == "hazard" for word in _words(value)}
    texts = [value for value in card.values if value.key == "hazard-text"]
    if words and words <= _HARMLESS:
        return ()
    if not texts:
        return tuple(Caution(text=f"{card.title}: {_plain(word)}", source="", grade="")
                     for word in sorted(words - _HARMLESS))
    return tuple(Caution(text=f"{value.text}", source=_source_text(value, card), grade=_grade_text(value, card))
                 for value in texts)


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


def _lines(row: _Row, card: Card) -> list[CardLine]:
    """Return one line for each statement of the card about the values of `row`."""
    statements = _statements(row.keys, card)
    lines = []
    for statement in statements:
        text = row.text(statement)
        if text:
            lines.append(CardLine(label=row.label, text=text, grade=_grade_text(statement[0], card),
                                  source=_source_text(statement[0], card),
                                  disputed=_disputed(statement, statements)))
    return lines


def _statements(keys: Iterable[str], card: Card) -> list[_Statement]:
    """Return the values of these keys, those written on one line together."""
    wanted = set(keys)
    by_line: dict[tuple[int, str], list[CardValue]] = {}
    for value in card.values:
        if value.key in wanted:
            by_line.setdefault((value.span.line, value.of), []).append(value)
    return [tuple(values) for values in by_line.values()]


def _disputed(statement: _Statement, statements: Iterable[_Statement]) -> bool:
    """Whether another statement says otherwise about one of the same values."""
    said = {(value.key, value.of): _content(value) for value in statement if value.number is not None}
    others = (value for other in statements if other is not statement for value in other)
    return any(said.get((value.key, value.of), _content(value)) != _content(value) for value in others)


def _content(value: CardValue) -> tuple[object, ...]:
    return (value.number, _words(value), value.text)


def _words(value: CardValue) -> tuple[str, ...]:
    return value.words or ((value.word,) if value.word else ())


def _source_text(value: CardValue, card: Card) -> str:
    ground = ground_of(value, card)
    return ground.text if ground else ""


def _grade_text(value: CardValue, card: Card) -> str:
    ground = ground_of(value, card)
    return ground.grade.value if ground else ""


# --- how the lines read ---------------------------------------------------------


def _find(statement: _Statement, key: str) -> CardValue | None:
    return next((value for value in statement if value.key == key), None)


def _number(statement: _Statement, key: str) -> str:
    """Return one number with its unit, or nothing."""
    value = _find(statement, key)
    if value is None or value.number is None:
        return ""
    return format_quantity(value.number, unit_named(value.unit) if value.unit else PLAIN)


def _plain(word: str) -> str:
    return word.replace("-", " ")


def _listed(statement: _Statement, key: str) -> str:
    return ", ".join(_plain(word) for value in statement if value.key == key for word in _words(value))


def _text(statement: _Statement, key: str) -> str:
    return " ".join(value.text for value in statement if value.key == key and value.text)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _prefixed(prefix: str, text: str) -> str:
    return f"{prefix} {text}" if text else ""


def _band(low: str, high: str) -> Callable[[_Statement], str]:
    """Return a reader of two ends of a band: ``80 to 150 PAR``."""
    def read(statement: _Statement) -> str:
        first, last = _find(statement, low), _find(statement, high)
        if first is None or last is None or first.number is None or last.number is None:
            return _joined(_prefixed("at least", _number(statement, low)), _prefixed("at most", _number(statement, high)))
        unit = unit_named(last.unit) if last.unit else PLAIN
        return f"{format_number(from_base(first.number, unit))} to {_number(statement, high)}"
    return read


def _ranked(key: str, top: int) -> Callable[[_Statement], str]:
    """Return a reader of a rank: ``3 of 5``."""
    return lambda statement: f"{_number(statement, key)} of {top}" if _number(statement, key) else ""


def _worded(key: str) -> Callable[[_Statement], str]:
    """Return a reader of words and the text that goes with them."""
    return lambda statement: ": ".join(part for part in (_listed(statement, key), _text(statement, f"{key}-text"))
                                       if part)


def _weapon(statement: _Statement) -> str:
    strength = _number(statement, "weapon-potency")
    name = _listed(statement, "weapon")
    reach_only = not strength and any(value.key != "weapon" for value in statement)
    return "" if reach_only else _joined(name or _plain(statement[0].of), strength and f"strength {strength} of 5")


def _reach(statement: _Statement) -> str:
    usual, most = _number(statement, "weapon-reach"), _number(statement, "weapon-at-most")
    return _joined(usual, _prefixed("at most", most))


def _growth(statement: _Statement) -> str:
    return _joined(_listed(statement, "growth-form"), _prefixed("up", _number(statement, "growth-up")),
                   _prefixed("out", _number(statement, "growth-out")))


def _size(statement: _Statement) -> str:
    wide, high = _number(statement, "growth-mature-width"), _number(statement, "growth-mature-height")
    return _joined(wide and f"{wide} wide", high and f"{high} high")


def _footing(statement: _Statement) -> str:
    return "; ".join(part for part in (_listed(statement, "footing"),
                                       _prefixed("faces", _listed(statement, "footing-faces")),
                                       _prefixed("shelter", _listed(statement, "footing-shelter"))) if part)


def _kin(statement: _Statement) -> str:
    return _joined(_listed(statement, "contact-group"), _listed(statement, "contact-rule"))


def _opens(statement: _Statement) -> str:
    times = _number(statement, "swells-most")
    return times and f"{times} its resting width"


_ROWS: tuple[_Row, ...] = (
    _Row("good light", ("light-best-low", "light-best-high"), _band("light-best-low", "light-best-high")),
    _Row("light it stands", ("light-min", "light-max"), _band("light-min", "light-max")),
    _Row("good flow", ("flow-best-low", "flow-best-high"), _band("flow-best-low", "flow-best-high")),
    _Row("flow it stands", ("flow-min", "flow-max"), _band("flow-min", "flow-max")),
    _Row("flow pattern", ("flow-pattern",), _worded("flow-pattern")),
    _Row("keep out of", ("flow-avoid",), _worded("flow-avoid")),
    _Row("weapon", ("weapon", "weapon-potency", "weapon-reach", "weapon-at-most"), _weapon),
    _Row("reach", ("weapon-reach", "weapon-at-most"), _reach),
    _Row("stands a sting", ("defence",), _ranked("defence", 5)),
    _Row("kin it may touch", ("contact-group", "contact-rule"), _kin),
    _Row("poisons the water", ("toxins",), _ranked("toxins", 3)),
    _Row("grows", ("growth-form", "growth-up", "growth-out"), _growth),
    _Row("grown size", ("growth-mature-width", "growth-mature-height"), _size),
    _Row("stands on", ("footing", "footing-faces", "footing-shelter"), _footing),
    _Row("moves", ("moves", "moves-text"), _worded("moves")),
    _Row("opens to", ("swells-most",), _opens),
    _Row("lives on", ("lives-on",), _worded("lives-on")),
    _Row("food", ("feeding", "feeding-text"), _worded("feeding")),
    _Row("people", ("hazard",), _worded("hazard")),
    _Row("difficulty", ("difficulty",), _ranked("difficulty", 5)),
    _Row("note", ("note-text",), lambda statement: _text(statement, "note-text")),
)
