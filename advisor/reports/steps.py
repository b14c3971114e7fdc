"""The recorded steps of a reason as a tree of lines, each with the number it can be opened by."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass, field

from advisor.model.results import Ground, Step
from advisor.reports.figures import margin_figure, value_text
from advisor.reports.page import Block, Line, Part, Tone, line
from advisor.reports.wording import ground_text

_INDENT = 5
_MOST_INPUTS = 12


def said(step: Step) -> str:
    """Return a step with what came of it: ``gap between torch-1 and zoa-2 = 12 ±1 cm``."""
    found = value_text(step.value)
    return step.text if not found or found == step.text else f"{step.text} = {found}"


@dataclass(slots=True)
class Seen:
    """Steps already printed, with the number they stand under; a repeated one is only pointed to."""

    numbers: dict[Hashable, str] = field(default_factory=dict)
    ids: dict[str, str] = field(default_factory=dict)
    printed: set[str] = field(default_factory=set)
    """Numbers under which grounds stand already: of the cells a reason rests on, above its tree."""
    rules: dict[str, str] = field(default_factory=dict)
    """Rules of which one reason was told in full, with its number."""
    accepting: bool = False
    """Whether it was told where a line to accept stands."""

    def earlier(self, step: Step, number: str) -> str:
        """Return where the same step was printed before, or remember that it is printed now."""
        if step.same_as:
            return self.ids.get(step.same_as, step.same_as)
        found = self.numbers.setdefault(_content(step), number)
        self.printed.add(number)
        self.ids.setdefault(step.id, found)
        return found if found != number else ""


def _content(step: Step) -> Hashable:
    """What a step says, its id aside."""
    return said(step), step.same_as, tuple(map(_content, step.inputs))


def step_blocks(number: str, step: Step, seen: Seen, deepest: int | None = None) -> Iterator[Block]:
    """Yield one step and what is under it, each under its number.

    Parameters
    ----------
    deepest
        How many steps down to go, None for all; what is left out is counted.
    """
    yield from _blocks(number, step, seen, 0, deepest)


def _blocks(number: str, step: Step, seen: Seen, depth: int, deepest: int | None) -> Iterator[Block]:
    above = number in seen.printed
    earlier = seen.earlier(step, number)
    if earlier and (step.inputs or step.grounds or step.same_as):
        yield _numbered(number, (Part(f"{said(step)}, as at {earlier}"),), depth)
        return
    yield _numbered(number, _parts(step, grounds=not above), depth)
    if deepest is not None and depth >= deepest:
        if step.inputs:
            yield _more(f"{len(step.inputs)} below: --open {number}", depth)
        return
    for each in step.inputs[:_MOST_INPUTS]:
        yield from _blocks(f"{number}{each.id.removeprefix(step.id)}", each, seen, depth + 1, deepest)
    rest = len(step.inputs) - _MOST_INPUTS
    if rest > 0:
        yield _more(f"and {rest} more of this kind: --open {number}", depth)


def _numbered(number: str, parts: tuple[Part, ...], depth: int) -> Block:
    return Line((Part(f"{number}  ", Tone.QUIET), *parts), _INDENT + depth)


def _more(text: str, depth: int) -> Block:
    return line(text, Tone.QUIET, indent=_INDENT + depth + 2)


def _parts(step: Step, *, grounds: bool) -> tuple[Part, ...]:
    told = said(step)
    parts = [Part(step.text), Part(told.removeprefix(step.text), Tone.HEAD)]
    if step.decides:
        parts.append(Part("; decides", Tone.HEAD))
    if step.margin is not None:
        parts.append(Part(margin_figure(step.margin, "; margin ", step.margin_steps)))
    if step.cause:
        parts.append(Part(f"; {step.cause}", Tone.OPEN))
    if step.grounds and grounds:
        parts.append(Part(f"  [{full_grounds(step.grounds)}]", Tone.QUIET))
    parts.extend(Part(f"; {change}", Tone.OPEN) for change in step.house)
    return tuple(parts)


def full_grounds(grounds: tuple[Ground, ...]) -> str:
    """Return where a value comes from, with sources and files."""
    return " | ".join(dict.fromkeys(ground_text(ground, full=True) for ground in grounds))
