"""Examples and house edits as the formatter prints them."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.language.format_clause import Clause, at, clause
from advisor.language.format_expr import (
    WIDTH,
    band,
    digits,
    expression,
    literal,
    whole,
    wrap,
)
from advisor.language.format_house import edit_text
from advisor.language.nodes import (
    Call,
    Example,
    Given,
    HouseEdit,
    Name,
    Outcome,
    Then,
)


def example_clauses(item: Example, most: int = WIDTH) -> list[Clause]:
    """Return one case as clauses, no line longer than so many letters where it can be broken."""
    found = [Clause(wrap(f"example {whole(item.title)} ", f"for {item.rule}", 4, most), *at(item.span))]
    word = "given"
    for text, given in _givens(item.givens):
        found.append(clause(word, text, given.span, 6, most))
        word = ""
    word = "then"
    for then in item.thens:
        found.append(clause(word, then_text(then), then.span, 6, most))
        word = ""
    return found


def given_lines(item: Example) -> list[str]:
    """Return each given of a case as it is written."""
    return [text for text, _ in _givens(item.givens)]


def _givens(givens: tuple[Given, ...]) -> Iterable[tuple[str, Given]]:
    """The lines of a given; what was written with a thing stays with it."""
    index = 0
    while index < len(givens):
        first = givens[index]
        index += 1
        if first.kind is None:
            yield _fact(first), first
            continue
        text = f"{first.entity} is {first.kind.value}" + (f" of {first.of}" if first.of else "")
        with_it: list[str] = []
        while index < len(givens) and _written_with(givens[index], first.entity):
            fact = givens[index]
            assert fact.fact is not None
            with_it.append(f"{fact.fact.name} = {_value(fact)}")
            index += 1
        yield text + (f" with {', '.join(with_it)}" if with_it else ""), first


def _written_with(given: Given, entity: str) -> bool:
    """Whether a fact was written behind its thing: then its call has no brackets of its own."""
    call = given.fact
    return (
        call is not None
        and not call.dotted
        and call.span == call.name_span
        and len(call.args) == 1
        and isinstance(call.args[0], Name)
        and call.args[0].name == entity
    )


def _value(given: Given) -> str:
    """The value of a fact."""
    if given.low is not None and given.high is not None:
        return literal(given.low) if given.low == given.high else band(given.low, given.high)
    return given.word or "unknown"


def _fact(given: Given) -> str:
    """A fact on a line of its own."""
    assert given.fact is not None
    value = _value(given)
    call = expression(Call(given.fact.span, given.fact.name, given.fact.args, given.fact.dotted))
    return f"{call} unknown" if value == "unknown" else f"{call} = {value}"


def then_text(then: Then) -> str:
    """One expected outcome."""
    text = f"at month {digits(then.month)}, " if then.month else ""
    text += f"{', '.join(then.entities)} {then.outcome.value}"
    if then.by is not None:
        text += f" by {literal(then.by)}"
    if then.outcome is Outcome.UNDECIDED:
        text += f" needs {', '.join(expression(call) for call in then.needs)}" if then.needs else ""
        text += " too close" if then.too_close else ""
        text += f" leans {then.leans}" if then.leans else ""
    return text


def edit_clause(item: HouseEdit) -> Clause:
    """Return one line of a house block."""
    return Clause(wrap("  ", edit_text(item), 4), *at(item.span))
