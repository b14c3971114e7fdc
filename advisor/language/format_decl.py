"""Declarations as the formatter prints them: each a list of clauses with the file lines they come from."""

from __future__ import annotations

from typing import assert_never

from advisor.language.format_cards import INDENT, card_lines, printed
from advisor.language.format_cases import edit_clause, example_clauses
from advisor.language.format_clause import BODY, CLAUSE, Clause, at, clause
from advisor.language.format_expr import (
    HARD_SPACE,
    WIDTH,
    binder,
    cannot,
    digits,
    expression,
    from_base,
    literal,
    quoted,
    source,
    template,
    whole,
    wrap,
)
from advisor.language.format_handling import action_clauses, handling_clauses
from advisor.language.format_levers import lever_clauses
from advisor.language.nodes import (
    Action,
    Card,
    Case,
    Declaration,
    Define,
    Example,
    Expr,
    Handling,
    HouseEdit,
    Let,
    Lever,
    Prefer,
    Rule,
    Stage,
    WordMeaning,
)
from advisor.model.vocabulary import (
    Assumption,
    Measure,
    NumberType,
    Param,
    Relation,
    SetType,
    Supplier,
    WordType,
)
from advisor.units import DEFAULT_STEP, Dimension


def clauses(item: Declaration) -> list[Clause]:
    """Return a declaration as clauses, its first line first."""
    match item:
        case Measure():
            return _measure(item)
        case Relation():
            return _relation(item)
        case Let():
            return _let(item)
        case Define():
            return _define(item)
        case Rule():
            return _rule(item)
        case Prefer():
            return _prefer(item)
        case Card():
            return _card(item)
        case WordMeaning():
            return _word(item)
        case Example():
            return example_clauses(item)
        case HouseEdit():
            return [edit_clause(item)]
        case Lever():
            return lever_clauses(item)
        case Action():
            return action_clauses(item)
        case Handling():
            return handling_clauses(item)
        case _:
            assert_never(item)


# --- vocabulary ------------------------------------------------------------------


def _params(params: tuple[Param, ...]) -> str:
    """Parameters in brackets."""
    return ", ".join(
        "tank" if param.name == "tank" else f"{param.kind.value} {param.name}" for param in params
    )


def _supply(thing: Measure | Relation) -> str:
    """Who supplies it, in order."""
    card = thing.card_line if isinstance(thing, Measure) else ""
    said = {
        Supplier.CARD: f"card {card}",
        Supplier.KEEPER: "keeper",
        Supplier.COMPUTED: f"computed by {thing.computed_by}",
    }
    return ", ".join(said[supplier] for supplier in thing.suppliers)


def _said(thing: Measure | Relation) -> str:
    """What is said and asked."""
    parts = [f"{word} {quoted(text)}" for word, text in (("say", thing.say), ("ask", thing.ask)) if text]
    return "  ".join(parts)


def _measure(item: Measure) -> list[Clause]:
    """A measure: its type and numbers on the first line, then who says it and how it is asked."""
    head = f"({_params(item.params)})"
    match item.type:
        case NumberType(dimension=dimension, unit=unit):
            named = dimension.value if dimension in (Dimension.RANK, Dimension.COUNT) else unit.name
            text = f"in {named}" + _numbers(item, dimension, unit.name)
        case SetType(words=words):
            text = f"several of {', '.join(words)}"
        case WordType(words=("yes", "no")):
            text = "yes or no"
        case WordType(words=words):
            text = f"one of {', '.join(words)}" if words else "a name"
        case _:
            raise cannot("a measure that is a truth")
    if item.stale_days is not None:
        text += f" stale after {from_base(item.stale_days, 'days')}"
    text += f" stricter {item.stricter}" if item.stricter else ""
    text += " at a month" if item.at_a_month else ""
    found = [Clause(wrap(f"measure {item.name}{head} ", text, 4), *at(item.span))]
    if item.suppliers:
        found.append(Clause(wrap("  from ", _supply(item), 7)))
    unit_name = item.type.unit.name if isinstance(item.type, NumberType) else ""
    found.extend(Clause(wrap("  assume ", _assumed(part, unit_name), 9)) for part in item.assumptions)
    if _said(item):
        found.append(Clause(wrap("  ", _said(item), 6)))
    return found


