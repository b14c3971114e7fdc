"""Measures, relations, words, lets and definitions out of the parser's tree."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.errors import Problem, Span
from advisor.language.build import (
    Refused,
    Site,
    amount,
    band,
    base,
    branches,
    joined,
    name_of,
    named,
    params,
    source,
    template,
    tokens,
    unquoted,
    words,
)
from advisor.language.build_expr import expr
from advisor.language.dimensions import PHRASE, of_dimension
from advisor.language.mends import in_unit, turned
from advisor.language.nodes import Case, Define, Let, Number, WordMeaning
from advisor.model.vocabulary import (
    YES_NO,
    Assumption,
    Grade,
    Measure,
    NumberType,
    Relation,
    SetType,
    Supplier,
    ValueType,
    WordType,
)
from advisor.units import BASE_UNIT, DEFAULT_STEP, DIMENSIONLESS, UNITS, Dimension

if TYPE_CHECKING:
    from advisor.language.build import Branch


def once(
    site: Site, clauses: Iterable[Branch], what: str, repeatable: frozenset[str] = frozenset()
) -> dict[str, Branch]:
    """Return the clauses by rule name; one said twice is reported and the first one kept."""
    found: dict[str, Branch] = {}
    for clause in clauses:
        key = str(clause.data)
        if key in found and key not in repeatable:
            site.say(
                "word-113",
                f"{what} says '{clause.children[0]}' twice",
                clause,
                "the first one counts",
                "remove one of them",
            )
        found.setdefault(key, clause)
    return found


def _head_span(site: Site, tree: Branch) -> Span:
    """The span of a declaration's first word and its name."""
    names = tokens(tree, "NAME", "STRING")
    return site.span(tree.children[0], names[0] if names else None)


def _number_type(tree: Branch) -> NumberType:
    """``in UNIT``, ``in rank`` or ``in count``."""
    word = " ".join(str(tree.children[1]).split()).replace("μ", "µ")
    if word in ("rank", "count"):
        dimension = Dimension(word)
        return NumberType(dimension, BASE_UNIT[dimension])
    unit = UNITS[word]
    return NumberType(unit.dimension, unit)


def _value_type(tree: Branch) -> ValueType:
    """What a measure is measured in."""
    inner = branches(tree)
    if inner and inner[0].data == "quantity_type":
        return _number_type(inner[0])
    match str(tree.children[0]):
        case "one":
            return WordType(words(inner[0]))
        case "several":
            return SetType(words(inner[0]))
        case "yes":
            return YES_NO
        case _:
            return WordType(())


def _suppliers(tree: Branch | None) -> tuple[tuple[Supplier, ...], str, str]:
    """Suppliers in order, the card line and the computing name."""
    kinds, card, computed = [], "", ""
    for part in branches(tree) if tree is not None else ():
        word = str(part.children[0])
        kinds.append(Supplier(word))
        if word == "card":
            card = name_of(part)
        elif word == "computed":
            computed = name_of(part)
    return tuple(kinds), card, computed


def _in_unit(site: Site, number: Number, wanted: Dimension | None) -> float:
    """A number of a measure's clause in base units; a bare one is refused where a unit is due."""
    dimension = UNITS[number.unit].dimension if number.unit in UNITS else None
    if wanted is None:
        what = "a number says nothing about words"
        site.say("units-206", what, number.span, "this measure is not a number", "take this clause out")
    elif dimension is None and number.value != 0 and wanted not in DIMENSIONLESS:
        unit = BASE_UNIT[wanted].name
        site.say(
            "units-202",
            "this number needs a unit",
            number.span,
            f"the measure is {wanted.value}",
            f"{number.value:g} {unit}",
        )
    elif dimension is not None and dimension is not wanted:
        site.say(
            "units-201",
            f"{PHRASE[dimension]} is given where {PHRASE[wanted]} is meant",
            number.span,
            f"the measure is {wanted.value}, in {BASE_UNIT[wanted].name or 'plain numbers'}",
            in_unit(number.value, of_dimension(wanted)),
        )
    return base(number)


