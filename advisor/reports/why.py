"""The answer to "why there?" and "why not there?": every deciding rule with both numbers, and the cures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.model.results import Cure, Reason, Verdict, WhyAnswer, Word
from advisor.reports.detail import reasons_in_detail
from advisor.reports.figures import wanted_text
from advisor.reports.footer import (
    about_blocks,
    caution_blocks,
    coral_head,
    footer_blocks,
    gate_blocks,
    only_after,
    parted,
)
from advisor.reports.house import loosened_blocks
from advisor.reports.page import Block, Cells, Grid, Labelled, Page, Part, Tone, labelled, line
from advisor.reports.rows import (
    CAPS,
    HEADING,
    Choice,
    alike_text,
    best_bands,
    deciding,
    echo_text,
    folded,
    here_texts,
    how_text,
    named_text,
    reason_rows,
    reason_tone,
    remark,
    row_label,
    word_text,
    word_tone,
)
from advisor.reports.wording import counted, sentence, sentences

_MOST = 12
_HELD = 4
_OPEN = 6


def why_page(answer: WhyAnswer, level: int = 1) -> Page:
    """Return the whole answer; level 0 keeps the verdict and the cautions."""
    cautions = caution_blocks(answer.cautions, level, answer.coral.id, answer.given)
    house = loosened_blocks(answer.loosened, level)
    gates = gate_blocks(answer.gates, level)
    if level == 0:
        return (*gates, _verdict(answer, level), *house, *cautions)
    body = _rows(answer) if level == 1 else _details(answer, level)
    return tuple(
        parted(
            [_verdict(answer, level), coral_head(answer.coral), *cautions, *about_blocks(answer.coral)],
            house,
            gates,
            body,
            _cures(answer.cures),
            _duties(answer),
            footer_blocks(answer, level, _fallback(answer)),
        )
    )


def _verdict(answer: WhyAnswer, level: int) -> Block:
    place = answer.place
    counts = f"   {_tally(place.reasons, place.holds)}" if level >= 2 else ""
    at = f" {answer.coral.id} at {place.place}"
    after = only_after(answer.gates) if place.word is not Word.NO else ""
    return Labelled(
        word_text(place),
        (Part(at.strip(), Tone.HEAD), Part(f", {after}" if after else "", Tone.BAD), Part(counts)),
        word_tone(place.word),
        width=len(word_text(place)) + 2,
    )


def _tally(reasons: Sequence[Reason], holds: int) -> str:
    groups: dict[str, int] = {}
    for reason in reasons:
        if reason.verdict is Verdict.HOLDS:
            continue
        cause = f" ({reason.cause})" if reason.cause else ""
        key = f"{reason.level} {reason.verdict.value}{cause}"
        groups[key] = groups.get(key, 0) + 1
    return " | ".join([*(f"{count} {key}" for key, count in groups.items()), f"{holds} hold"])


def _rows(answer: WhyAnswer) -> list[Block]:
    """Every reason that fails in full, what is open with its question, what holds most narrowly."""
    reasons = answer.place.reasons
    fails = [reason for reason in reasons if reason.verdict is Verdict.FAILS or reason.until is not None]
    others = [reason for reason in reasons if reason.verdict is not Verdict.HOLDS and reason not in fails]
    still_open = deciding([reason for reason in others if reason.level != "advice"], _OPEN)
    alike = {**folded(fails), **still_open.alike}
    told = {each.id for others in alike.values() for each in others}
    fails = [reason for reason in fails if reason.id not in told]
    spoken = [*fails[:_MOST], *still_open.shown]
    holding = [reason for reason in reasons if reason.verdict is Verdict.HOLDS and reason not in fails]
    held = deciding(holding, _HELD if not fails else 2).shown
    seen: set[str] = set()
    rows: list[Cells] = [HEADING]
    for reason, here in zip(spoken, here_texts(spoken), strict=True):
        rows.extend(_reason_rows(reason, here, seen, alike.get(reason.id, ())))
    if held:
        rows.append(Cells((Part("fine, narrowest first" if spoken else "what decides", Tone.QUIET),)))
        rows.extend(_held_rows(held, best_bands(answer.place.comforts), seen))
    named = Choice(
        (*spoken, *held), tuple(reason for reason in others if reason not in spoken and reason.id not in told)
    )
    if named.named:
        rows.append(Cells((Part("also open", Tone.OPEN), Part(f"{named_text(named)}: --level 2"))))
    blocks: list[Block] = [Grid(tuple(rows), CAPS)]
    blocks.extend(_left_out(len(fails) - _MOST, answer.place.holds - len(held)))
    blocks.extend(labelled("THEN", sentence(change)) for change in answer.place.changes)
    return blocks


def _reason_rows(reason: Reason, here: str, seen: set[str], others: Sequence[Reason]) -> list[Cells]:
    """A reason with the others that its rule says in the same words, what it matters, and what helps."""
    wanted = wanted_text(reason.wanted_low, reason.wanted_high)
    label = Part(f"{reason.number} {row_label(reason)}", Tone.HEAD)
    rows = [Cells((label, Part(here, reason_tone(reason)), Part(wanted), Part(how_text(reason))))]
    said = alike_text(reason, others) if others else reason.sentence
    rows.append(Cells((Part(""), Part(sentences((remark(reason), said))))))
    rows.extend(
        Cells((Part(""), Part(text, Tone.QUIET))) for text in map(echo_text, (reason, *others)) if text
    )
    if others:
        numbers = ", ".join(each.number for each in others)
        rows.append(
            Cells(
                (Part(""), Part(f"and {len(others)} more, {numbers}: --open {others[0].number}", Tone.QUIET))
            )
        )
    if reason.verdict is Verdict.FAILS:
        if reason.matters:
            rows.append(Cells((Part("    why it matters", Tone.QUIET), Part(sentence(reason.matters)))))
        if reason.remedy:
            rows.append(Cells((Part("    what helps", Tone.QUIET), Part(sentence(reason.remedy)))))
    return [*rows, *_house_rows(reason, seen)]


def _house_rows(reason: Reason, seen: set[str]) -> list[Cells]:
    """What the keeper's own files changed here, under the row it touches; the second time in short."""
    rows: list[Cells] = []
    for change in reason.house:
        text = f"{_without_reason(change)}, as above" if change in seen else change
        seen.add(change)
        rows.append(Cells((Part(""), Part(sentence(text)))))
    return rows


