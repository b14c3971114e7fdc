"""Levels 2 to 4: what decides a verdict, with date and instrument; then sources and definitions; then all.

At level 2 one reason of each rule is told in full; the next ones, and all
advice, in short: verdict, both numbers, and what was measured or told of the
tank. What cards say and nobody denied stands from level 3 on, and behind
``--open``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from advisor.model.results import Ground, Need, Reason, Step, Verdict
from advisor.reports.figures import margin_figure, value_text, wanted_text
from advisor.reports.page import Block, Labelled, Part, Tone, line
from advisor.reports.rows import (
    SAYS_NOTHING,
    echo_text,
    grounds_of,
    limits_text,
    reason_tone,
    row_label,
    support_text,
)
from advisor.reports.steps import Seen, said, step_blocks
from advisor.reports.wording import (
    ahead_text,
    counted,
    day_text,
    ground_text,
    listed,
    months_text,
    sentence,
    sentences,
)

ALIKE = 3
"""Bindings of one rule that are told before the rest is counted; what fails is always told."""

_LABEL = 10
_MOST_CELLS = 12
_MOST_NEEDS = 3
_MOST_NAMED = 6
_SHORT, _SOURCES, _ALL = 2, 3, 4
_MOST_IN_SHORT = 4
_ADVICE = "advice"
_CARD = ("card ", "reach: card ")
_REPEATS = ("width of ",)
"""How grounds begin that only name another quantity."""
_BY_DEFAULT = ("nobody says", "no clone told", "tank file")
"""How grounds begin that only say what counts as long as nobody says otherwise."""


def reasons_in_detail(
    numbered: Iterable[tuple[str, Reason]], level: int, seen: Seen | None = None
) -> list[Block]:
    """Return some reasons as an editor of rules reads them; of one rule the first few, the rest counted.

    Parameters
    ----------
    numbered
        Reasons in their order, each with the number it is printed under.
    level
        2 tells what decides, 3 also sources, definitions and the way there, 4 everything of every reason.
    """
    seen = seen or Seen()
    met: dict[str, int] = {}
    hidden: dict[str, list[Reason]] = {}
    blocks: list[Block] = []
    for number, reason in numbered:
        met[reason.rule] = met.get(reason.rule, 0) + 1
        alike = 1 if level < _SOURCES and reason.level == _ADVICE else ALIKE
        if level < _ALL and met[reason.rule] > alike and not _must_be_told(reason):
            hidden.setdefault(reason.rule, []).append(reason)
        else:
            blocks.extend(reason_blocks(number, reason, level, seen))
    for rule, reasons in hidden.items():
        blocks.append(line(_counted_text(rule, reasons), Tone.QUIET, indent=5))
    return blocks


def _must_be_told(reason: Reason) -> bool:
    """Whether a reason must not be only counted: a no names every rule that decides it."""
    return reason.verdict is Verdict.FAILS or reason.until is not None


def _counted_text(rule: str, reasons: Sequence[Reason]) -> str:
    """What is left of one rule, in one line."""
    verdicts = list(dict.fromkeys(reason.verdict.value for reason in reasons))
    labels = listed(dict.fromkeys(f"{reason.number} {row_label(reason)}" for reason in reasons), _MOST_NAMED)
    return f"and {len(reasons)} more of {rule}, {' or '.join(verdicts)}: {labels}"


def reason_blocks(number: str, reason: Reason, level: int, seen: Seen | None = None) -> list[Block]:
    """Return one reason as an editor of rules reads it; level 3 adds sources and the way to what decides."""
    seen = seen or Seen()
    if level < _SOURCES:
        if reason.level == _ADVICE or reason.rule in seen.rules:
            return _in_short(number, reason, seen)
        seen.rules[reason.rule] = number
    blocks: list[Block] = [_headline(number, reason, level), *_facts(number, reason, level, seen)]
    if level >= _SOURCES and reason.step is not None:
        blocks.append(line("how it was reckoned:", Tone.QUIET, indent=5))
        for step in reason.step.inputs:
            blocks.extend(step_blocks(_below(number, reason, step), step, seen))
    return blocks


def _in_short(number: str, reason: Reason, seen: Seen) -> list[Block]:
    """One reason in a line or two: its verdict, both numbers, what was measured, and what is asked."""
    parts = [limits_text(reason, f"{reason.quantity or 'here'} "), *_measured(number, reason)]
    if not reason.quantity:
        parts.insert(0, reason.sentence)
    if reason.until is not None:
        parts.append(f"fails from {months_text(reason.until)}")
    parts += [need.ask for need in reason.needs[:1]]
    if reason.house:
        parts.append("by your house file")
    if reason.accept and not seen.accepting:
        seen.accepting = True
        parts.append(
            f"to accept this, or any other told in short: --open with its number, as --open {number}"
        )
    head = (
        Part(f"{reason.level} {reason.id}", Tone.HEAD),
        Part(f"  {verdict_text(reason)}", reason_tone(reason)),
    )
    told = "; ".join(dict.fromkeys(filter(None, parts)))
    seen.rules.setdefault(reason.rule, number)
    return [Labelled(number, (*head, Part(f". {sentence(told)}")), width=5)]


def _measured(number: str, reason: Reason) -> list[str]:
    """What was measured or told of the tank and decides, with its grounds, but for the main quantity."""
    out: dict[str, None] = {}
    for step in reason.decides:
        told = [ground_text(ground) for ground in step.grounds if _of_the_tank(ground)]
        if told:
            grounds = ", ".join(dict.fromkeys(told))
            main = value_text(step.value) == value_text(reason.here)
            out.setdefault(grounds if main else f"{said(step)}, {grounds}")
    rest = len(out) - _MOST_IN_SHORT
    more = [f"and {counted(rest, 'more value')} like these: --open {number}"] if rest > 0 else []
    return [*list(out)[:_MOST_IN_SHORT], *more]


def _of_the_tank(ground: Ground) -> bool:
    """Whether somebody measured or told it of this tank: no card, and not what counts until it is told."""
    default = ground.text in SAYS_NOTHING or ground.text.startswith(_BY_DEFAULT)
    return not default and not ground.text.startswith((*_CARD, *_REPEATS))


def verdict_text(reason: Reason) -> str:
    """Return the verdict in the language's words, with margin and steps: ``fails by 8 ±1 cm (8 steps)``."""
    if reason.verdict is Verdict.UNDECIDED:
        lean = f", leans {reason.lean}" if reason.lean else ""
        margin = margin_figure(reason.margin, ", margin ") if _has_numbers(reason) else ""
        return f"undecided: {reason.cause or 'not known'}{lean}{margin}"
    before = " by " if reason.verdict in (Verdict.FAILS, Verdict.HOLDS) else ", margin "
    return reason.verdict.value + margin_figure(reason.margin, before, reason.margin_steps)


