"""Two sets of rules side by side: what is written otherwise, and what is answered otherwise because of it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from advisor.language.format import same_tree
from advisor.language.library import Library
from advisor.language.nodes import Example, Rule
from advisor.model.difference import Declared, DeclaredChange, DiffAnswer, Flip, Meaning, Side
from advisor.model.results import Verdict, Word
from advisor.model.tank import Tank
from advisor.rulework.causes import Tracer
from advisor.rulework.clauses import declared_change
from advisor.rulework.declared import Content, Key, differing, parts_of
from advisor.rulework.outcomes import (
    LATER,
    Asked,
    Outcomes,
    called_as_after,
    of_examples,
    of_places,
    of_tank,
)

Progress = Callable[[int, int], None]
"""Told how much of how many is done."""
ONE_STEP = 1.0
"""A margin that shrank by less than this is no news. [steps]"""
_GOODNESS = {"no": 0, "": 1, "yes": 2}
"""Which way an open answer leans, the worst first."""
_LEVELS = ("danger", "warning", "advice", "")
_ABOUT = ("first", "place", "tank", "example")
_LESSER = tuple(word.value for word in Word if word not in (Word.NOT_KNOWN, Word.NO))


@dataclass(frozen=True, slots=True)
class Sides:
    """The two sets of rules, for the examples or for one tank."""

    before: Library
    after: Library
    tank: Tank | None = None


def difference(
    names: tuple[str, str], bare: Sides, tanks: Sequence[Sides], on: date, progress: Progress | None = None
) -> DiffAnswer:
    """Return what one set of rules says otherwise than another.

    Parameters
    ----------
    names
        What the two are called.
    bare
        The two as they were given.
    tanks
        The two for each tank, its own house files laid over both.
    on
        The day the tanks are asked about.
    """
    before, after = parts_of(bare.before), parts_of(bare.after)
    edits = differing(before, after)
    renames = renamed_rules(before, after, edits)
    flips: list[Flip] = []
    counts: list[int] = []
    every = (bare, *tanks)
    for done, sides in enumerate(every):
        if progress is not None:
            progress(done, len(every))
        examples = _examples(bare) if sides is bare else ()
        own = edits if sides is bare else differing(parts_of(sides.before), parts_of(sides.after))
        found, count = _compared(sides, own, renames, on, examples)
        flips += found
        counts.append(count)
    return DiffAnswer(
        before=names[0],
        after=names[1],
        changes=tuple(_by_house(change, bare.after) for change in _changes(edits, before, after, renames)),
        flips=tuple(sorted(flips, key=_order)),
        examples=counts[0],
        tanks=tuple(sides.tank.name for sides in tanks if sides.tank is not None),
        compared=sum(counts[1:]),
    )


# --- what is written ------------------------------------------------------------------


def renamed_rules(
    before: Mapping[Key, Content], after: Mapping[Key, Content], edits: Sequence[Key]
) -> dict[str, str]:
    """Return the new name of every rule that is the same but for its name, by its old one."""
    gone = [key for key in edits if key.kind in ("rule", "prefer") and key not in after]
    fresh = [key for key in edits if key.kind in ("rule", "prefer") and key not in before]
    found: dict[str, str] = {}
    for old in gone:
        for new in fresh:
            if (
                new.kind == old.kind
                and new.name not in found.values()
                and _same_body(before[old], after[new])
            ):
                found[old.name] = new.name
                break
    return found


def _same_body(one: Content, other: Content) -> bool:
    """Whether two rules are the same but for their names."""
    if isinstance(one, Rule) and isinstance(other, Rule):
        return same_tree(replace(one, name=""), replace(other, name=""))
    return False


def _changes(
    edits: Sequence[Key],
    before: Mapping[Key, Content],
    after: Mapping[Key, Content],
    renames: Mapping[str, str],
) -> tuple[DeclaredChange, ...]:
    """Every declaration that differs; one that only has another name as such."""
    news = {new: old for old, new in renames.items()}
    out = []
    for key in edits:
        if key.kind in ("rule", "prefer") and key.name in renames and key not in after:
            continue
        change = declared_change(key, _part(key, before), _part(key, after))
        if key.kind in ("rule", "prefer") and key.name in news and key not in before:
            change = change.model_copy(
                update={"what": Declared.RENAMED, "old_name": news[key.name], "lines": ()}
            )
        out.append(change)
    return tuple(out)


def _by_house(change: DeclaredChange, after: Library) -> DeclaredChange:
    """What became of a declaration; one that a house line switches off is not removed."""
    off = change.name in (*after.shipped.rules, *after.shipped.prefers) and change.kind in ("rule", "prefer")
    gone = change.what is Declared.REMOVED and off
    return change.model_copy(update={"what": Declared.SWITCHED_OFF}) if gone else change


def _part(key: Key, parts: Mapping[Key, Content]) -> Content | None:
    """A declaration; of a line for one animal alone, where there is none, the card's own line."""
    shared = replace(key, kind="line", animal="") if key.kind == "own line" else key
    return parts.get(key) or parts.get(shared)


