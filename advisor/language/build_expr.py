"""Expressions out of the parser's tree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity
from advisor.language.build import MAX_DEPTH, Refused, Site, branches, literal, name_of, named, tokens
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Between,
    Binder,
    Call,
    Chain,
    Compare,
    CompareOp,
    Expr,
    Extreme,
    Is,
    IsOp,
    Name,
    Negative,
    Not,
    Or,
    Since,
    StepsAway,
)
from advisor.model.vocabulary import Kind

if TYPE_CHECKING:
    from advisor.language.build import Branch

_COMPARE = {
    ">=": CompareOp.AT_LEAST,
    "≥": CompareOp.AT_LEAST,
    "<=": CompareOp.AT_MOST,
    "≤": CompareOp.AT_MOST,
    ">": CompareOp.MORE,
    "<": CompareOp.LESS,
}
_ARITH = {"+": ArithOp.ADD, "*": ArithOp.MULTIPLY, "/": ArithOp.DIVIDE}
_AGGREGATE = {
    "any": AggregateOp.ANY,
    "every": AggregateOp.EVERY,
    "count": AggregateOp.COUNT,
    "sum": AggregateOp.SUM,
    "least": AggregateOp.LEAST,
    "most": AggregateOp.MOST,
}
_TRUTHS = (Compare, Between, Is, Not, And, Or, StepsAway)
MOST_STEPS = 8
"""Steps of a chain that can be asked about: further off nobody in a tank is meant."""


def expr(site: Site, tree: Branch) -> Expr:
    """Return the expression a branch writes."""
    match tree.data:
        case "disjunction" | "conjunction":
            return _joined(site, tree)
        case "negated":
            return Not(site.span(tree), expr(site, branches(tree)[0]))
        case "compare":
            left, right = (expr(site, part) for part in branches(tree))
            return Compare(site.span(tree), _COMPARE[str(tokens(tree, "COMPARE")[0])], left, right)
        case "between":
            value, low, high = (expr(site, part) for part in branches(tree))
            return Between(site.span(tree), value, low, high)
        case "steps_away":
            return _steps_away(site, tree)
        case "is_word" | "is_one_of" | "is_related" | "has_word":
            return _is(site, tree)
        case "sum" | "product":
            return _arithmetic(site, tree)
        case "negative":
            return Negative(site.span(tree), expr(site, branches(tree)[0]))
        case _:
            return _primary(site, tree)


def _primary(site: Site, tree: Branch) -> Expr:
    """The smallest expressions, brackets and what is made of many."""
    match tree.data:
        case "number":
            return literal(site, tokens(tree, "QUANTITY", "NUMBER")[0])
        case "name":
            return Name(site.span(tree), name_of(tree))
        case "dotted":
            token = tokens(tree, "NAME")[0]
            return Call(site.span(tree), str(token), (expr(site, branches(tree)[0]),), True, site.span(token))
        case "call":
            token = tokens(tree, "NAME")[0]
            args = tuple(expr(site, part) for group in branches(tree) for part in branches(group))
            return Call(site.span(tree), str(token), args, False, site.span(token))
        case "since":
            token = tokens(tree, "NAME")[0]
            return Since(site.span(tree), str(token), expr(site, branches(tree)[0]), site.span(token))
        case "parens":
            return expr(site, branches(tree)[0])
        case "extreme":
            largest = bool(tokens(tree, "LARGER_OF"))
            return Extreme(site.span(tree), largest, tuple(expr(site, part) for part in branches(tree)))
        case _:
            return _aggregate(site, tree)


def _joined(site: Site, tree: Branch) -> Expr:
    """``a and b and c``, ``a or b``."""
    items = tuple(expr(site, part) for part in branches(tree))
    return Or(site.span(tree), items) if tree.data == "disjunction" else And(site.span(tree), items)


def _is(site: Site, tree: Branch) -> Expr:
    """The comparisons of words, and a relation said as ``b is down-flow of a``."""
    span = site.span(tree)
    negated = bool(tokens(tree, "NOT", "NOT_EQUAL"))
    left, right = (part for part in branches(tree))
    if tree.data == "is_related":
        token = tokens(tree, "NAME")[0]
        name = f"{token}-by" if tokens(tree, "BY") else str(token)
        call = Call(span, name, (expr(site, left), expr(site, right)), False, site.span(token))
        return Not(span, call) if negated else call
    if tree.data == "is_one_of":
        return Is(
            span, IsOp.ONE_OF, expr(site, left), tuple(expr(site, part) for part in branches(right)), negated
        )
    op = IsOp.HAS if tree.data == "has_word" else IsOp.IS
    return Is(span, op, expr(site, left), (expr(site, right),), negated)


def _arithmetic(site: Site, tree: Branch) -> Expr:
    """A chain of + and -, or of * and /, from the left."""
    parts = branches(tree)
    signs = [child for child in tree.children if isinstance(child, str)]
    if len(parts) > MAX_DEPTH:
        raise Refused(
            Problem(
                "size-123",
                "this expression is too long",
                site.span(tree),
                f"at most {MAX_DEPTH} terms",
                "name a part of it with define",
            )
        )
    result = expr(site, parts[0])
    for index, (sign, part) in enumerate(zip(signs, parts[1:], strict=True)):
        if parts[index].data == "extreme":
            site.say(
                "word-112",
                f"this is read as ({parts[index].children[0]} …) {sign} …",
                parts[index],
                "the list ends before the sign",
                "put brackets around what belongs together",
                Severity.WARNING,
            )
        op = _ARITH.get(str(sign), ArithOp.SUBTRACT)
        result = Arith(site.span(parts[0], part), op, result, expr(site, part))
    return result


def _steps_away(site: Site, tree: Branch) -> Expr:
    """``b is within 2 steps of a over touching``."""
    left, chain = branches(tree)
    found = StepsAway(site.span(tree), expr(site, left), _chain(site, chain))
    return Not(found.span, found) if tokens(tree, "NOT") else found


def _chain(site: Site, tree: Branch) -> Chain:
    """``within 2 steps of a over touching``."""
    number = tokens(tree, "NUMBER")[0]
    count = float(number)
    if not (count.is_integer() and 1 <= count <= MOST_STEPS):
        site.say(
            "word-128",
            "steps are counted one by one",
            number,
            f"a whole number from 1 to {MOST_STEPS}",
            "within 2 steps of …",
        )
        count = 1.0
    of, over = tokens(tree, "NAME")
    return Chain(site.span(tree), int(count), str(of), str(over), site.span(over))


def binder(site: Site, tree: Branch) -> Binder:
    """Return one bound variable."""
    kinds = named(tree, "kind")
    names = tokens(tree, "NAME")
    chains = [_chain(site, part) for part in named(tree, "chain")]
    chain = chains[0] if chains else None
    if kinds:
        owner = str(names[1]) if len(names) > 1 else ""
        kind = Kind(str(kinds[0].children[0]))
        return Binder(site.span(tree), kind, str(names[0]), weapon_of=owner, chain=chain)
    if not names:
        return Binder(site.span(tree), Kind.TANK, "tank")
    return Binder(site.span(tree), Kind.ANIMAL, str(names[0]), str(names[1]), chain=chain)


def _aggregate(site: Site, tree: Branch) -> Expr:
    """``any …``, ``count of …``, ``sum of … for …``; what follows a bracketed `where` compares the whole."""
    op = _AGGREGATE[str(tree.children[0]).split()[0]]
    values = [part for part in branches(tree) if part.data not in ("binder", "where")]
    value = expr(site, values[0]) if values else None
    found = named(tree, "where")
    where = expr(site, branches(found[0])[0]) if found else None
    whole = Aggregate(site.span(tree), op, binder(site, named(tree, "binder")[0]), where, value)
    if op in (AggregateOp.ANY, AggregateOp.EVERY) or where is None:
        return whole
    return _outward(whole, where)


def _outward(whole: Aggregate, where: Expr) -> Expr:
    """``count of n where (…) >= 3`` compares the count: a truth cannot be what is compared."""
    match where:
        case Compare(_, op, left, right) if isinstance(left, _TRUTHS):
            return Compare(whole.span, op, _with_where(whole, left), right)
        case Between(_, value, low, high) if isinstance(value, _TRUTHS):
            return Between(whole.span, _with_where(whole, value), low, high)
        case And(_, items) if (first := _outward(whole, items[0])) is not whole:
            return And(whole.span, (first, *items[1:]))
        case Or(_, items) if (first := _outward(whole, items[0])) is not whole:
            return Or(whole.span, (first, *items[1:]))
        case _:
            return whole


def _with_where(whole: Aggregate, where: Expr) -> Aggregate:
    """The same aggregate over another condition."""
    return Aggregate(whole.span, whole.op, whole.binder, where, whole.value)
