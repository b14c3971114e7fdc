"""Amounts as terms of an SMT solver, those without bounds among them.

A real of the solver, and whether the amount is instead more than any or less
than any: what the least and the most of nobody are. What arithmetic does not
tell (one such less another, nothing by nothing) is an unknown of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction

import z3  # type: ignore[import-untyped]  # ships no types

NEVER = z3.BoolVal(False)


def exact(number: float) -> z3.ArithRef:
    """Return a float as the fraction it is."""
    return z3.RealVal(str(Fraction(number)))


def either(items: Iterable[z3.BoolRef]) -> z3.BoolRef:
    """Return ``or``, small where most is plain."""
    kept = [item for item in items if not z3.is_false(item)]
    if any(z3.is_true(item) for item in kept):
        return z3.BoolVal(True)
    return kept[0] if len(kept) == 1 else z3.Or(kept) if kept else NEVER


def both(*items: z3.BoolRef) -> z3.BoolRef:
    """Return ``and``, small where most is plain."""
    kept = [item for item in items if not z3.is_true(item)]
    if any(z3.is_false(item) for item in kept):
        return NEVER
    return kept[0] if len(kept) == 1 else z3.And(kept) if kept else z3.BoolVal(True)


def opposite(item: z3.BoolRef) -> z3.BoolRef:
    """Return ``not``, small where it is plain."""
    return z3.BoolVal(z3.is_false(item)) if z3.is_true(item) or z3.is_false(item) else z3.Not(item)


@dataclass(frozen=True)
class Amount:
    """A quantity in base units: `value`, unless it is `up` (more than any) or `down` (less than any)."""

    value: z3.ArithRef
    up: z3.BoolRef = NEVER
    down: z3.BoolRef = NEVER

    @property
    def endless(self) -> z3.BoolRef:
        """Whether it is no number."""
        return either((self.up, self.down))

    @property
    def plain(self) -> bool:
        """Whether it is a number in every completion."""
        return bool(z3.is_false(self.up) and z3.is_false(self.down))

    @property
    def positive(self) -> z3.BoolRef:
        """Whether it is more than nothing."""
        return either((self.up, both(opposite(self.down), self.value > 0)))

    @property
    def negative(self) -> z3.BoolRef:
        """Whether it is less than nothing."""
        return either((self.down, both(opposite(self.up), self.value < 0)))

    def __neg__(self) -> Amount:
        return Amount(-self.value, self.down, self.up)

    def at_least(self, other: Amount) -> z3.BoolRef:
        """Return ``self >= other``."""
        numbers = both(opposite(self.endless), opposite(other.endless), self.value >= other.value)
        return either((self.up, other.down, numbers))


@dataclass
class Arithmetic:
    """Makes amounts of others; what is not told becomes an unknown within the `bounds` it collects."""

    bounds: list[z3.BoolRef]
    made: int = 0
    untold: dict[tuple[object, ...], Amount] = field(default_factory=dict)
    """What arithmetic does not tell, by what it is of: the same wherever it stands."""
    kept: list[Amount] = field(default_factory=list)
    """Operands of those, so that the solver gives their numbers to nothing else."""

    def any_amount(self) -> Amount:
        """Return an amount of which nothing is known."""
        self.made += 1
        up, down = z3.Bool(f"up'{self.made}"), z3.Bool(f"down'{self.made}")
        self.bounds.append(z3.Not(z3.And(up, down)))
        return Amount(z3.Real(f"any'{self.made}"), up, down)

    def plus(self, a: Amount, b: Amount) -> Amount:
        """Return ``a + b``."""
        if a.plain and b.plain:
            return Amount(a.value + b.value)
        up = either((both(a.up, opposite(b.down)), both(b.up, opposite(a.down))))
        down = either((both(a.down, opposite(b.up)), both(b.down, opposite(a.up))))
        clash = either((both(a.up, b.down), both(a.down, b.up)))
        return self._or_any(clash, ("plus", a, b), Amount(a.value + b.value, up, down))

    def times(self, a: Amount, b: Amount) -> Amount:
        """Return ``a * b``; none of anything is none."""
        if a.plain and b.plain:
            return Amount(a.value * b.value)
        endless = either((a.endless, b.endless))
        alike = either((both(a.positive, b.positive), both(a.negative, b.negative)))
        unlike = either((both(a.positive, b.negative), both(a.negative, b.positive)))
        value = z3.If(endless, 0, a.value * b.value)
        return Amount(value, both(endless, alike), both(endless, unlike))

    def over(self, a: Amount, b: Amount) -> Amount:
        """Return ``a / b``; an amount divided by nothing is more than any amount."""
        if a.plain and b.plain and z3.is_rational_value(b.value) and b.value.as_fraction() != 0:
            return Amount(a.value / b.value)
        nothing = both(opposite(b.endless), b.value == 0)
        alike = either((both(a.positive, b.positive), both(a.negative, b.negative)))
        unlike = either((both(a.positive, b.negative), both(a.negative, b.positive)))
        up = either((both(nothing, a.positive), both(a.endless, opposite(nothing), alike)))
        down = both(a.endless, opposite(nothing), unlike)
        value = z3.If(b.endless, 0, a.value / z3.If(b.value == 0, 1, b.value))
        untold = either((both(a.endless, b.endless), both(nothing, opposite(a.positive))))
        found = self._or_any(untold, ("over", a, b), Amount(value, up, down))
        sign_is_known = both(untold, either((alike, both(nothing, opposite(a.negative)))))
        self.bounds.append(z3.Implies(sign_is_known, z3.Not(found.negative)))
        self.bounds.append(z3.Implies(both(untold, unlike), z3.Not(found.positive)))
        return found

    def chosen(self, if_so: z3.BoolRef, a: Amount, b: Amount) -> Amount:
        """Return ``a`` if something is so, else ``b``."""
        if z3.is_true(if_so) or z3.is_false(if_so):
            return a if z3.is_true(if_so) else b
        up = NEVER if z3.is_false(a.up) and z3.is_false(b.up) else z3.If(if_so, a.up, b.up)
        down = NEVER if z3.is_false(a.down) and z3.is_false(b.down) else z3.If(if_so, a.down, b.down)
        return Amount(z3.If(if_so, a.value, b.value), up, down)

    def extreme(self, items: Iterable[tuple[z3.BoolRef, Amount]], start: Amount, *, most: bool) -> Amount:
        """Return the most or the least of those that count, `start` where there is none."""
        best = start
        for there, item in items:
            better = item.at_least(best) if most else best.at_least(item)
            best = self.chosen(both(there, better), item, best)
        return best

    def _or_any(self, untold: z3.BoolRef, of: tuple[str, Amount, Amount], otherwise: Amount) -> Amount:
        """An amount, unless it is not told."""
        if z3.is_false(untold):
            return otherwise
        word, *parts = of
        key = (word, *(term.get_id() for part in parts for term in (part.value, part.up, part.down)))
        if key not in self.untold:
            self.untold[key] = self.any_amount()
            self.kept += parts
        return self.chosen(untold, self.untold[key], otherwise)


UP = Amount(z3.RealVal(0), up=z3.BoolVal(True))
"""What the least of nobody is."""
DOWN = Amount(z3.RealVal(0), down=z3.BoolVal(True))
"""What the most of nobody is."""

ORDER: dict[str, Callable[[Amount, Amount], z3.BoolRef]] = {
    ">=": lambda a, b: a.at_least(b),
    "<=": lambda a, b: b.at_least(a),
    ">": lambda a, b: opposite(b.at_least(a)),
    "<": lambda a, b: opposite(a.at_least(b)),
}
"""The comparisons of the rule language."""
