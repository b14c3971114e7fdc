"""Note cards of several corals as one page of HTML: to look at, to print, and to cut apart."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from advisor.model.results import CardAnswer, CardLine
from advisor.reports.card import disagreements, heading
from advisor.reports.document import whole_page
from advisor.reports.notecard_drawing import Scales, drawing, scales_of
from advisor.reports.notecard_style import STYLE
from advisor.reports.wording import counted, grade_text, sentence

_SELLER = "ask the seller"
_PARTS = ("light", "flow", "aggression", "reach", "growth", "footing", "food", "hazard", "keeping")
"""Parts of a card in the order they are printed; what was found in studies and what is asked follow."""
_SHORT = {"found in a study": "studies"}
_GRADES = ("study", "maker", "experience", "guess")
_RANKS = {"weapon": 5, "stands a sting": 5, "poisons the water": 3, "difficulty": 5}
"""Lines that give a rank, and how far it goes."""


def notecards_html(answers: Sequence[CardAnswer]) -> str:
    """Return a page that needs no other file, several cards on a printed sheet.

    Every card carries its own cautions, legend and sources, since cards are cut apart.
    All drawings of a page share their scales.
    """
    scales = scales_of(answers)
    cards = "\n".join(_card(answer, scales) for answer in answers)
    body = (
        f'<header class="sheet"><h1>Note cards</h1><p>{counted(len(answers), "coral")}. '
        "Drawings share one scale. Print them lying, on A4 or letter paper, "
        "and cut along the dashed lines.</p></header>\n"
        f'<main class="cards">\n{cards}\n</main>\n'
    )
    return whole_page("Note cards", STYLE, body)


def _card(answer: CardAnswer, scales: Scales) -> str:
    notes = _Sources()
    parts = [
        _head(answer, notes),
        *(f'<p class="caution"><b>Caution</b> {escape(each.text)}</p>' for each in answer.cautions),
        drawing(answer, scales),
        f'<dl class="needs">{"".join(_part(name, answer, notes) for name in _PARTS)}</dl>',
        _part("found in a study", answer, notes, wrap=True),
        _list("Sources disagree", "disputes", [sentence(text) for text in disagreements(answer)]),
        _list("Ask the seller", "asks", [line.text for line in answer.lines if line.topic == _SELLER]),
        _foot(notes),
    ]
    group = escape(answer.group or "other")
    return f'<article class="card {group}">{"".join(parts)}</article>'


class _Sources:
    """Numbers the sources of one card in the order they are met."""

    def __init__(self) -> None:
        self.numbers: dict[str, int] = {}

    def mark(self, line: CardLine) -> str:
        """Return the mark of a line: a sign for its grade, a number for its source."""
        if not line.grade:
            return ""
        number = f"{self.numbers.setdefault(line.source, len(self.numbers) + 1)}" if line.source else ""
        title = f"{line.source} ({grade_text(line.grade)})"
        return f'<sup class="{line.grade}" title="{escape(title)}">{number}</sup>'


def _head(answer: CardAnswer, notes: _Sources) -> str:
    for_whom = heading(answer)
    told = "".join(
        f"<p>{escape(text)}</p>"
        for text in (f"For {for_whom}" if for_whom else "", sentence(answer.known_as))
        if text.strip(". ")
    )
    marks = "".join(notes.mark(line) for line in answer.lines if line.topic == "name")
    taxon = f"<i>{escape(answer.taxon)}</i>{marks}" if answer.taxon else ""
    kind = f'<span class="kind">{escape(answer.group.replace("-", " "))}</span>' if answer.group else ""
    return f"<header>{kind}<h2>{escape(answer.title)}</h2>{taxon}{told}</header>"


def _part(name: str, answer: CardAnswer, notes: _Sources, *, wrap: bool = False) -> str:
    """One part of a card: its name once, and its lines beside it."""
    lines = [line for line in answer.lines if line.topic == name]
    if not lines:
        return ""
    rows = "".join(f"<dd>{_line(line, name)}{notes.mark(line)}</dd>" for line in lines)
    part = f'<div class="{name.replace(" ", "-")}"><dt>{escape(_SHORT.get(name, name))}</dt>{rows}</div>'
    return f'<dl class="needs">{part}</dl>' if wrap else part


def _line(line: CardLine, part: str) -> str:
    label = "" if line.label in ("note", part) else f"<span>{escape(line.label)}</span> "
    differs = '<b class="differs" title="sources disagree">≠</b> ' if line.disputed else ""
    return f"{differs}{label}{escape(line.text)}{_pips(line)}"


def _pips(line: CardLine) -> str:
    """A rank as full and empty dots; the words beside it say the same."""
    top = _RANKS.get(line.label)
    if top is None or line.high is None:
        return ""
    full = round(line.high)
    return f' <span class="pips" aria-hidden="true">{"●" * full}{"○" * max(0, top - full)}</span>'


def _list(title: str, kind: str, texts: Sequence[str]) -> str:
    if not texts:
        return ""
    items = "".join(f"<li>{escape(text)}</li>" for text in texts)
    return f'<section class="{kind}"><h3>{title}</h3><ul>{items}</ul></section>'


def _foot(notes: _Sources) -> str:
    legend = " ".join(f'<span class="{grade}">{grade_text(grade)}</span>' for grade in _GRADES)
    sources = "; ".join(f"<b>{number}</b> {escape(text)}" for text, number in notes.numbers.items())
    return f'<footer><p class="legend">{legend}</p><p>{sources}</p></footer>'
