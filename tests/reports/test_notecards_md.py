"""Note cards as Markdown."""

from __future__ import annotations

from markdown_it import MarkdownIt

from advisor.model.results import CardLine
from advisor.reports.notecards_md import notecards_markdown
from tests.reports import samples


def test_each_card_is_a_part_with_caution_lines_and_disputes() -> None:
    torch = samples.card_torch()
    text = notecards_markdown([torch, torch])
    assert text.count("## torch coral\n") == 2
    assert text.index("**Caution.**") < text.index("| about |")
    assert "| reach at night | 25 cm at most (sources disagree) | a guess | club handout |" in text
    assert "### Sources disagree\n\n- Reach at night" in text


def test_what_to_ask_is_a_list_to_tick() -> None:
    line = CardLine(label="ask the seller", text="How old?", topic="ask the seller")
    answer = samples.card_torch().model_copy(update={"lines": (line,)})
    assert "### Ask the seller\n\n- [ ] How old?" in notecards_markdown([answer])


def test_signs_of_markdown_in_a_card_stay_text() -> None:
    line = CardLine(label="note", text="a | b <b> *c*", topic="keeping")
    answer = samples.card_torch().model_copy(update={"lines": (line,)})
    made = MarkdownIt("commonmark").enable("table").render(notecards_markdown([answer]))
    assert "<td>a | b &lt;b&gt; *c*</td>" in made