def _has_numbers(reason: Reason) -> bool:
    """Whether what was found is a number at all; a margin from all that is possible tells nothing."""
    return reason.here is None or reason.here.known or reason.here.best is not None


def _below(number: str, reason: Reason, step: Step) -> str:
    """The number of a step: that of its reason and the path from there."""
    return f"{number}{step.id.removeprefix(reason.id)}"


def _headline(number: str, reason: Reason, level: int) -> Block:
    parts = (
        Part(f"{reason.level} ", Tone.BAD if reason.level == "danger" else Tone.PLAIN),
        Part(reason.rule if level >= _SOURCES else reason.id, Tone.HEAD),
        Part(f"  {verdict_text(reason)}", reason_tone(reason)),
    )
    return Labelled(number, parts, width=5)


def _fact(label: str, *parts: str) -> Block:
    """One labelled line; every second part is quiet."""
    tones = (Tone.PLAIN, Tone.QUIET)
    shown = tuple(Part(text, tones[index % 2]) for index, text in enumerate(parts))
    return Labelled(label, shown, Tone.QUIET, indent=5, width=_LABEL)


def _facts(number: str, reason: Reason, level: int, seen: Seen) -> Iterator[Block]:
    yield line(sentences((reason.sentence, echo_text(reason))), indent=5)
    yield from _numbers(reason)
    if reason.matters and level >= _SOURCES:
        yield _fact("matters", reason.matters)
    if reason.remedy and (reason.verdict is Verdict.FAILS or level >= _SOURCES):
        yield _fact("remedy", reason.remedy)
    yield from _rests_on(number, reason, level, seen)
    yield from _needs(reason.needs, level)
    if reason.until is not None:
        yield _fact("until", f"holds now, fails from {months_text(reason.until)}")
    if reason.disputed:
        yield _fact(
            "disputed", "two sources disagree; the stricter one counts, and the other would change this"
        )
    for change in reason.house:
        yield _fact("house", change)
    for index, part in enumerate(reason.accept.split("\n") if reason.accept else ()):
        yield _fact("" if index else "to paste", part)
    if level >= _SOURCES:
        yield _fact("source", support_text(reason) or "none given")
        yield from (_fact("weakest", reason.weakest) for _ in range(bool(reason.weakest)))
        yield from (_fact("then do", duty) for duty in reason.duties)
        yield _fact("node", reason.id)


