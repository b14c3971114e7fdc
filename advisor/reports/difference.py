"""What one set of rules says otherwise than another: the rules first, then what that means in the tank."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from advisor.model.difference import Declared, DeclaredChange, DiffAnswer, Flip, LineChange, Meaning
from advisor.reports.page import Blank, Block, Cells, Grid, Page, Part, Tone, Verbatim, labelled, line
from advisor.reports.wording import counted

SHOWN = 3
"""Answers of one cause and one rule that are printed before the rest is counted."""
_TONES = {
    Meaning.REFUSED: Tone.BAD,
    Meaning.ALLOWED: Tone.GOOD,
    Meaning.UNDECIDED: Tone.OPEN,
    Meaning.DECIDED: Tone.GOOD,
    Meaning.UNASKED: Tone.OPEN,
    Meaning.LESSER: Tone.OPEN,
    Meaning.BETTER: Tone.GOOD,
}
_GROUNDS = ("because", "source", "matters", "remedy")
"""Clauses that no verdict rests on: told from level 2 on where something else changed too."""
_WHERE = {"place": "place", "first": "coral", "tank": "in the tank", "example": "example"}


def difference_page(answer: DiffAnswer, level: int = 1, *, short: bool = False) -> Page:
    """Return what is written otherwise and what is answered otherwise, what matters most first."""
    if short:
        return tuple(Verbatim((Part(_short(flip)),)) for flip in answer.flips)
    blocks: list[Block] = [line(f"{answer.before} -> {answer.after}", Tone.HEAD), Blank()]
    blocks += _written(answer.changes, level) if level > 0 else ()
    for meaning, group in groupby(answer.flips, key=lambda flip: flip.meaning):
        blocks += _meaning(meaning, list(group), level)
    return (*blocks, *_counts(answer))


# --- the rules ------------------------------------------------------------------------


def _written(changes: Sequence[DeclaredChange], level: int) -> Iterator[Block]:
    """What is written otherwise."""
    if changes:
        yield line("WRITTEN OTHERWISE", Tone.HEAD)
        for change in changes:
            yield from _change(change, level)
        yield Blank()


def _change(change: DeclaredChange, level: int) -> Iterator[Block]:
    """One declaration, with the clauses that changed."""
    place = f"  ({change.file}:{change.line})" if level >= 2 and change.file else ""
    if change.what is Declared.RENAMED:
        yield line(f"{change.id} was called {change.old_name}{place}", indent=2)
        return
    if change.what is not Declared.CHANGED and level < 2:
        yield line(f"{change.id}: {change.what.value}{place}", indent=2)
        return
    shown = [each for each in change.lines if level >= 2 or each.clause not in _GROUNDS] or list(change.lines)
    if len(shown) == 1 and change.what is Declared.CHANGED:
        yield line(f"{change.id}: {_clause(shown[0], alone=_is_value(shown[0], change))}{place}", indent=2)
        return
    yield line(f"{change.id}: {change.what.value}{place}", indent=2)
    for each in shown:
        yield labelled(each.clause, _old_new(each), Tone.QUIET, indent=4)


def _is_value(each: LineChange, change: DeclaredChange) -> bool:
    """Whether a clause is what the declaration's own name tells already."""
    return each.clause == "value" or change.kind in ("line", "own line")


def _clause(each: LineChange, *, alone: bool) -> str:
    """One clause, without its name where that says nothing more."""
    return _old_new(each) if alone else f"{each.clause} {_old_new(each)}"


def _old_new(each: LineChange) -> str:
    """What a clause was and what it is."""
    if each.old and each.new:
        return f"{each.old} -> {each.new}"
    return f"now {each.new}" if each.new else f"no longer {each.old}"


# --- what that changes ----------------------------------------------------------------


