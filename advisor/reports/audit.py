"""The answer to "what is wrong in my tank?": now, later with dates, open, accepted, silent."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import AuditAnswer, Finding, Reason, Verdict
from advisor.reports.detail import reason_blocks, reasons_in_detail
from advisor.reports.figures import wanted_text
from advisor.reports.footer import (
    caution_blocks,
    footer_blocks,
    gate_blocks,
    need_blocks,
    only_after,
    parted,
)
from advisor.reports.house import loosened_blocks
from advisor.reports.page import Block, Cells, Grid, Page, Part, Tone, labelled, line
from advisor.reports.rows import echo_text, here_texts, limits_text, reason_tone, remark, row_label
from advisor.reports.steps import Seen
from advisor.reports.wording import counted, day_text, listed, month_text, months_text, sentence, sentences

_CAPS = (3, 38, 13, 14)
_LATER_CAPS = (3, 36, 17)
_ALIKE = 3
_NOW, _POOR, _LATER, _OPEN = "NOW", "NOT GOOD EITHER", "LATER", "OPEN"
_OPEN_ADVICE = "OPEN, SMALLER ADVICE"
_YES_NO = {"yes", "no"}
_NO_NUMBERS = {"here": None, "wanted_low": None, "wanted_high": None}
_LISTED = 3
_NAMED = 12


def audit_page(answer: AuditAnswer, level: int = 1) -> Page:
    """Return the whole audit; level 0 keeps the headline and the cautions."""
    head: list[Block] = [labelled(answer.tank, _title(answer), width=len(answer.tank) + 3)]
    head.append(line(_headline(answer), Tone.BAD if answer.harmed_now or _shut(answer) else Tone.HEAD))
    cautions = caution_blocks(answer.cautions, level, given=answer.given)
    house = loosened_blocks(answer.loosened, level, accepted=False)
    gates = gate_blocks(answer.gates, level)
    if level == 0:
        return (*head, *gates, *house, *cautions)
    return tuple(
        parted(
            [*head, *cautions],
            house,
            gates,
            *_sections(answer, level),
            _around(answer, level),
            [*need_blocks(answer.needs, level), *footer_blocks(answer, level, _fallback(answer))],
        )
    )


def _sections(answer: AuditAnswer, level: int) -> list[list[Block]]:
    """Harm first, then what is not good, then what is to come; advice is only counted at a glance."""
    if level >= 2:
        return _all_in_detail(answer, level)
    harm = [finding for finding in answer.now if finding.reason.level == "danger"]
    poor = [finding for finding in answer.now if finding.reason.level == "warning"]
    later = [finding for finding in answer.later if finding.reason.level != "advice"]
    small = [finding for finding in (*answer.now, *answer.later) if finding.reason.level == "advice"]
    count = sum(1 + finding.others for finding in small)
    rules = listed(list(dict.fromkeys(finding.reason.rule for finding in small)), _LISTED)
    rest: list[Block] = (
        [line(f"and {counted(count, 'piece')} of smaller advice ({rules}): --level 2", Tone.QUIET)]
        if small
        else []
    )
    return [_section(_NOW, harm, _ALIKE), _section(_POOR, poor, 1), _section(_LATER, later, _ALIKE - 1), rest]


def _all_in_detail(answer: AuditAnswer, level: int) -> list[list[Block]]:
    """Every finding and every open question, in the order they are numbered."""
    seen = Seen()
    now = _in_detail(_NOW, answer.now, level, seen)
    later = _in_detail(_LATER, answer.later, level, seen)
    still_open = reasons_in_detail([(reason.number, reason) for reason in answer.open], level, seen)
    advice = reasons_in_detail([(reason.number, reason) for reason in answer.open_advice], level, seen)
    return [
        now,
        later,
        [line(_OPEN, Tone.HEAD), *still_open] if still_open else [],
        [line(_OPEN_ADVICE, Tone.HEAD), *advice] if advice else [],
    ]


def _title(answer: AuditAnswer) -> str:
    month = answer.on.month - 1 + answer.horizon_months
    end = answer.on.replace(year=answer.on.year + month // 12, month=month % 12 + 1, day=1)
    animals = counted(answer.animals, "animal")
    return f"{animals}, today {day_text(answer.on)}, looking to {month_text(end)}"


def _headline(answer: AuditAnswer) -> str:
    """Return the audit in one breath: first what is wrong with the whole tank, which is told by itself."""
    pieces = []
    shut = _shut(answer)
    if shut:
        pieces.append(f"{counted(shut, 'thing')} in the whole tank must be fixed first.")
    if answer.harmed_now:
        verb = "is" if answer.harmed_now == 1 else "are"
        pieces.append(f"{counted(answer.harmed_now, 'animal')} {verb} being harmed now{_who(answer.harmed)}.")
    elif answer.now and shut:
        pieces.append(f"{counted(len(answer.now), 'more thing')} to put right.")
    elif answer.now:
        pieces.append(f"No animal is being harmed now; {counted(len(answer.now), 'thing')} to put right.")
    elif not shut and not answer.doing_badly:
        untested = only_after(answer.gates)
        pieces.append(f"Nothing is known to be wrong now{', but a test is missing' if untested else ''}.")
    if answer.doing_badly:
        verb = "is" if len(answer.doing_badly) == 1 else "are"
        whom = listed(answer.doing_badly)
        cause = "" if answer.now or shut else ", and no rule finds why"
        pieces.append(f"{whom} {verb} told to do badly{cause}.")
    if answer.harmed_later:
        more = " more" if answer.harmed_now else ""
        who = _who(answer.harmed_then)
        pieces.append(f"{answer.harmed_later}{more} will be by {_horizon(answer)}{who}.")
    if answer.open:
        verb = "is" if len(answer.open) == 1 else "are"
        pieces.append(f"{counted(len(answer.open), 'question')} {verb} open.")
    return " ".join(pieces)


def _shut(answer: AuditAnswer) -> int:
    return sum(1 for gate in answer.gates if gate.verdict is Verdict.FAILS)


def _who(names: Sequence[str]) -> str:
    return f": {listed(names, _NAMED)}" if names else ""


def _horizon(answer: AuditAnswer) -> str:
    month = answer.on.month - 1 + answer.horizon_months
    return month_text(answer.on.replace(year=answer.on.year + month // 12, month=month % 12 + 1, day=1))


def _section(title: str, findings: Sequence[Finding], alike: int) -> list[Block]:
    """Return some findings; of one rule at most `alike` are shown, the rest counted."""
    if not findings:
        return []
    later = title == _LATER
    names = ("when", "what it will be") if later else ("here", "needed", "")
    rows = [Cells((Part(""), Part(title, Tone.HEAD), *(Part(name, Tone.QUIET) for name in names)))]
    shown, hidden = _grouped(findings, alike)
    figures = here_texts(map(_measured, shown))
    for finding, here in zip(shown, figures, strict=True):
        number, said = Part(str(finding.number)), Part(sentence(finding.reason.sentence))
        cells = _later_cells(finding.reason) if later else _now_cells(finding, here)
        rows.append(Cells((number, said, *cells)))
        rows.extend(_under(finding, hidden.get(finding.number, 0)))
    return [Grid(tuple(rows), _LATER_CAPS if later else _CAPS, numbers=(0,))]


def _grouped(findings: Sequence[Finding], alike: int) -> tuple[list[Finding], dict[int, int]]:
    """Return what to show, and how many like it stand behind the last of each rule."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.reason.rule, []).append(finding)
    shown = [finding for group in by_rule.values() for finding in group[:alike]]
    hidden = {
        group[alike - 1].number: len(group) - alike + sum(finding.others for finding in group[alike:])
        for group in by_rule.values()
        if len(group) > alike
    }
    return sorted(shown, key=lambda finding: finding.number), hidden


