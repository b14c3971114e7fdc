"""Levels 2 to 4: conditions, readings and definitions behind a verdict, down to the last number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from advisor.model.results import Ground, Reason, Step, Value, Verdict
from advisor.reports.figures import value_text, wanted_text
from advisor.reports.outline import Node
from advisor.reports.page import Block, Labelled, Line, Page, Part, Tone, labelled, line
from advisor.reports.rows import grounds_of, reason_tone, support_text
from advisor.reports.wording import ahead_text, ground_text, months_text, sentence
from advisor.units import format_number

_MOST_INPUTS = 12
_DEEPEST = 15
_LONG_NUMBER = 9
_LABEL = 10


def verdict_text(reason: Reason) -> str:
    """Return the verdict in the language's words, with margin and steps: ``fails by 8 ±1 cm (8 steps)``."""
    if reason.verdict is Verdict.UNDECIDED:
        lean = f", leans {reason.lean}" if reason.lean else ""
        return f"undecided: {reason.cause or 'not known'}{lean}{_margin(reason.margin, ', margin ')}"
    words = {Verdict.FAILS: " by ", Verdict.HOLDS: " by "}
    return reason.verdict.value + _margin(
        reason.margin, words.get(reason.verdict, ", margin "), reason.margin_steps
    )


def _margin(margin: Value | None, before: str, steps: float | None = None) -> str:
    if margin is None or (margin.best is None and margin.low is None):
        return ""
    signed = before.strip() != "by"
    shown = margin if signed else _unsigned(margin)
    number = format_number(abs(steps), 2) if steps is not None else ""
    counted = f" ({number} {'step' if number == '1' else 'steps'})" if number else ""
    return f"{before}{value_text(shown)}{counted}"


def _unsigned(margin: Value) -> Value:
    ends = sorted(abs(end) for end in (margin.low, margin.high) if end is not None)
    same_side = margin.low is not None and margin.high is not None and margin.low * margin.high >= 0
    if not same_side:
        return margin
    best = abs(margin.best) if margin.best is not None else None
    return margin.model_copy(update={"low": ends[0], "best": best, "high": ends[-1]})


def reason_blocks(number: str, reason: Reason, level: int, seen: Seen | None = None) -> list[Block]:
    """Return one reason as an editor of rules reads it; level 3 adds the whole evaluation."""
    blocks: list[Block] = [_headline(number, reason)]
    blocks.extend(_facts(reason))
    if level >= 3:
        blocks.extend(_depths(number, reason, seen or Seen()))
    return blocks


def _headline(number: str, reason: Reason) -> Block:
    parts = (
        Part(f"{reason.level} ", Tone.BAD if reason.level == "danger" else Tone.PLAIN),
        Part(reason.rule, Tone.HEAD),
        Part(f"  {verdict_text(reason)}", reason_tone(reason)),
    )
    return Labelled(number, parts, width=5)


def _fact(label: str, text: str) -> Block:
    return Labelled(label, (Part(text),), Tone.QUIET, indent=5, width=_LABEL)


def _facts(reason: Reason) -> Iterator[Block]:
    yield line(sentence(reason.sentence), indent=5)
    here, wanted = value_text(reason.here), wanted_text(reason.wanted_low, reason.wanted_high)
    if here or wanted:
        numbers = ", ".join(
            filter(None, (f"{reason.quantity} {here}".strip(), f"wanted {wanted}" if wanted else ""))
        )
        yield _fact("here", numbers + (f" {ahead_text(reason.months_ahead)}" if reason.months_ahead else ""))
    for label, text in (("matters", reason.matters), ("remedy", reason.remedy)):
        if text:
            yield _fact(label, text)
    yield from _rests_on(reason)
    if reason.until is not None:
        yield _fact("until", f"holds now, fails from {months_text(reason.until)}")
    for index, need in enumerate(reason.needs):
        yield _fact("" if index else "needs", f"{need.measure}({', '.join(need.subjects)}): {need.ask}")
    if reason.disputed:
        yield _fact("disputed", "two sources disagree; the stricter one counts here")
    for change in reason.house:
        yield _fact("house", change)
    for index, part in enumerate(reason.accept.split("\n") if reason.accept else ()):
        yield _fact("" if index else "accept", part)
    yield _fact("source", support_text(reason) or "none given")
    yield _fact("node", reason.id)