def _numbers(item: Measure, dimension: Dimension, unit: str) -> str:
    """Range, what is usual, step and error of a measure."""
    text = ""
    if item.high != float("inf"):
        text += f" between {from_base(item.low, unit).split(HARD_SPACE)[0]} and {from_base(item.high, unit)}"
    if item.usual is not None:
        low, high = (from_base(end, unit) for end in item.usual)
        text += f" usual {low.split(HARD_SPACE)[0]}{HARD_SPACE}to{HARD_SPACE}{high}"
    apart = "K" if dimension is Dimension.TEMPERATURE else unit
    if dimension is not Dimension.COUNT or item.step != DEFAULT_STEP[dimension]:
        text += f" step {from_base(item.step, apart, spread=True)}"
    if item.error and item.error_is_fraction:
        text += f" error {_percent(item.error)}{HARD_SPACE}%"
    elif item.error:
        text += f" error {from_base(item.error, apart, spread=True)}"
    return text


def _percent(fraction: float) -> str:
    """A fraction in percent, so that it reads back the same."""
    for places in range(1, 18):
        text = digits(float(f"{fraction * 100.0:.{places}g}"))
        if float(text) / 100.0 == fraction:
            return text
    raise cannot(f"an error of {fraction!r}")


def _assumed(part: Assumption, unit: str) -> str:
    """What is reckoned with while nothing is said."""
    text = f"{from_base(part.low, unit).split(HARD_SPACE)[0]} to {from_base(part.high, unit)}"
    text += f" for {', '.join(part.groups)}" if part.groups else ""
    text += " when unknown"
    text += f" because {quoted(part.because)}" if part.because else ""
    return f"{text} kind {part.grade.value}"


def _relation(item: Relation) -> list[Clause]:
    """A relation."""
    first = f"relation {item.name}({_params(item.params)}){' given' if item.given else ''}"
    found = [Clause([first], *at(item.span))]
    if item.suppliers:
        found.append(Clause(wrap("  from ", _supply(item), 7)))
    if _said(item):
        found.append(Clause(wrap("  ", _said(item), 6)))
    return found


def _word(item: WordMeaning) -> list[Clause]:
    """What a loose word stands for."""
    low, high = from_base(item.low, item.unit), from_base(item.high, item.unit)
    text = f"of {item.measure} from {item.said_by} means {low.split(HARD_SPACE)[0]} to {high}"
    text += f"  source {source(item.source)}" if item.source is not None else ""
    return [Clause(wrap(f"word {whole(item.word)} ", text, 4), *at(item.span))]


# --- rules -----------------------------------------------------------------------


def _let(item: Let) -> list[Clause]:
    """A named number; its grounds on lines of their own where one line will not do."""
    end = max(item.span.line, item.value.span.end_line)
    first = f"let {item.name} = {literal(item.value)}"
    parts = [f"because {quoted(item.because)}"] if item.because else []
    parts += [f"source {source(item.source)}"] if item.source is not None else []
    one_line = "  ".join((first, *parts)).replace(HARD_SPACE, " ")
    if len(one_line) <= WIDTH:
        return [Clause([one_line], item.span.line, end)]
    found = [Clause([first.replace(HARD_SPACE, " ")], item.span.line, end)]
    return found + [Clause(wrap("  ", part, 10)) for part in parts]


