"""Amounts over many of whom there may be none, against every amount of each completion.

The reference walks the tree of the rule with exact readings: the least over
nobody is more than any amount and the most less; none of anything is none;
what arithmetic does not tell (one such less another, nothing by nothing) is
drawn from samples of all it may be.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.language import nodes
from advisor.language.format_expr import expression
from advisor.language.library import Library
from advisor.language.nodes import AggregateOp, ArithOp, CompareOp, Expr
from advisor.reasoning.bindings import population_of
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import truth
from advisor.units import to_base, unit_named
from tests.reasoning.compiled import PAIR
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of

Env = dict[str, int]

ANY_SIZE = (0.0, 3.0, math.inf)
"""Samples of what may be any amount, of one sign."""
BOTH_SIGNS = (*ANY_SIZE, *(-each for each in ANY_SIZE))

# --- the reference ------------------------------------------------------------------


def added(a: float, b: float) -> tuple[float, ...]:
    """Return what a sum may be."""
    found = a + b
    return BOTH_SIGNS if math.isnan(found) else (found,)


def multiplied(a: float, b: float) -> tuple[float, ...]:
    """Return what a product is: none of anything is none."""
    return (0.0,) if 0.0 in (a, b) else (a * b,)


def divided(a: float, b: float) -> tuple[float, ...]:
    """Return what a quotient may be; of amounts that are not negative it is not negative."""
    if b and not (math.isinf(a) and math.isinf(b)):
        return (a / b,)
    if b:
        return tuple(math.copysign(each, a * b) for each in ANY_SIZE)
    if a > 0:
        return (math.inf,)
    return ANY_SIZE if a == 0 else BOTH_SIGNS


ARITHMETIC: dict[ArithOp, Callable[[float, float], tuple[float, ...]]] = {
    ArithOp.ADD: added,
    ArithOp.SUBTRACT: lambda a, b: added(a, -b),
    ArithOp.MULTIPLY: multiplied,
    ArithOp.DIVIDE: divided,
}


COMPARED: dict[CompareOp, Callable[[float, float], bool]] = {
    CompareOp.AT_LEAST: operator.ge,
    CompareOp.AT_MOST: operator.le,
    CompareOp.MORE: operator.gt,
    CompareOp.LESS: operator.lt,
}


class Exact:
    """A rule read over a grid in which everything is known; what arithmetic does not tell is drawn."""

    def __init__(self, library: Library, grid: Grid, rng: np.random.Generator) -> None:
        self.library, self.grid, self.rng = library, grid, rng
        self.drawn: dict[tuple[object, ...], float] = {}

    def one_of(self, samples: tuple[float, ...], expr: Expr, env: Env) -> float:
        """Return one of what a quantity may be; the same wherever it stands."""
        if len(samples) == 1:
            return samples[0]
        key = (expression(expr), *env.items())
        return self.drawn.setdefault(key, samples[int(self.rng.integers(len(samples)))])

    def truth(self, expr: Expr, env: Env) -> bool:
        """Return a truth."""
        match expr:
            case nodes.Compare(op=op, left=left, right=right):
                return COMPARED[op](self.amount(left, env), self.amount(right, env))
            case nodes.Between(value=value, low=low, high=high):
                return self.amount(low, env) <= self.amount(value, env) <= self.amount(high, env)
            case nodes.Is(left=nodes.Call(name=name, args=args), right=(nodes.Name(name=word),)):
                possible, _ = self.grid.word[name]
                return bool(possible[self.rows(args, env)][self.grid.domains[name].index(word)])
        raise AssertionError(expr)

    def amount(self, expr: Expr, env: Env) -> float:
        """Return a quantity. [base unit]"""
        match expr:
            case nodes.Number(value=value, unit=unit):
                return to_base(value, unit_named(unit)) if unit else value
            case nodes.Negative(of=of):
                return -self.amount(of, env)
            case nodes.Arith(op=op, left=left, right=right):
                found = ARITHMETIC[op](self.amount(left, env), self.amount(right, env))
                return self.one_of(found, expr, env)
            case nodes.Extreme(largest=largest, items=items):
                return (max if largest else min)(self.amount(item, env) for item in items)
            case nodes.Call(name=name, args=args):
                return float(self.grid.number[name][0][self.rows(args, env)])
            case nodes.Aggregate():
                return self.reckoned(expr, env)
        raise AssertionError(expr)

    def rows(self, args: tuple[Expr, ...], env: Env) -> tuple[int, ...]:
        """Return the rows a call is about."""
        return tuple(env[arg.name] for arg in args if isinstance(arg, nodes.Name))

    def reckoned(self, expr: nodes.Aggregate, env: Env) -> float:
        """Return the sum, number, least or most of the members there are."""
        values = []
        for row in range(len(self.grid.animal_world)):
            inner = {**env, expr.binder.name: row}
            if expr.binder.neighbour_of and row == env[expr.binder.neighbour_of]:
                continue
            if expr.where is None or self.truth(expr.where, inner):
                values.append(1.0 if expr.value is None else self.amount(expr.value, inner))
        match expr.op:
            case AggregateOp.LEAST:
                return min(values, default=math.inf)
            case AggregateOp.MOST:
                return max(values, default=-math.inf)
            case _:
                endless = {math.inf, -math.inf} <= set(values)
                return self.one_of(BOTH_SIGNS if endless else (sum(values),), expr, env)


def completed(grid: Grid, rng: np.random.Generator) -> Grid:
    """Return a grid with one value of each cell: an end or a whole step between."""
    number = {}
    for name, (low, _, high, flags) in grid.number.items():
        between = low + np.floor(rng.random(low.shape) * (np.minimum(high, low + 8) - low + 1))
        pick = rng.integers(0, 3, low.shape)
        value = np.where(pick == 0, low, np.where(pick == 1, high, np.clip(between, low, high)))
        if grid.library.vocabulary.measures[name].symmetric:
            value = np.triu(value) + np.triu(value, 1).T
        number[name] = [value, value, value, np.zeros(flags.shape)]
    word = {}
    for name, (possible, flags) in grid.word.items():
        chosen = (rng.random(possible.shape) * possible).argmax(axis=-1)
        word[name] = (np.arange(possible.shape[-1]) == chosen[..., None], np.zeros(flags.shape))
    made = Grid(
        grid.library, grid.animal_world, grid.animal_place, grid.removed, grid.place_count,
        grid.tank_row_of_world,
    )  # fmt: skip
    made.number, made.plain, made.word, made.domains = number, number, word, grid.domains
    return made


# --- random comparisons ---------------------------------------------------------------

WHERE = ("potency(n) > 3", "group(n) is clam", "gap(a, n) < 6 cm", "reach(n) >= 30 cm", "potency(n) > 5")
OVER = (
    "least of gap(a, n) for neighbour n of a",
    "most of reach(n) for neighbour n of a",
    "least of size(n) for animal n",
    "most of reach(n) for animal n",
    "sum of reach(n) for neighbour n of a",
    "sum of (reach(n) - 4 cm) for animal n",
    "count of neighbour n of a",
)
PLAIN = ("gap(a, b)", "reach(a)", "size(b)", "3 cm", "0 cm")
SHAPES = (
    "({0}) + ({1})", "({0}) - ({1})", "larger of ({0}), ({1})", "smaller of ({0}), ({1})", "2 * ({0})",
    "-({0})", "potency(a) * ({0})", "0 * ({0})", "({0}) / 2", "({0}) / potency(b)",
    "({0}) * (({1}) / ({2}))", "({0}) + ({1}) - ({0})",
    "least of (({0}) - reach(n)) for neighbour n of b where potency(n) > 3",
    "sum of (({0}) - reach(n)) for neighbour n of b where potency(n) > 2",
)  # fmt: skip


@st.composite
def lengths(draw: st.DrawFn, depth: int = 2) -> str:
    """Draw a length: a reading, an amount over many, or arithmetic of both."""
    if depth and draw(st.booleans()):
        parts = [draw(lengths(depth - 1)) for _ in range(3)]
        return "(" + draw(st.sampled_from(SHAPES)).format(*parts) + ")"
    if draw(st.integers(0, 3)) == 0:
        return draw(st.sampled_from(PLAIN))
    over = draw(st.sampled_from(OVER))
    whole = f"({over} where {draw(st.sampled_from(WHERE))})"
    return f"({whole} * 1 cm)" if over.startswith("count") else whole


@st.composite
def comparisons(draw: st.DrawFn) -> str:
    """Draw a comparison of lengths."""
    one, other = draw(lengths()), draw(lengths())
    sign = draw(st.sampled_from((">=", "<=", ">", "<", "between", "same")))
    if sign == "between":
        return f"({one}) between ({other}) and ({draw(lengths())})"
    if sign == "same":
        shape = draw(st.sampled_from(("({0}) >= ({0})", "({0}) + 1 cm > ({0})", "2 * ({0}) <= ({0})")))
        return shape.format(one)
    return f"({one}) {sign} ({other})"


def says(compiled_expect: object, grid: Grid) -> str:
    """Return the verdict of a comparison for the first two animals."""
    frame = Frame(
        grid, population_of(grid), np.zeros(1, np.int64), {"a": np.array([0]), "b": np.array([1])},
        np.zeros(1),
    )  # fmt: skip
    found = truth(frame, compiled_expect)  # type: ignore[arg-type]  # an operation of a compiled rule
    return "yes" if found.yes[0] else "no" if found.no[0] else "open"


@given(comparisons(), st.integers(0, 10_000), st.sampled_from((0.2, 0.6, 1.0)))
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_sure_verdict_over_nobody_is_contradicted_by_a_completion(
    expect: str, seed: int, known: float
) -> None:
    library, compiled = compiled_of(expect, binders=PAIR)
    assert compiled.rule.expect is not None
    grid = random_grid(library, seed, animals=3, worlds=0, known=known)
    found = says(compiled.expect, grid)
    rng = np.random.default_rng(seed)
    for _ in range(12):
        whole = completed(grid, rng)
        right = Exact(library, whole, rng).truth(compiled.rule.expect, {"a": 0, "b": 1})
        assert found in ("open", "yes" if right else "no"), (expect, right)
        assert says(compiled.expect, whole) in ("open", "yes" if right else "no"), (expect, right)