def _rests_on(reason: Reason) -> Iterator[Block]:
    """Each reading and card number once, with its grounds; without steps, the grounds alone."""
    told = [ground_text(ground, full=True) for ground in grounds_of(reason)]
    if reason.step is not None:
        told = [f"{_said(step)}: {_grounds(step.grounds)}" for step in _leaves(reason.step)]
    for index, text in enumerate(dict.fromkeys(told)):
        yield _fact("" if index else "rests on", text)


def _leaves(step: Step) -> Iterator[Step]:
    if step.grounds:
        yield step
    for each in step.inputs:
        yield from _leaves(each)


def _grounds(grounds: tuple[Ground, ...]) -> str:
    return " | ".join(dict.fromkeys(ground_text(ground, full=True) for ground in grounds))


def _said(step: Step) -> str:
    """A step with what came of it: ``gap between torch-1 and zoa-2 = 12 ±1 cm``."""
    found = value_text(step.value)
    return step.text if not found or found == step.text else f"{step.text} = {found}"


@dataclass(slots=True)
class Seen:
    """Steps already printed, with the number they stand under; a repeated one is only pointed to."""

    numbers: dict[str, str] = field(default_factory=dict)

    def earlier(self, step: Step, number: str) -> str:
        """Return where the same step was printed before, or remember that it is printed now."""
        said = _said(step)
        if said in self.numbers:
            return self.numbers[said]
        self.numbers[said] = number
        return ""


def _depths(number: str, reason: Reason, seen: Seen) -> Iterator[Block]:
    if reason.weakest:
        yield _fact("weakest", reason.weakest)
    for duty in reason.duties:
        yield _fact("then do", duty)
    if reason.step is not None:
        yield line("how it was reckoned:", Tone.QUIET, indent=5)
        yield from step_blocks(f"{number}.0", reason.step, seen, number)


def step_blocks(number: str, step: Step, seen: Seen, below: str = "", depth: int = 0) -> Iterator[Block]:
    """Yield one step and everything under it; inputs are numbered after `below`."""
    indent = min(5 + 2 * depth, _DEEPEST)
    earlier = seen.earlier(step, number)
    if earlier and (step.inputs or step.grounds):
        yield _numbered(number, (Part(f"{_said(step)}, as at {earlier}"),), indent)
        return
    yield _numbered(number, _step_parts(step), indent)
    for index, each in enumerate(step.inputs[:_MOST_INPUTS], 1):
        inner = f"{below or number}.{index}"
        yield from step_blocks(inner, each, seen, inner, depth + 1)
    rest = len(step.inputs) - _MOST_INPUTS
    if rest > 0:
        yield line(f"and {rest} more of this kind: --open {step.id}", Tone.QUIET, indent=indent + 2)


def _numbered(number: str, parts: tuple[Part, ...], indent: int) -> Block:
    """A numbered step; a long number shares its line with the text, so that room is left for both."""
    if len(number) > _LONG_NUMBER:
        return Line((Part(f"{number}  ", Tone.QUIET), *parts), indent)
    return Labelled(number, parts, Tone.QUIET, indent, len(number) + 2)


def _step_parts(step: Step) -> tuple[Part, ...]:
    parts = [Part(step.text), Part(_said(step).removeprefix(step.text), Tone.HEAD)]
    if step.margin is not None:
        parts.append(Part(_margin(step.margin, "; margin ", step.margin_steps)))
    if step.cause:
        parts.append(Part(f"; {step.cause}", Tone.OPEN))
    if step.grounds:
        parts.append(Part(f"  [{_grounds(step.grounds)}]", Tone.QUIET))
    parts.extend(Part(f"; {change}", Tone.OPEN) for change in step.house)
    return tuple(parts)


def node_page(node: Node) -> Page:
    """Return the page of one opened node: the node, its id, and all that is under it."""
    if isinstance(node.content, Reason):
        return tuple(reason_blocks(node.number, node.content, level=3))
    step = node.content
    number = node.number
    below = number.removesuffix(".0")
    return (
        labelled("node", step.id, Tone.QUIET),
        labelled("kind", step.op, Tone.QUIET),
        *_opened(number, step, below),
    )


def _opened(number: str, step: Step, below: str) -> Iterator[Block]:
    seen = Seen()
    yield _numbered(number, _step_parts(step), 0)
    for index, each in enumerate(step.inputs, 1):
        inner = f"{below}.{index}"
        yield from step_blocks(inner, each, seen, inner, depth=-1)
