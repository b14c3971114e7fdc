"""What knowledge rests on: counts by grade, what memory alone says, and what to trust least."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.model.statistics import GradeCount, LineTrust, StatsAnswer, ValueTrust
from advisor.reports.page import Blank, Block, Cells, Grid, Page, Part, Tone, line
from advisor.reports.wording import counted, grade_text

_FIRST = 15
_FIRST_LINES = 12


def statistics_page(answer: StatsAnswer, level: int = 1) -> Page:
    """Return the counts; from level 2 on every line of cards and every value that decides a danger."""
    blocks: list[Block] = [
        line(
            f"{counted(answer.cards, 'card')} with {counted(answer.values, 'value')}, "
            f"{counted(answer.rules, 'rule')}. Each end of a range is a value; notes are not counted."
        ),
        Blank(),
        *_grades(answer),
    ]
    if level > 0:
        blocks += [*_lines(answer, level), *_trust_least(answer, level)]
    return (*blocks, *_undecided(answer))


def _grades(answer: StatsAnswer) -> list[Block]:
    """A row for each thing that is counted, a column for each grade."""
    whole = answer.values or 1
    counts: tuple[tuple[str, Callable[[GradeCount], object]], ...] = (
        ("values of cards", lambda each: each.values),
        ("share of them", lambda each: f"{100 * each.values / whole:.0f} %"),
        ("those that are numbers", lambda each: each.numbers),
        ("cards with one or more", lambda each: each.cards),
        ("rules", lambda each: each.rules),
        ("preferences", lambda each: each.preferences),
        ("named numbers", lambda each: each.named_numbers),
        ("loose words", lambda each: each.loose_words),
        ("assumptions", lambda each: each.assumptions),
    )
    heads = _heads(("", *(grade_text(each.grade) for each in answer.grades)))
    rows = [Cells((Part(what), *(Part(str(of(each))) for each in answer.grades))) for what, of in counts]
    return [Grid((heads, *rows), (24, *[13] * 4), (1, 2, 3, 4)), Blank()]


def _lines(answer: StatsAnswer, level: int) -> list[Block]:
    shown = [each for each in answer.lines if each.dangers]
    shown = list(answer.lines) if level >= 2 else shown[:_FIRST_LINES]
    how = "LINES OF CARDS TO TRUST LEAST: mean weight of their grades times the dangers that examples decide"
    rows = [Cells((Part(each.line), *_numbers(each))) for each in shown]
    return [
        line(f"{how} with such a line ({_weights(answer)}).", Tone.HEAD),
        Grid(
            (_heads(("", "values", "memory only", "dangers", "weight")), *rows),
            (24, 8, 12, 8, 8),
            (1, 2, 3, 4),
        ),
        Blank(),
    ]


def _numbers(each: LineTrust) -> tuple[Part, ...]:
    return tuple(
        Part(text) for text in (f"{each.values}", f"{each.memory}", f"{each.dangers}", f"{each.weight:.0f}")
    )


def _trust_least(answer: StatsAnswer, level: int) -> list[Block]:
    if not answer.tanks:
        return [line("Single values are ranked by a tank: advisor rules stats DIR.", Tone.QUIET), Blank()]
    where = ", ".join(answer.tanks)
    told = (
        f"VALUES TO TRUST LEAST: weight of the grade times the dangers that rest on it, of "
        f"{answer.tank_dangers} decided in {where}. A named number counts wherever its rule decides."
    )
    shown = answer.trust_least if level >= 2 else answer.trust_least[:_FIRST]
    rows = [Cells((Part(each.name), *_value(each))) for each in shown]
    left = len(answer.trust_least) - len(shown)
    more = [line(f"and {left} more: --level 2", Tone.QUIET)] if left else []
    heads = _heads(("", "", "grade", "dangers", "weight"))
    return [line(told, Tone.HEAD), Grid((heads, *rows), (34, 12, 14, 7, 6), (3, 4)), *more, Blank()]


def _value(each: ValueTrust) -> tuple[Part, ...]:
    grade = grade_text(each.grade) or "no source"
    return Part(each.text), Part(grade), Part(str(each.dangers)), Part(f"{each.weight:.0f}")


def _undecided(answer: StatsAnswer) -> list[Block]:
    never = f"Never decided by an example: {_names(answer.never_decided)}."
    eye = f"Looked at by eye, so that no example can decide them: {_names(answer.by_eye)}."
    return [line(never, Tone.OPEN if answer.never_decided else Tone.GOOD), line(eye, Tone.QUIET)]


def _names(names: Sequence[str]) -> str:
    return ", ".join(names) or "none"


def _weights(answer: StatsAnswer) -> str:
    return ", ".join(f"{grade_text(grade)} {weight:g}" for grade, weight in answer.weights.items())


def _heads(texts: Sequence[str]) -> Cells:
    return Cells(tuple(Part(text, Tone.QUIET) for text in texts))