def _examples(sides: Sides) -> tuple[Example, ...]:
    """The examples of both sides; where both have one of a title, the later one counts."""
    found: dict[tuple[str, str], Example] = {}
    for library in (sides.before, sides.after):
        found.update({(example.rule, example.title): example for example in library.examples})
    return tuple(found.values())


# --- what is answered -----------------------------------------------------------------


def _compared(
    sides: Sides,
    edits: Sequence[Key],
    renames: Mapping[str, str],
    on: date,
    examples: Sequence[Example],
) -> tuple[list[Flip], int]:
    """Every answer of one kind that changed, traced back to its edits, and how many were compared."""
    if not edits:
        return [], 0
    back = {new: old for old, new in renames.items()}

    def judge(library: Library, scope: Collection[str] | None) -> Outcomes:
        rules = None if scope is None else set(scope) | {back[name] for name in scope if name in back}
        if sides.tank is None:
            named = _as_called_in(library, examples, renames)
            return called_as_after(of_examples(library, named, rules), renames)
        return called_as_after(of_tank(sides.tank, library, on, rules), renames)

    def places(library: Library, scope: Collection[str] | None) -> Outcomes:
        assert sides.tank is not None
        return called_as_after(of_places(sides.tank, library, on, scope), renames)

    flips: list[Flip] = []
    count = 0
    judges = [judge] if sides.tank is None else [judge, places]
    for each in judges:
        before, after = each(sides.before, None), each(sides.after, None)
        found = _flips(before, after)
        count += len(before.sides.keys() | after.sides.keys())
        scope = frozenset(asked.rule or asked.subjects[0] for asked, _ in found)
        tracer = Tracer(
            sides.before, sides.after, edits, each, _alike(before, after), _rules_of(before, after), scope
        )
        for asked, meaning in found:
            causes, traced = tracer.causes(asked)
            flips.append(_flip(asked, meaning, before, after, causes, traced=traced))
    return flips, count


def _as_called_in(
    library: Library, examples: Sequence[Example], renames: Mapping[str, str]
) -> tuple[Example, ...]:
    """Examples with their rules called as a library has them."""
    back = {new: old for old, new in renames.items()}
    out = []
    for example in examples:
        name = example.rule
        if name not in library.rules and name not in library.prefers:
            name = renames.get(name) or back.get(name) or name
        out.append(replace(example, rule=name))
    return tuple({(each.rule, each.title): each for each in out}.values())


def _alike(before: Outcomes, after: Outcomes) -> Callable[[Asked, Outcomes], bool]:
    """How to tell that an answer is as the later rules have it.

    Where the answer itself changed, that it is the later one is enough; else
    the amount and the reasons have to be the later ones.
    """
    nothing = Side(answer="")

    def alike(asked: Asked, seen: Outcomes) -> bool:
        old, wanted, got = (each.sides.get(asked, nothing) for each in (before, after, seen))
        if old.answer != wanted.answer:
            return got.answer == wanted.answer
        return _summary(wanted) == _summary(got) and after.levels.get(asked) == seen.levels.get(asked)

    return alike


def _rules_of(before: Outcomes, after: Outcomes) -> Callable[[Asked], frozenset[str]]:
    """Which rules an answer rests on: its own; of a place those that decide in one of the two."""

    def rules(asked: Asked) -> frozenset[str]:
        if asked.rule:
            return frozenset((asked.rule,))
        sides = (each.sides.get(asked) for each in (before, after))
        return frozenset(name for side in sides if side is not None for name in side.reasons)

    return rules


def _summary(side: Side) -> tuple[str, str, int | None, tuple[str, ...]]:
    """What counts of an answer: a margin to the hundredth of a step."""
    margin = None if side.margin_steps is None else round(side.margin_steps * 100)
    return side.answer, side.lean, margin, side.reasons