def _without_reason(change: str) -> str:
    """What was changed, without its days and the keeper's words."""
    return change.partition(": ")[0].partition(" (")[0]


def _held_rows(held: Sequence[Reason], bands: Mapping[str, str], seen: set[str]) -> list[Cells]:
    rows: list[Cells] = []
    for row, reason in zip(reason_rows(held, bands=bands), held, strict=True):
        spare = remark(reason)
        last = row.cells[-1]
        told = Part(f"{spare}; {last.text}" if spare and last.text else spare or last.text, last.tone)
        rows.append(Cells((*row.cells[:-1], told)))
        rows.extend(_house_rows(reason, seen))
    return rows


def _left_out(spoken: int, held: int) -> list[Block]:
    blocks: list[Block] = []
    if spoken > 0:
        blocks.append(line(f"and {counted(spoken, 'more reason')}: --level 2", Tone.OPEN))
    if held > 0:
        blocks.append(
            line(f"{counted(held, 'other rule')} {'holds' if held == 1 else 'hold'} here.", Tone.QUIET)
        )
    return blocks


def _details(answer: WhyAnswer, level: int) -> list[Block]:
    reasons = answer.place.reasons
    holding = [reason for reason in reasons if reason.verdict is Verdict.HOLDS and reason.until is None]
    told = holding if level >= 4 else holding[:_HELD]
    shown = [reason for reason in reasons if reason not in holding or reason in told]
    blocks = reasons_in_detail([(reason.number, reason) for reason in shown], level)
    blocks.extend(_left_out(0, answer.place.holds - len(told)))
    blocks.extend(labelled("THEN", sentence(change)) for change in answer.place.changes)
    return blocks


def _cures(cures: Sequence[Cure]) -> list[Block]:
    if not cures:
        return []
    blocks: list[Block] = [line("What would make it a yes, each checked for the whole tank:", Tone.HEAD)]
    for letter, cure in zip("abcdefghijklmnopqrstuvwxyz", cures, strict=False):
        others = sentences(cure.changes) if cure.changes else "Nothing else changes."
        parts = (
            Part(sentence(cure.text)),
            Part(f" {cure.makes.value}", word_tone(cure.makes)),
            Part(f". {others}"),
        )
        blocks.append(Labelled(letter, parts, indent=2, width=3))
    return blocks


def _duties(answer: WhyAnswer) -> list[Block]:
    blocks: list[Block] = []
    duties = sentences((*answer.place.duties, answer.place.light_steps))
    if duties:
        blocks.append(labelled("THEN DO", duties))
    blocks.extend(
        labelled("BY EYE" if not index else "", sentence(f"check: {look}"))
        for index, look in enumerate(answer.by_eye)
    )
    return blocks


def _fallback(answer: WhyAnswer) -> tuple[str, ...]:
    return ("--level 2", "--open 1", "--json") if answer.place.reasons else ("--level 2", "--json")
