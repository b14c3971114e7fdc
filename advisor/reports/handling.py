"""The handling sheet: what must never be done stands before anything else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from advisor.model.handling import HandlingAnswer, HandlingStep
from advisor.reports.footer import caution_blocks, more_blocks, parted
from advisor.reports.page import Block, Labelled, Page, Part, Tone, labelled, line
from advisor.reports.wording import grade_text, sentence

_WIDTH = 10


@dataclass(slots=True)
class _Sources:
    """The sources of a page, each with the number it is named by."""

    listed: bool = True
    """Whether they are listed at the end; else only how sure each is stands with its line."""
    numbers: dict[tuple[str, str], int] = field(default_factory=dict)

    def mark(self, step: HandlingStep) -> str:
        """The number of a line's source and its grade, in brackets."""
        if not step.source:
            return " [no source]"
        own = ", your own file" if step.own else ""
        if not self.listed:
            return f" [{grade_text(step.grade)}{own}]"
        number = self.numbers.setdefault((step.source, step.grade), len(self.numbers) + 1)
        return f" [{number}, {grade_text(step.grade)}{own}]"

    def blocks(self) -> list[Block]:
        """The list of sources."""
        return [
            labelled("" if number > 1 else "SOURCES", f"{number}  {source}", Tone.QUIET)
            for (source, _), number in self.numbers.items()
        ]


def handling_page(answer: HandlingAnswer, level: int = 1) -> Page:
    """Return the sheet; level 0 leaves out how things are done, and tells of a plan what comes first."""
    sources = _Sources(listed=level > 0)
    refused = _steps("NO", answer.refused, sources, Tone.CAUTION)
    cautions = caution_blocks(answer.cautions, level, coral="")
    never = _steps("NEVER", answer.never, sources, Tone.CAUTION)
    first = _first(answer, sources)
    if level == 0 and answer.about_to:
        all_told = never if answer.not_read else []
        return tuple(parted(refused, _head(answer), all_told, cautions, first, _foot(answer)))
    body = [first] if level == 0 else [first, *_ways(answer, sources)]
    signs = _steps("SIGNS", answer.signs, sources, Tone.HEAD)
    helps = _steps("GET HELP", answer.helps, sources, Tone.CAUTION)
    groups = (
        refused,
        _head(answer),
        never,
        cautions,
        *body,
        signs,
        helps,
        _steps("ABOVE ALL", answer.defers, sources, Tone.HEAD),
        sources.blocks(),
        _foot(answer),
    )
    return tuple(parted(*groups))


def _head(answer: HandlingAnswer) -> list[Block]:
    cards = f" (card {', '.join(answer.cards)})" if 0 < len(answer.cards) <= 4 else ""
    blocks: list[Block] = [labelled(answer.asked, f"{answer.title}{cards}", width=_WIDTH)]
    if answer.known_as:
        blocks.append(labelled("", sentence(answer.known_as)))
    if answer.stricter:
        blocks.append(labelled("STRICTER", sentence(answer.stricter), Tone.OPEN))
    if answer.not_recognised:
        text = f"I do not know what '{answer.doing}' would do, so this is the whole sheet."
        blocks.append(labelled("NOT KNOWN", text, Tone.OPEN))
    elif answer.about_to:
        text = f"I understood: {', '.join(answer.about_to)}. For anything else ask for the whole sheet."
        blocks.append(labelled("ABOUT TO", text))
    if answer.not_read:
        words = ", ".join(f"'{word}'" for word in answer.not_read)
        text = f"I do not know what {words} would do, so all that must never be done is told."
        blocks.append(labelled("NOT KNOWN", text, Tone.OPEN))
    blocks.extend(labelled("", sentence(text), Tone.OPEN) for text in answer.read_as)
    return blocks


def _steps(label: str, steps: Sequence[HandlingStep], sources: _Sources, tone: Tone) -> list[Block]:
    """Lines under one label, each with its source; what to do instead below it."""
    blocks: list[Block] = []
    for step in steps:
        blocks.append(_labelled("" if blocks else label, step, sources, tone))
        if step.instead:
            blocks.append(labelled("", f"Instead: {sentence(step.instead)}", Tone.GOOD))
    return blocks


def _labelled(label: str, step: HandlingStep, sources: _Sources, tone: Tone, text: str = "") -> Block:
    parts = (Part(text or sentence(step.text)), Part(sources.mark(step), Tone.QUIET))
    return Labelled(label, parts, tone, 0, _WIDTH)


def _first(answer: HandlingAnswer, sources: _Sources) -> list[Block]:
    """What must be at hand, with what for where that is not the same for all."""
    every = set(_titles(answer.first))
    blocks: list[Block] = []
    for step in answer.first:
        whom = "" if set(step.actions) == every else f"For {', '.join(step.actions)}: "
        text = f"{whom}{sentence(step.text)}"
        blocks.append(_labelled("" if blocks else "FIRST", step, sources, Tone.OPEN, text))
    if blocks:
        blocks.append(labelled("", "Until all of this is at hand, wait.", Tone.OPEN))
    return blocks


def _titles(steps: Iterable[HandlingStep]) -> list[str]:
    """The actions of some lines, in order, each once."""
    return list(dict.fromkeys(title for step in steps for title in step.actions))


def _ways(answer: HandlingAnswer, sources: _Sources) -> list[list[Block]]:
    """How each thing is done, under its own heading; a line told of several stands under the first."""
    groups: list[list[Block]] = []
    for title in _titles(answer.ways):
        steps = [step for step in answer.ways if step.actions[0] == title]
        if steps:
            heading: list[Block] = [line(", ".join(steps[-1].actions).upper(), Tone.HEAD)]
            groups.append([*heading, *(_labelled("", step, sources, Tone.PLAIN) for step in steps)])
    return groups


def _foot(answer: HandlingAnswer) -> list[Block]:
    notes: list[Block] = [labelled("NOTE", sentence(note)) for note in answer.notes]
    return [*notes, *more_blocks(answer.more, answer.given)]