def _spread(site: Site, number: Number, wanted: Dimension | None) -> float:
    """A step or error: a difference, so that an offset of the unit does not count."""
    if wanted is Dimension.TEMPERATURE:
        unit = UNITS.get(number.unit)
        if unit is not None and unit.dimension in (Dimension.TEMPERATURE, Dimension.TEMPERATURE_STEP):
            return number.value * unit.factor
    return _in_unit(site, number, wanted)


def measure(site: Site, tree: Branch) -> Measure:
    """Return a declared measure."""
    found = once(site, branches(tree)[2:], "this measure", frozenset({"assume"}))
    kind = _value_type(named(tree, "value_type")[0])
    dimension = kind.dimension if isinstance(kind, NumberType) else None
    suppliers, card, computed = _suppliers(found.get("suppliers"))
    result = Measure(
        name_of(tree),
        params(site, named(tree, "params")[0]),
        kind,
        suppliers,
        card,
        computed_by=computed,
        at_a_month="at_a_month" in found,
        stricter=str(found["stricter"].children[1]) if "stricter" in found else "",
        step=DEFAULT_STEP[dimension] if dimension else 1.0,
        span=_head_span(site, tree),
    )
    if "limits" in found:
        low, high = (amount(site, part) for part in branches(found["limits"]))
        result = replace(result, high=_in_unit(site, high, dimension))
        result = replace(result, low=_low_end(site, low, high, dimension))
        if result.low >= result.high:
            mend = f"between {turned(low, high).replace(' to ', ' and ')}"
            mend = mend if result.low > result.high else "two different ends"
            site.say("units-205", "the range is empty", found["limits"], "the lower end comes first", mend)
    if "usual" in found:
        result = replace(result, usual=_range(site, found["usual"], dimension))
    if "step" in found:
        result = replace(result, step=_spread(site, amount(site, branches(found["step"])[0]), dimension))
        if result.step <= 0:
            step = -result.step or (DEFAULT_STEP[dimension] if dimension else 1.0)
            mend = f"step {step:g} {_step_unit(dimension)}".rstrip()
            site.say("units-205", "a step must be more than nothing", found["step"], "", mend)
    return _measure_texts(site, tree, found, _measure_error(site, found, result, dimension))


def _step_unit(dimension: Dimension | None) -> str:
    """The unit a step is written in: that of a difference."""
    if dimension is None:
        return ""
    return BASE_UNIT[Dimension.TEMPERATURE_STEP if dimension is Dimension.TEMPERATURE else dimension].name


def _low_end(site: Site, low: Number, high: Number, wanted: Dimension | None) -> float:
    """The lower end of a range in base units; without a unit it takes that of the upper end, told there."""
    return _in_unit(site, low, wanted) if low.unit else base(replace(low, unit=high.unit))


def _measure_error(
    site: Site, found: dict[str, Branch], result: Measure, dimension: Dimension | None
) -> Measure:
    """The measure with its error and shelf life."""
    if "error" in found:
        number = amount(site, branches(found["error"])[0])
        if number.unit in ("%", "percent") and dimension is not Dimension.PERCENT:
            result = replace(result, error=number.value / 100.0, error_is_fraction=True)
        else:
            result = replace(result, error=_spread(site, number, dimension))
    if "stale" in found:
        number = amount(site, branches(found["stale"])[0])
        result = replace(result, stale_days=_in_unit(site, number, Dimension.TIME))
    return result


def _measure_texts(site: Site, tree: Branch, found: dict[str, Branch], result: Measure) -> Measure:
    """The measure with what is said, asked and assumed."""
    dimension = result.type.dimension if isinstance(result.type, NumberType) else None
    assumed = tuple(_assumption(site, part, dimension) for part in named(tree, "assume"))
    return replace(result, assumptions=assumed, say=_text(found.get("say")), ask=_text(found.get("ask")))


def _text(clause: Branch | None) -> str:
    """The text of a clause, empty without one."""
    return joined(named(clause, "texts")[0]) if clause is not None else ""


