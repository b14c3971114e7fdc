"""Note cards of several corals as one Markdown text."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.model.results import CardAnswer, CardLine
from advisor.reports.card import disagreements, heading
from advisor.reports.wording import grade_text, sentence

_SELLER = "ask the seller"


def notecards_markdown(answers: Sequence[CardAnswer]) -> str:
    """Return the cards one below the other: cautions first, then each part with source and grade."""
    return "\n".join(_card(answer) for answer in answers)


def _card(answer: CardAnswer) -> str:
    rows = [_row(line) for line in answer.lines if line.topic != _SELLER]
    asks = [f"- [ ] {_plain(line.text)}" for line in answer.lines if line.topic == _SELLER]
    disputes = [f"- {_plain(sentence(text))}" for text in disagreements(answer)]
    for_whom = heading(answer)
    parts = [
        f"## {_plain(answer.title)}",
        f"*{_plain(answer.taxon)}*" if answer.taxon else "",
        _plain(f"For: {for_whom}") if for_whom else "",
        _plain(sentence(answer.known_as)) if answer.known_as else "",
        *(f"**Caution.** {_plain(caution.text)}" for caution in answer.cautions),
        "\n".join(["| about | what | value | grade | source |", "| --- | --- | --- | --- | --- |", *rows]),
        "\n".join(["### Sources disagree", "", *disputes]) if disputes else "",
        "\n".join(["### Ask the seller", "", *asks]) if asks else "",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _row(line: CardLine) -> str:
    value = _plain(line.text) + (" (sources disagree)" if line.disputed else "")
    cells = (_plain(line.topic), _plain(line.label), value, grade_text(line.grade), _plain(line.source))
    return f"| {' | '.join(cells)} |"


def _plain(text: str) -> str:
    """Text that Markdown leaves as it is."""
    return re.sub(r"([\\`*_\[\]<>|#~])", r"\\\1", " ".join(text.split()))