def _define(item: Define) -> list[Clause]:
    """A named truth or quantity."""
    unit = "" if item.unit is None else f" in {item.unit}"
    head = f"define {item.name}({_params(item.params)}){unit} as "
    if len(item.cases) == 1 and item.cases[0].when is None:
        body = expression(item.cases[0].value)
        end = max(item.span.line, item.cases[0].span.end_line)
        fits = len(head) + len(body) <= WIDTH
        lines = wrap(head, body, 4) if fits else [head.rstrip(), *wrap("    ", body, 4)]
        found = [Clause(lines, item.span.line, end)]
    else:
        found = [Clause([head.rstrip()], *at(item.span))]
        found.extend(_cases(item.cases))
    if item.say is not None:
        found.append(Clause(wrap("  say ", quoted(template(item.say)), 6), *at(item.say.span)))
    return found


def _cases(cases: tuple[Case, ...]) -> list[Clause]:
    """Cases in two columns, bracketed where a line would read on into the next one."""
    values = [expression(case.value) for case in cases]
    values = [f"({value})" if value.startswith("-") else value for value in values]
    guards = [expression(case.when) if case.when is not None else "" for case in cases]
    width = min(40, max(len(value) for value in values))
    found = []
    for case, value, guard, following in zip(cases, values, guards, [*values[1:], ""], strict=True):
        said = f"when {f'({guard})' if following.startswith('(') else guard}" if guard else "otherwise"
        first = ("    " + value.ljust(width) + "  ").replace(HARD_SPACE, " ")
        found.append(Clause(wrap(first, said, 8), *at(case.span)))
    return found


def _binders(item: Rule | Prefer) -> Clause:
    """The ``for`` of a rule."""
    start, end = at(item.binders[0].span) if item.binders else (0, 0)
    return Clause(
        wrap("  " + "for ".ljust(CLAUSE), ", ".join(binder(part) for part in item.binders), BODY),
        start,
        end,
    )


def _condition(word: str, part: Expr | None, more: str = "") -> list[Clause]:
    """A clause with an expression, if there is one."""
    return [] if part is None else [clause(word, expression(part) + more, part.span)]


def _rule(item: Rule) -> list[Clause]:
    """One requirement."""
    found = [Clause([f"rule {item.name}"], *at(item.span)), _binders(item)]
    found += _condition("when", item.when)
    found += _condition("expect", item.expect, "  until horizon" if item.until_horizon else "")
    if item.expect is None:
        found.append(clause("expect-by-eye", quoted(item.by_eye), pad=14))
    found += _condition("unless", item.unless)
    found.append(clause("level", item.level.value))
    if item.stage is not Stage.ALWAYS:
        found.append(clause("stage", item.stage.value))
    found.append(clause("because", quoted(template(item.because)), item.because.span))
    if item.matters:
        found.append(clause("matters", quoted(item.matters)))
    if item.remedy.pieces:
        found.append(clause("remedy", quoted(template(item.remedy)), item.remedy.span))
    found.extend(clause("then do", quoted(template(duty)), duty.span) for duty in item.duties)
    if item.source is not None:
        found.append(clause("source", source(item.source)))
    return found


def _prefer(item: Prefer) -> list[Clause]:
    """One comfort."""
    found = [Clause([f"prefer {item.name}"], *at(item.span)), _binders(item)]
    found += _condition("when", item.when)
    found += _condition("want", item.want)
    found.append(clause("weight", f"{digits(item.weight)}  fade {digits(item.fade_steps)} steps"))
    found.append(clause("because", quoted(template(item.because)), item.because.span))
    if item.source is not None:
        found.append(clause("source", source(item.source)))
    return found


# --- cards -----------------------------------------------------------------------


def _card(item: Card) -> list[Clause]:
    """A card, one clause a line."""
    found = [Clause(wrap(f"card {item.name} ", whole(item.title), 4), *at(item.span))]
    for line in card_lines(item):
        first = "  " + f"{line.head} ".ljust(INDENT - 2)
        texts = printed(line)
        lines = wrap(first, texts[0], INDENT)
        lines += [row for ground in texts[1:] for row in wrap(" " * INDENT, ground, INDENT)]
        found.append(Clause(lines, line.start, line.end))
    if item.source is not None:
        found.append(Clause(wrap("  source ", source(item.source), INDENT), apart=True))
    return found
