"""The answer to "what is wrong in my tank?": now, later with dates, open, accepted, silent."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import AuditAnswer, Finding, Reason
from advisor.reports.detail import Seen, reason_blocks
from advisor.reports.footer import caution_blocks, footer_blocks, gate_blocks, need_blocks, parted
from advisor.reports.page import Block, Cells, Grid, Page, Part, Tone, labelled, line
from advisor.reports.rows import here_texts, limits_text, reason_tone, remark, row_label
from advisor.reports.wording import counted, day_text, listed, month_text, months_text, sentence, wanted_text

_CAPS = (3, 38, 13, 14)
_LATER_CAPS = (3, 36, 17)
_ALIKE = 3
_LISTED = 3


def audit_page(answer: AuditAnswer, level: int = 1) -> Page:
    """Return the whole audit; level 0 keeps the headline and the cautions."""
    head: list[Block] = [labelled(answer.tank, _title(answer), width=len(answer.tank) + 3)]
    head.append(line(_headline(answer), Tone.BAD if answer.harmed_now else Tone.HEAD))
    cautions = caution_blocks(answer.cautions, level)
    if level == 0:
        return (*head, *cautions)
    return tuple(
        parted(
            [*head, *cautions],
            gate_blocks(answer.gates, level),
            _section("NOW", answer.now, level),
            _section("LATER", answer.later, level),
            _details(answer, level),
            _around(answer, level),
            [*need_blocks(answer.needs, level), *footer_blocks(answer, level, _fallback(answer))],
        )
    )


def _title(answer: AuditAnswer) -> str:
    month = answer.on.month - 1 + answer.horizon_months
    end = answer.on.replace(year=answer.on.year + month // 12, month=month % 12 + 1, day=1)
    animals = counted(answer.animals, "animal")
    return f"{animals}, today {day_text(answer.on)}, looking to {month_text(end)}"


def _headline(answer: AuditAnswer) -> str:
    """Return the audit in one breath."""
    pieces = []
    if answer.harmed_now:
        verb = "is" if answer.harmed_now == 1 else "are"
        pieces.append(f"{counted(answer.harmed_now, 'animal')} {verb} being harmed now.")
    elif answer.now:
        pieces.append(f"No animal is being harmed now; {counted(len(answer.now), 'thing')} to put right.")
    else:
        pieces.append("Nothing to put right now.")
    if answer.harmed_later:
        more = " more" if answer.harmed_now else ""
        pieces.append(f"{answer.harmed_later}{more} will be by {_horizon(answer)}.")
    if answer.open:
        verb = "is" if len(answer.open) == 1 else "are"
        pieces.append(f"{counted(len(answer.open), 'question')} {verb} open.")
    return " ".join(pieces)


def _horizon(answer: AuditAnswer) -> str:
    month = answer.on.month - 1 + answer.horizon_months
    return month_text(answer.on.replace(year=answer.on.year + month // 12, month=month % 12 + 1, day=1))


def _section(title: str, findings: Sequence[Finding], level: int) -> list[Block]:
    if not findings:
        return []
    later = title == "LATER"
    names = ("when", "what it will be") if later else ("here", "needed", "")
    rows = [Cells((Part(""), Part(title, Tone.HEAD), *(Part(name, Tone.QUIET) for name in names)))]
    shown, hidden = _grouped(findings, level)
    figures = here_texts(finding.reason for finding in shown)
    for finding, here in zip(shown, figures, strict=True):
        number, said = Part(str(finding.number)), Part(sentence(finding.reason.sentence))
        figures_of = _later_cells(finding.reason) if later else _now_cells(finding.reason, here)
        rows.append(Cells((number, said, *figures_of)))
        rows.extend(_under(finding, hidden.get(finding.number, 0)))
    return [Grid(tuple(rows), _LATER_CAPS if later else _CAPS, numbers=(0,))]


def _now_cells(reason: Reason, here: str) -> tuple[Part, ...]:
    wanted = wanted_text(reason.wanted_low, reason.wanted_high)
    return Part(here, reason_tone(reason)), Part(wanted), Part(remark(reason))


def _later_cells(reason: Reason) -> tuple[Part, ...]:
    when = months_text(reason.until) if reason.until is not None else "by then"
    return Part(when, Tone.OPEN), Part(limits_text(reason, lead=""))


def _under(finding: Finding, hidden: int) -> list[Cells]:
    rows: list[Cells] = []
    do = finding.do or finding.reason.remedy
    if do:
        rows.append(Cells((Part(""), Part(f"do: {do}"))))
    behind = hidden + finding.others
    if behind:
        rows.append(Cells((Part(""), Part(f"and {behind} more like it: --level 2", Tone.QUIET))))
    return rows


def _grouped(findings: Sequence[Finding], level: int) -> tuple[list[Finding], dict[int, int]]:
    """Return what to show, and how many like it stand behind the last of each rule."""
    if level >= 2:
        return list(findings), {}
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.reason.rule, []).append(finding)
    shown = [finding for finding in findings if finding in by_rule[finding.reason.rule][:_ALIKE]]
    hidden = {
        alike[_ALIKE - 1].number: len(alike) - _ALIKE for alike in by_rule.values() if len(alike) > _ALIKE
    }
    return shown, hidden


def _details(answer: AuditAnswer, level: int) -> list[Block]:
    if level < 2:
        return []
    blocks: list[Block] = []
    seen = Seen()
    numbered = [(str(finding.number), finding.reason) for finding in (*answer.now, *answer.later)]
    numbered += [(f"o{index}", reason) for index, reason in enumerate(answer.open, 1)]
    for number, reason in numbered:
        blocks.extend(reason_blocks(number, reason, level, seen))
    return blocks


def _around(answer: AuditAnswer, level: int) -> list[Block]:
    blocks: list[Block] = []
    if answer.move_first:
        blocks.append(
            labelled(
                "MOVE FIRST",
                f"{listed(answer.move_first)}: every clash between two has one of these in it.",
                width=12,
            )
        )
    if answer.open:
        blocks.append(labelled("OPEN", _open_text(answer.open), Tone.OPEN, width=12))
    if answer.accepted:
        blocks.append(labelled("ACCEPTED", _accepted_text(answer.accepted, level), Tone.QUIET, width=12))
    blocks.extend(
        labelled("BY EYE" if not index else "", sentence(look), width=12)
        for index, look in enumerate(answer.by_eye)
    )
    if answer.silent:
        one = len(answer.silent) == 1
        blocks.append(
            labelled(
                "SILENT",
                f"no rule spoke about {counted(len(answer.silent), 'animal')}: "
                f"{listed(answer.silent)}. {'It is' if one else 'They are'} not known to be fine.",
                Tone.OPEN,
                width=12,
            )
        )
    return blocks


def _open_text(reasons: Sequence[Reason]) -> str:
    causes: dict[str, list[str]] = {}
    for reason in reasons:
        label = row_label(reason)
        about = next((subject for subject in reason.subjects if subject not in label), "")
        causes.setdefault(remark(reason).partition(",")[0], []).append(f"{about} {label}".strip())
    groups = (f"{cause} ({len(names)}): {listed(names, _LISTED)}" for cause, names in causes.items())
    return sentence("; ".join(groups))


def _accepted_text(reasons: Sequence[Reason], level: int) -> str:
    if level >= 2:
        return " ".join(
            f"{reason.rule}({', '.join(reason.subjects)}): {sentence(reason.sentence)}" for reason in reasons
        )
    return f"by you: {listed([' and '.join(reason.subjects) for reason in reasons])}."


def _fallback(answer: AuditAnswer) -> tuple[str, ...]:
    first = ("--open 1",) if answer.now or answer.later else ()
    return (*first, "--level 2", "--json")