def _flips(before: Outcomes, after: Outcomes) -> list[tuple[Asked, Meaning]]:
    """Everything that is answered otherwise, or holds with less to spare."""
    out = []
    for asked in dict.fromkeys((*after.sides, *before.sides)):
        old = before.sides.get(asked, Side(answer=""))
        new = after.sides.get(asked, Side(answer=""))
        levels = before.levels.get(asked, ""), after.levels.get(asked, "")
        meaning = meaning_of(asked, old, new, levels)
        if meaning is not None:
            out.append((asked, meaning))
    return out


def meaning_of(asked: Asked, old: Side, new: Side, levels: tuple[str, str]) -> Meaning | None:
    """Return what a change of an answer means to the keeper; None where it is none."""
    if asked.about == "first":
        return Meaning.ELSEWHERE if old.answer != new.answer else None
    if asked.about == "place":
        return _of_place(old, new)
    if old.answer == new.answer:
        return _same_answer(old, new, levels)
    fails, open_, later = Verdict.FAILS.value, Verdict.UNDECIDED.value, LATER
    if fails in (old.answer, new.answer):
        if new.answer == open_:
            return Meaning.UNDECIDED
        return Meaning.REFUSED if new.answer == fails else Meaning.ALLOWED
    if open_ in (old.answer, new.answer):
        if not new.answer:
            return Meaning.UNASKED
        return Meaning.UNDECIDED if new.answer == open_ else Meaning.DECIDED
    if later in (old.answer, new.answer):
        return Meaning.LESSER if new.answer == later else Meaning.BETTER
    news = "" not in (old.answer, new.answer)  # a rule that came or went and says nothing against it is none
    return Meaning.OTHERWISE if news else None


def _same_answer(old: Side, new: Side, levels: tuple[str, str]) -> Meaning | None:
    """The same answer: graver or less so, with less to spare, or no change at all."""
    if old.answer in (Verdict.FAILS.value, LATER) and levels[0] != levels[1]:
        graver = _LEVELS.index(levels[1]) < _LEVELS.index(levels[0])
        return Meaning.REFUSED if graver else Meaning.ALLOWED
    if old.lean != new.lean:
        return Meaning.BETTER if _GOODNESS[new.lean] > _GOODNESS[old.lean] else Meaning.LESSER
    return _less(old, new) if old.answer in (Verdict.HOLDS.value, Verdict.FAILS.value, LATER) else None


def _less(old: Side, new: Side) -> Meaning | None:
    """A margin that shrank by a step or more."""
    if old.margin_steps is None or new.margin_steps is None:
        return None
    shrank = old.margin_steps - new.margin_steps >= ONE_STEP - 1e-9
    return Meaning.LESS if shrank else None


def _of_place(old: Side, new: Side) -> Meaning | None:
    """A change of the word for a place."""
    if not old.answer or not new.answer:
        return None
    if old.answer == new.answer:
        return Meaning.OTHERWISE if old.reasons != new.reasons else None
    no, unknown = Word.NO.value, Word.NOT_KNOWN.value
    if no in (old.answer, new.answer):
        return Meaning.REFUSED if new.answer == no else Meaning.ALLOWED
    if unknown in (old.answer, new.answer):
        return Meaning.UNDECIDED if new.answer == unknown else Meaning.DECIDED
    worse = _LESSER.index(new.answer) > _LESSER.index(old.answer)
    return Meaning.LESSER if worse else Meaning.BETTER


def _flip(
    asked: Asked, meaning: Meaning, before: Outcomes, after: Outcomes, causes: Sequence[Key], *, traced: bool
) -> Flip:
    """One change as it is published."""
    full = meaning is not Meaning.LESS
    old, said_before = before.told(asked, full=full)
    new, said_after = after.told(asked, full=full)
    return Flip(
        meaning=meaning,
        about=asked.about,
        tank=asked.tank,
        rule=asked.rule,
        level=after.levels.get(asked) or before.levels.get(asked, ""),
        subjects=asked.subjects,
        before=old,
        after=new,
        sentence=said_after or said_before,
        causes=tuple(str(key) for key in causes),
        traced=traced,
    )


def _order(flip: Flip) -> tuple[int, int, int, float, str, tuple[str, ...]]:
    """What matters most to the keeper first."""
    margin = flip.after.margin_steps if flip.after.margin_steps is not None else 0.0
    return (
        list(Meaning).index(flip.meaning),
        _ABOUT.index(flip.about),
        _LEVELS.index(flip.level),
        margin,
        flip.rule,
        flip.subjects,
    )