def _range(site: Site, tree: Branch, dimension: Dimension | None) -> tuple[float, float]:
    """Both ends of the band of a clause in base units."""
    ends = band(site, named(tree, "band")[0])
    low = base(ends[0]) if ends[0].unit == ends[1].unit else _in_unit(site, ends[0], dimension)
    high = _in_unit(site, ends[1], dimension)
    if low > high:
        where = named(tree, "band")[0]
        site.say("units-205", "the range is empty", where, "the lower end comes first", turned(*ends))
    return low, high


def _assumption(site: Site, tree: Branch, dimension: Dimension | None) -> Assumption:
    """What is reckoned with while nothing is said."""
    low, high = _range(site, tree, dimension)
    kinds = [Grade(str(part.children[0])) for group in named(tree, "assume_kind") for part in branches(group)]
    groups = tuple(
        word for group in named(tree, "assume_for") for part in branches(group) for word in words(part)
    )
    reasons = named(tree, "because")
    return Assumption(
        low, high, _text(reasons[0] if reasons else None), kinds[0] if kinds else Grade.GUESS, groups
    )


def relation(site: Site, tree: Branch) -> Relation:
    """Return a declared relation."""
    found = once(site, branches(tree)[1:], "this relation")
    suppliers, _, computed = _suppliers(found.get("suppliers"))
    return Relation(
        name_of(tree),
        params(site, named(tree, "params")[0]),
        suppliers,
        computed,
        "given_flag" in found,
        _text(found.get("say")),
        _text(found.get("ask")),
        _head_span(site, tree),
    )


def word_meaning(site: Site, tree: Branch) -> WordMeaning:
    """Return what a loose word stands for."""
    ends = band(site, named(tree, "band")[0])
    low, high = (base(number) for number in ends)
    if low > high:
        where = named(tree, "band")[0]
        site.say("units-205", "the range is empty", where, "the lower end comes first", turned(*ends))
    said = unquoted(str(tokens(tree, "STRING")[0]))
    found = named(tree, "source")
    return WordMeaning(
        site.span(tree),
        said,
        name_of(tree),
        name_of(tree, 1),
        low,
        high,
        source(site, found[0]) if found else None,
        ends[1].unit,
    )


def let(site: Site, tree: Branch) -> Let:
    """Return a named number."""
    found = once(site, branches(tree)[1:], "this let")
    return Let(
        _head_span(site, tree),
        name_of(tree),
        amount(site, named(tree, "amount")[0]),
        _text(found.get("because")),
        source(site, found["source"]) if "source" in found else None,
    )


def define(site: Site, tree: Branch) -> Define:
    """Return a named truth or quantity."""
    units = named(tree, "quantity_type")
    unit = str(units[0].children[1]) if units else None
    body = named(tree, "plain_case", "many_cases")[0]
    said = named(tree, "say")
    return Define(
        _head_span(site, tree),
        name_of(tree),
        params(site, named(tree, "params")[0]),
        unit,
        _cases(site, body),
        template(site, branches(said[0])[0]) if said else None,
    )


def _cases(site: Site, body: Branch) -> tuple[Case, ...]:
    """The cases in order; only the last may stand without a condition."""
    if body.data == "plain_case":
        return (Case(site.span(body), expr(site, branches(body)[0]), None),)
    found = []
    for part in branches(body):
        parts = branches(part)
        found.append(
            Case(site.span(part), expr(site, parts[0]), expr(site, parts[1]) if len(parts) > 1 else None)
        )
    if found[-1].when is not None:
        raise Refused(
            Problem(
                "define-803",
                "the last case must be 'otherwise'",
                found[-1].span,
                "what holds when no case fits?",
                "add a line: … otherwise",
            )
        )
    for case in found[:-1]:
        if case.when is None:
            site.say(
                "define-804",
                "cases after 'otherwise' are never reached",
                case.span,
                "this fits always",
                "put it last",
            )
    return tuple(found)


__all__ = ["define", "let", "measure", "once", "relation", "word_meaning"]
