"""A coral's note card: what it needs, how sure that is, and who says so."""

from __future__ import annotations

from advisor.model.results import CardAnswer, CardLine
from advisor.reports.footer import caution_blocks
from advisor.reports.page import Block, Cells, Grid, Labelled, Page, Part, Tone, labelled
from advisor.reports.wording import grade_text, listed, sentence

_CAPS = (22, 40)


def card_page(answer: CardAnswer, level: int = 1) -> Page:
    """Return the card; sources come from level 2 on, disagreements with theirs always."""
    which = f"(card {answer.card})" if answer.card else "(no card)"
    head: list[Block] = [Labelled(answer.title, (Part(which, Tone.QUIET),), width=len(answer.title) + 2)]
    if answer.known_as:
        head.append(labelled("", sentence(answer.known_as), width=2))
    if answer.also:
        head.append(labelled("also", ", ".join(answer.also), Tone.QUIET, width=6))
    head.extend(caution_blocks(answer.cautions, level, answer.card or answer.title))
    if level == 0:
        return tuple(head)
    before = ("", *(each.label for each in answer.lines))
    rows = tuple(
        _row(each, label != each.label, level) for each, label in zip(answer.lines, before, strict=False)
    )
    told = disagreements(answer)
    disputes = [labelled("" if n else "DISAGREE", sentence(text), Tone.OPEN) for n, text in enumerate(told)]
    return (*head, Grid(rows, _CAPS), *disputes)


def disagreements(answer: CardAnswer) -> tuple[str, ...]:
    """Return each thing sources disagree on, with what each of them says and who it is."""
    told: dict[str, list[str]] = {}
    for each in answer.lines:
        if each.disputed:
            who = ", ".join(filter(None, (each.source, grade_text(each.grade))))
            told.setdefault(each.label, []).append(f"{each.text} ({who})" if who else each.text)
    return tuple(f"{label}: {' - or '.join(views)}" for label, views in told.items())


def heading(answer: CardAnswer) -> str:
    """Return what a card was asked for as, where that is not its own name."""
    plain = {answer.card, answer.title}
    return listed([name for name in answer.called if name.lower() not in plain])


def _row(each: CardLine, named: bool, level: int) -> Cells:
    pieces = [grade_text(each.grade)] if each.grade else []
    if each.disputed:
        pieces.append("sources disagree")
    if level >= 2 and each.source:
        pieces.append(each.source)
    tone = Tone.OPEN if each.disputed else Tone.QUIET
    return Cells(
        (Part(each.label if named else "", Tone.HEAD), Part(each.text), Part("; ".join(pieces), tone))
    )