def _numbers(reason: Reason) -> Iterator[Block]:
    """What was found and what is wanted; nothing where neither is a number or a word."""
    here, wanted = value_text(reason.here), wanted_text(reason.wanted_low, reason.wanted_high)
    if not wanted and (reason.here is None or reason.here.truth is not None):
        return
    told = filter(None, (f"{reason.quantity} {here}".strip(), f"wanted {wanted}" if wanted else ""))
    ahead = f" {ahead_text(reason.months_ahead)}" if reason.months_ahead else ""
    yield _fact("here", ", ".join(told) + ahead)


def _rests_on(number: str, reason: Reason, level: int, seen: Seen) -> Iterator[Block]:
    """The cells that decide, those of one ground together; without any, the grounds of the numbers."""
    if not reason.decides:
        told = [ground for ground in grounds_of(reason) if ground.text not in SAYS_NOTHING]
        yield from (_fact("numbers", text) for text in (_grounds(tuple(told), level),) if text)
        return
    by_ground: dict[str, list[Step]] = {}
    told_of = reason.decides[: _MOST_CELLS if level < _ALL else None]
    for step in told_of:
        if (
            level < _SOURCES
            and step.grounds
            and all(ground.text.startswith(_BY_DEFAULT) for ground in step.grounds)
        ):
            continue
        earlier = seen.earlier(step, _below(number, reason, step))
        text = f"as in {earlier.partition('/')[0]}" if earlier else _grounds(step.grounds, level)
        by_ground.setdefault(text, []).append(step)
    for index, (text, steps) in enumerate(by_ground.items()):
        parts = [part for step in steps for part in (said(step), f"{_path(reason, step, level)}; ")]
        parts[-1] = parts[-1].removesuffix("; ")
        yield _fact("" if index else "rests on", *parts, f": {text}" if text else "")
    rest = len(reason.decides) - len(told_of)
    if rest:
        yield _fact("", f"and {counted(rest, 'more value')} like these: --open {number}")


def _path(reason: Reason, step: Step, level: int) -> str:
    """Where a cell stands in its rule, to open it by; what cards say has it from level 3 on."""
    of_cards = level < _SOURCES and not any(map(_of_the_tank, step.grounds))
    return "" if of_cards else f" [{step.id.removeprefix(reason.id).removeprefix('/')}]"


def _needs(needs: Sequence[Need], level: int) -> Iterator[Block]:
    shown = needs[: _MOST_NEEDS if level < _ALL else None]
    for index, need in enumerate(shown):
        yield _fact("" if index else "needs", f"{need.measure}({', '.join(need.subjects)}): {need.ask}")
    if len(needs) > len(shown):
        yield _fact("", f"and {counted(len(needs) - len(shown), 'more reading')}")


def _grounds(grounds: tuple[Ground, ...], level: int) -> str:
    told = [ground for ground in grounds if level >= _SOURCES or not ground.text.startswith(_REPEATS)]
    return " | ".join(dict.fromkeys(_ground(ground, level) for ground in told or grounds))


def _ground(ground: Ground, level: int) -> str:
    """Where a value comes from: at level 2 who says it, the day, the instrument and the error, no more."""
    if level >= _SOURCES:
        return ground_text(ground, full=True)
    if ground.on is None:
        return ground_text(ground)
    dated = f", {day_text(ground.on)}" if ground.age_days is not None else ""
    how = (part for part in ground.source.split("; ") if part and not part.startswith("written as"))
    return "; ".join((ground_text(ground) + dated, *how))