def _meaning(meaning: Meaning, flips: Sequence[Flip], level: int) -> Iterator[Block]:
    """Everything that means one thing to the keeper, by its cause."""
    tone = _TONES.get(meaning, Tone.QUIET)
    yield line(f"{meaning.value.upper()}: {_kinds(flips)}", tone)
    if level == 0:
        return
    groups: dict[tuple[tuple[str, ...], bool, str, str, bool], list[Flip]] = {}
    for flip in sorted(
        flips, key=lambda flip: flip.about == "example"
    ):  # one's own tanks before all examples
        key = (flip.causes, flip.traced, flip.rule, flip.level, flip.about == "example")
        groups.setdefault(key, []).append(flip)
    for (causes, traced, rule, rule_level, _), group in groups.items():
        told = f"{rule} ({rule_level}), " if rule else ""
        yield line(f"{told}{_because(causes, traced=traced)}", Tone.QUIET, indent=2)
        shown = group if level >= 2 else group[:SHOWN]
        yield Grid(tuple(_row(flip) for flip in shown), (2, 34))
        for flip in shown if level >= 2 else ():
            if flip.sentence:
                yield line(flip.sentence, Tone.QUIET, indent=6)
        if len(shown) < len(group):
            yield line(f"and {len(group) - len(shown)} more: --level 2", Tone.QUIET, indent=4)
    yield Blank()


def _because(causes: Sequence[str], *, traced: bool) -> str:
    """Which edits bring it about."""
    if not causes:
        return "by no single edit that I could find"
    listed = " and ".join(causes)
    if not traced:
        return f"perhaps by {listed}; making those edits alone does not show it"
    return f"by {listed}" + (", only together" if len(causes) > 1 else "")


def _row(flip: Flip) -> Cells:
    """One answer: what it is about, and what became of it."""
    return Cells((Part("  "), Part(_about(flip)), Part(_became(flip))))


def _about(flip: Flip) -> str:
    """What an answer is about, in words."""
    match flip.about:
        case "place":
            return f"{flip.subjects[0]} at {flip.subjects[1]}"
        case "first":
            return flip.subjects[0]
        case "example":
            return f'"{flip.subjects[0]}": {", ".join(flip.subjects[1:])}'
        case _:
            return " and ".join(flip.subjects) or "the tank"


def _became(flip: Flip) -> str:
    """What an answer was and what it is."""
    old = flip.before.told or flip.before.answer or "not asked"
    new = flip.after.told or flip.after.answer or "no longer asked"
    if flip.about == "place" and old == new:
        gone = [name for name in flip.before.reasons if name not in flip.after.reasons]
        come = [name for name in flip.after.reasons if name not in flip.before.reasons]
        parts = [f"now {', '.join(come)}"] if come else []
        parts += [f"no longer {', '.join(gone)}"] if gone else []
        return f"{new}: {'; '.join(parts)}"
    return f"{old} -> {new}" if old != new else f"{new} as before, a {flip.level} now"


def _kinds(flips: Sequence[Flip]) -> str:
    """How many answers of each kind."""
    told = []
    for about, word in _WHERE.items():
        number = sum(flip.about == about for flip in flips)
        if number:
            told.append(f"{number} {word}" if about == "tank" else counted(number, word))
    return ", ".join(told)


def _short(flip: Flip) -> str:
    """One answer on one line."""
    where = f"{flip.tank}: " if flip.tank else ""
    rule = f" [{flip.rule}]" if flip.rule else ""
    cause = _because(flip.causes, traced=flip.traced)
    return f"{flip.meaning.value}: {where}{_about(flip)}{rule}: {_became(flip)}; {cause}"


def _counts(answer: DiffAnswer) -> Iterator[Block]:
    """What was compared, and whether any answer changes."""
    changed = sum(flip.answers_change for flip in answer.flips)
    tighter = len(answer.flips) - changed
    for note in answer.notes:
        yield labelled("NOTE", note, Tone.OPEN, width=6)
    if not answer.changes:
        yield line("Both say the same.", Tone.GOOD)
        return
    edits = counted(len(answer.changes), "edit")
    verdict = f"{counted(changed, 'answer')} changed" if changed else "no answer changes"
    more = f", {tighter} with less to spare" if tighter else ""
    yield line(f"{edits}: {verdict}{more}.", Tone.BAD if changed else Tone.GOOD)
    where = f"; {answer.compared} verdicts and places in {', '.join(answer.tanks)}" if answer.tanks else ""
    yield line(f"Compared: {counted(answer.examples, 'outcome')} of examples{where}.", Tone.QUIET)
    if not answer.tanks:
        yield line("No tank was asked: --tank DIR, or run it in a tank folder.", Tone.QUIET)
