"""What shipped knowledge rests on, counted: grades, memory, what no example decides, what to trust least."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from advisor.errors import Span
from advisor.knowledge.cards import ground_of
from advisor.language.library import Library
from advisor.language.nodes import CardValue, Let, Level
from advisor.language.walk import conditions, names_used
from advisor.model.statistics import GradeCount, LineTrust, StatsAnswer, ValueTrust
from advisor.model.vocabulary import Grade, Source
from advisor.rulework.desks import desk_with, tank_read
from advisor.rulework.trusting import Decisions, decisions_of
from advisor.session.opening import library_in_force, usable
from advisor.units import PLAIN, format_quantity, unit_named

WEIGHTS = {Grade.GUESS: 4.0, Grade.EXPERIENCE: 3.0, Grade.MAKER: 2.0, Grade.STUDY: 1.0}
"""How much less each grade is trusted: an order, not a measurement."""


def rule_statistics(
    tanks: Sequence[Path] = (),
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date,
) -> StatsAnswer:
    """Return what the cards and rules in force rest on.

    Parameters
    ----------
    tanks
        Tank folders whose dangers are counted: a value is trusted less, the more of them rest on it.
    house
        House files laid over the rules.
    on
        The day the tanks are looked at and the house lines must count on.

    Raises
    ------
    UnusableInput
        If a rule file or a tank has an error.
    """
    library = usable(*library_in_force(rules, house, on))
    found = decisions_of(library, (desk_with(tank_read(folder, library), library, on) for folder in tanks))
    valued = [(name, value, grade) for name, value, grade in _values(library)]
    speaking = {**library.rules, **library.prefers}
    by_eye = tuple(sorted(name for name, rule in library.rules.items() if rule.expect is None))
    return StatsAnswer(
        cards=len(library.cards),
        values=len(valued),
        rules=len(library.rules),
        grades=tuple(_grade(grade, library, valued) for grade in Grade),
        weights={grade.value: weight for grade, weight in WEIGHTS.items()},
        lines=_lines(valued, found),
        trust_least=tuple(sorted((*_card_values(library, found), *_lets(library, found)), key=_least_first)),
        tanks=tuple(folder.name for folder in tanks),
        tank_dangers=found.tank_rules.total(),
        never_decided=tuple(
            sorted(name for name in speaking if name not in by_eye and not found.rules[name])
        ),
        by_eye=by_eye,
    )


_NAMES = ("taxon", "genus")
"""Lines that name an animal; nothing is reckoned with them."""

Valued = tuple[str, CardValue, Grade | None]
"""The name of a card, one of its values, and the grade of its ground."""


def _values(library: Library) -> Iterable[Valued]:
    """Every value of every card that can be reckoned with."""
    for card in library.cards.values():
        for value in card.values:
            if (
                value.key not in _NAMES
                and not value.text
                and (value.number is not None or value.words or value.word)
            ):
                ground = ground_of(value, card)
                yield card.name, value, ground.grade if ground is not None else None


def _grade(grade: Grade, library: Library, valued: Sequence[Valued]) -> GradeCount:
    own = [(name, value) for name, value, found in valued if found is grade]
    vocabulary = library.vocabulary
    return GradeCount(
        grade=grade.value,
        values=len(own),
        numbers=sum(value.number is not None for _, value in own),
        cards=len({name for name, _ in own}),
        rules=_of_grade(grade, (rule.source for rule in library.rules.values())),
        preferences=_of_grade(grade, (prefer.source for prefer in library.prefers.values())),
        named_numbers=_of_grade(grade, (let.source for let in library.lets.values())),
        loose_words=_of_grade(grade, (word.source for word in library.words)),
        assumptions=sum(
            each.grade is grade for measure in vocabulary.measures.values() for each in measure.assumptions
        ),
    )


def _of_grade(grade: Grade, sources: Iterable[Source | None]) -> int:
    return sum(source is not None and source.grade is grade for source in sources)


def _lines(valued: Sequence[Valued], found: Decisions) -> tuple[LineTrust, ...]:
    """Each kind of line of cards, the least to be trusted first."""
    grades: dict[str, Counter[Grade | None]] = {}
    for _, value, grade in valued:
        grades.setdefault(value.key, Counter())[grade] += 1
    lines = [
        LineTrust(
            line=key.replace("-", " "),
            values=counted.total(),
            memory=counted[Grade.GUESS] + counted[None],
            dangers=found.lines[key],
            weight=round(_mean_weight(counted) * found.lines[key], 2),
        )
        for key, counted in grades.items()
    ]
    return tuple(sorted(lines, key=lambda each: (-each.weight, -each.memory, each.line)))


def _mean_weight(counted: Counter[Grade | None]) -> float:
    """The mean weight of some grades; what has no source is trusted like a guess."""
    total = sum(WEIGHTS[grade or Grade.GUESS] * number for grade, number in counted.items())
    return total / counted.total()


def _card_values(library: Library, found: Decisions) -> Iterable[ValueTrust]:
    """Every value of a card that a danger in a tank rests on."""
    for card in library.cards.values():
        for value in card.values:
            dangers = found.values[value.span]
            if not dangers or value.text:
                continue
            ground = ground_of(value, card)
            name = f"{card.name}: {value.key.replace('-', ' ')}"
            yield _trust(name, _text(value), ground, value.span, dangers)


def _lets(library: Library, found: Decisions) -> Iterable[ValueTrust]:
    """Every named number of a danger, which counts wherever the rule decides."""
    dangers: Counter[str] = Counter()
    for name, rule in library.rules.items():
        if rule.level is Level.DANGER:
            for let in names_used(conditions(rule), library.defines) & library.lets.keys():
                dangers[let] += found.tank_rules[name]
    for name, count in dangers.items():
        if count:
            yield _let(library.lets[name], count)


def _let(let: Let, dangers: int) -> ValueTrust:
    text = f"{let.value.value:g} {let.value.unit}".rstrip()
    return _trust(f"number {let.name}", text, let.source, let.span, dangers)


def _trust(name: str, text: str, source: Source | None, span: Span, dangers: int) -> ValueTrust:
    grade = source.grade if source is not None else Grade.GUESS
    return ValueTrust(
        name=name,
        text=text,
        grade=grade.value if source is not None else "",
        source=source.text if source is not None else "",
        file=span.file,
        line=span.line,
        dangers=dangers,
        weight=WEIGHTS[grade] * dangers,
    )


def _least_first(value: ValueTrust) -> tuple[float, float, str]:
    return -value.weight, -WEIGHTS[Grade(value.grade or "guess")], value.name


def _text(value: CardValue) -> str:
    if value.number is None:
        return ", ".join(value.words or (value.word,))
    return format_quantity(value.number, unit_named(value.unit) if value.unit else PLAIN)