def _measured(finding: Finding) -> Reason:
    """The reason without a yes or no for a number: its sentence says that better."""
    here = finding.reason.here
    plain = here is not None and not here.unit and (here.truth is not None or set(here.words) <= _YES_NO)
    return finding.reason.model_copy(update=_NO_NUMBERS) if plain else finding.reason


def _now_cells(finding: Finding, here: str) -> tuple[Part, ...]:
    reason = _measured(finding)
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
    echoes = echo_text(finding.reason)
    if echoes:
        rows.append(Cells((Part(""), Part(echoes, Tone.QUIET))))
    behind = hidden + finding.others
    if behind:
        rows.append(Cells((Part(""), Part(_more_text(finding.number, behind), Tone.QUIET))))
    return rows


def _more_text(number: int, behind: int) -> str:
    """How many more like a finding there are, and the numbers that open them."""
    first, last = number + 1, number + behind
    numbers = f"{first}" if behind == 1 else f"{first} to {last}"
    return f"and {behind} more like it, {numbers}: --open {first}"


def _in_detail(title: str, findings: Sequence[Finding], level: int, seen: Seen) -> list[Block]:
    """Return some findings as an editor of rules reads them, each with what to do."""
    blocks: list[Block] = [line(title, Tone.HEAD)] if findings else []
    for finding in findings:
        blocks.extend(reason_blocks(str(finding.number), finding.reason, level, seen))
        if finding.do and finding.do != finding.reason.remedy:
            blocks.append(labelled("do", finding.do, Tone.GOOD, indent=5))
        if finding.others:
            more = _more_text(finding.number, finding.others)
            blocks.append(line(more, Tone.QUIET, indent=5))
    return blocks


