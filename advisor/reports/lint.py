"""What speaks against rule files: each finding with its place, its mend and a case to paste."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.lintfindings import LintAnswer, LintFinding
from advisor.reports.page import Blank, Block, Page, Part, Tone, Verbatim, line
from advisor.reports.problems import problems_page, short_line
from advisor.reports.wording import counted, listed


def lint_page(answer: LintAnswer, level: int = 1, *, short: bool = False) -> Page:
    """Return every finding, then how much was looked into."""
    if short:
        return tuple(Verbatim((Part(short_line(each.problem)),)) for each in answer.findings)
    blocks: list[Block] = []
    for each in answer.findings if level > 0 else ():
        blocks.extend(_finding(each))
        blocks.append(Blank())
    return (*blocks, *_counts(answer, level))


def _finding(found: LintFinding) -> Iterator[Block]:
    """One finding, its case below it."""
    yield from problems_page((found.problem,))
    if found.example:
        yield line("to paste:" if found.code == "lint-221" else "for example:", Tone.QUIET, indent=2)
    for text in found.example.splitlines():
        yield Verbatim((Part(text),))


def _counts(answer: LintAnswer, level: int) -> Iterator[Block]:
    """How many findings, and what was not looked into."""
    wrong = sum(each.counts for each in answer.findings)
    notes = len(answer.findings) - wrong
    looked = counted(answer.rules, "rule or preference", "rules and preferences") + " looked into"
    where = f" in {answer.tank}" if answer.tank else ""
    told = counted(wrong, "finding") if wrong else "nothing against them"
    more = f", {counted(notes, 'note')}" if notes else ""
    yield line(f"{looked}{where}: {told}{more}.", Tone.BAD if wrong else Tone.GOOD)
    if answer.not_analysed:
        names = f": {listed(answer.not_analysed, len(answer.not_analysed))}" if level >= 2 else ": --level 2"
        skipped = counted(len(answer.not_analysed), "rule or definition", "rules and definitions")
        yield line(
            f"Not analysed for what can never be: {skipped} that ask about many things at once{names}.",
            Tone.QUIET,
        )