def _around(answer: AuditAnswer, level: int) -> list[Block]:
    blocks: list[Block] = []
    if answer.move_first:
        blocks.append(labelled("MOVE FIRST", _moves_text(answer), width=12))
    if answer.open:
        blocks.append(labelled("OPEN", _open_text(answer.open), Tone.OPEN, width=12))
    blocks.extend(
        labelled("" if index else "ACCEPTED", _accepted_text(reason, level), Tone.QUIET, width=12)
        for index, reason in enumerate(answer.accepted)
    )
    blocks.extend(
        labelled("BY EYE" if not index else "", sentence(f"check: {look}"), width=12)
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


def _moves_text(answer: AuditAnswer) -> str:
    """Whom to move, that the moves told above belong together, and who finds no place."""
    together = (
        f"the {counted(len(answer.moves), 'move')} above are judged together, in that order"
        if len(answer.moves) > 1
        else ""
    )
    after = "after that " if answer.moves else ""
    nowhere = f"{after}no free place is a sure yes for {listed(answer.nowhere)}" if answer.nowhere else ""
    head = f"{listed(answer.move_first)}: every clash between two has one of these in it"
    return sentences((head, together, nowhere))


def _open_text(reasons: Sequence[Reason]) -> str:
    causes: dict[str, list[str]] = {}
    for reason in reasons:
        label = row_label(reason)
        about = next((subject for subject in reason.subjects if subject not in label), "")
        causes.setdefault(remark(reason).partition(",")[0], []).append(f"{about} {label}".strip())
    groups = (
        f"{cause} ({len(names)}): {listed(list(dict.fromkeys(names)), _LISTED)}"
        for cause, names in causes.items()
    )
    return sentence("; ".join(groups))


def _accepted_text(reason: Reason, level: int) -> str:
    """Who it is about, both numbers, and the keeper's own words; from level 2 on the rule."""
    who = " and ".join(reason.subjects)
    about = f"{reason.rule}({', '.join(reason.subjects)})" if level >= 2 else who
    limits = limits_text(reason, _quantity(reason)) or reason.sentence
    return sentences((f"{about}: {limits}", *reason.house[-1:]))


def _quantity(reason: Reason) -> str:
    """What was found, before its number; not again what the subjects say."""
    return f"{reason.quantity.partition(' to ')[0]} " if reason.quantity else "here "


def _fallback(answer: AuditAnswer) -> tuple[str, ...]:
    first = ("--open 1",) if answer.now or answer.later else ()
    return (*first, "--level 2", "--json")
