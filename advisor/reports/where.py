"""The answer to "where should it go?": tonight, for good, and what decides."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import PlaceAnswer, Verdict, WhereAnswer, Word
from advisor.reports.detail import reasons_in_detail
from advisor.reports.footer import (
    about_blocks,
    caution_blocks,
    coral_head,
    footer_blocks,
    gate_blocks,
    need_blocks,
    only_after,
    parted,
)
from advisor.reports.house import loosened_blocks
from advisor.reports.page import Block, Cells, Grid, Labelled, Line, Page, Part, Tone, labelled, line
from advisor.reports.rows import (
    CAPS,
    HEADING,
    SURE,
    WITH_FAULT,
    best_bands,
    deciding,
    named_text,
    reason_rows,
    warns_now,
    word_text,
    word_tone,
)
from advisor.reports.steps import Seen
from advisor.reports.wording import counted, listed, sentence, sentences

_SHOWN = (0, 3, 3, 6)
_ROWS = 4
_ADD_SPOT = "advisor tank add spot"


def where_page(answer: WhereAnswer, level: int = 1) -> Page:
    """Return the whole answer; level 0 keeps the verdict and the cautions."""
    cautions = caution_blocks(answer.cautions, level, answer.coral.id, answer.given)
    house = loosened_blocks(answer.loosened, level)
    gates = gate_blocks(answer.gates, level)
    if level == 0:
        return (*gates, labelled(answer.coral.id, _verdict_line(answer)), *house, *cautions)
    shown, unseen = _split(answer.places, level)
    return tuple(
        parted(
            [coral_head(answer.coral), *cautions, *about_blocks(answer.coral)],
            house,
            gates,
            _advice(answer),
            place_blocks(shown, level),
            _rest(answer, unseen),
            [*need_blocks(answer.needs, level), *footer_blocks(answer, level, _fallback(answer))],
        )
    )


def _split(places: Sequence[PlaceAnswer], level: int) -> tuple[list[PlaceAnswer], list[PlaceAnswer]]:
    if level >= len(_SHOWN):
        return list(places), []
    open_ones = [place for place in places if place.word is not Word.NO]
    shown = open_ones[: _SHOWN[level]] or list(places[:1])
    names = {place.place for place in shown}
    return shown, [place for place in places if place.place not in names]


def _verdict_line(answer: WhereAnswer) -> str:
    best = answer.places[0] if answer.places else None
    after = only_after(answer.gates)
    if best is None or best.word is Word.NO:
        return f"NO place here for good{_tonight_short(answer)}"
    also = sum(1 for place in answer.places[1:] if place.word in SURE)
    more = f", and {counted(also, 'more place')} that would do" if also else ""
    when = f", {after}" if after else ""
    return f"{word_text(best)}{when}: {best.place}{more}{_tonight_short(answer)}"


def _tonight_short(answer: WhereAnswer) -> str:
    best = answer.places[0].place if answer.places else ""
    if answer.tonight is None or answer.tonight.place == best or only_after(answer.gates):
        return ""
    return f". Tonight: {answer.tonight.place}"


def _advice(answer: WhereAnswer) -> list[Block]:
    best = answer.places[0] if answer.places else None
    tonight = answer.tonight
    after = only_after(answer.gates)
    if best is not None and tonight is not None and tonight.place == best.place and best.word in SURE:
        text = sentences(
            (
                f"{after}: on {best.place}" if after else f"on {best.place}",
                *dict.fromkeys((*tonight.duties, *best.duties)),
                best.light_steps,
                answer.tonight_note,
            )
        )
        return [labelled("PUT IT", _start_low(text), Tone.GOOD)]
    blocks: list[Block] = []
    if tonight is not None:
        place = f"{after}: {tonight.place}" if after else tonight.place
        text = sentences((place, *tonight.duties, tonight.light_steps, answer.tonight_note))
        blocks.append(labelled("TONIGHT", _start_low(text), Tone.GOOD))
    elif answer.tonight_note:
        blocks.append(labelled("TONIGHT", sentence(answer.tonight_note), Tone.OPEN))
    blocks.append(_for_good(best, after))
    if best is None and _ADD_SPOT not in answer.tonight_note:
        blocks.append(
            labelled("", f'No spot is free. Tell of another: {_ADD_SPOT} NAME --at "left, back, high"')
        )
    return blocks


def _start_low(text: str) -> str:
    return text[:1].lower() + text[1:]


def _for_good(best: PlaceAnswer | None, after: str) -> Block:
    if best is None or best.word is Word.NO:
        text = "nowhere in this tank as it is now."
        return labelled("FOR GOOD", text, Tone.BAD)
    if best.word in SURE:
        on = f"{after}: on {best.place}" if after else f"on {best.place}"
        text = sentences((on, *best.duties, best.light_steps))
        return labelled("FOR GOOD", _start_low(text), Tone.GOOD)
    but = _speaks_against(best)
    if best.word is Word.YES_BUT:
        return labelled("FOR GOOD", f"on {best.place}, but: {but}".rstrip(": "), Tone.OPEN)
    open_reason = next((each for each in best.reasons if each.verdict is Verdict.UNDECIDED), None)
    because = sentence(open_reason.sentence) if open_reason is not None else ""
    hope = f"the best so far is {best.place} ({best.word.value.split(',')[0].lower()})"
    told = (f"I cannot promise a place yet; {hope}", because, f"also there: {but}" if but else "")
    return labelled("FOR GOOD", sentences(told), Tone.OPEN)


def _speaks_against(place: PlaceAnswer) -> str:
    """What fails at a place that is not refused, or leans to failing, the worst of it and how much more."""
    if place.word not in WITH_FAULT:
        return ""
    told = [each for each in place.reasons if each.level == "warning" and warns_now(each)]
    worst = (
        sentence(f"{'' if told[0].verdict is Verdict.FAILS else 'perhaps '}{told[0].sentence}")
        if told
        else ""
    )
    return f"{worst} And {len(told) - 1} more." if len(told) > 1 else worst


def place_blocks(places: Sequence[PlaceAnswer], level: int) -> list[Block]:
    """Return the ranked places with the rows that decide, all in one grid."""
    if not places:
        return []
    rows: list[Cells] = [HEADING]
    details: list[list[Block]] = []
    seen = Seen()
    for rank, place in enumerate(places, 1):
        rows.extend(_place_rows(rank, place, level))
        if level >= 2:
            details.append(_place_details(rank, place, level, seen))
    return parted([Grid(tuple(rows), CAPS)], *details)


def _place_rows(rank: int, place: PlaceAnswer, level: int) -> list[Cells]:
    tie = "=" if place.rank and place.rank < rank else ""
    title = Part(f"{rank}{tie} {place.place}", Tone.HEAD)
    named = f"  ({place.name})" if place.name and place.name != place.place else ""
    rows = [Cells((title, Part(word_text(place) + named, word_tone(place.word))))]
    whole = level >= 4
    choice = deciding(place.reasons, len(place.reasons) if whole else _ROWS, fold=not whole)
    rows.extend(reason_rows(choice.shown, bands=best_bands(place.comforts), alike=choice.alike))
    if choice.named:
        rows.append(Cells((Part("    also open"), Part(named_text(choice), Tone.QUIET))))
    if place.light_steps and rank > 1:
        rows.append(Cells((Part("    getting used to it"), Part(place.light_steps))))
    rows.extend(Cells((Part("    then"), Part(change, Tone.OPEN))) for change in place.changes)
    return rows


def _place_details(rank: int, place: PlaceAnswer, level: int, seen: Seen) -> list[Block]:
    hold = "holds" if place.holds == 1 else "hold"
    blocks: list[Block] = [
        line(f"{rank} {place.place}: {word_text(place)}, {counted(place.holds, 'rule')} {hold}", Tone.HEAD)
    ]
    holding = [reason for reason in place.reasons if reason.verdict is Verdict.HOLDS and reason.until is None]
    told = holding if level >= 4 else holding[:_ROWS]
    shown = [reason for reason in place.reasons if reason not in holding or reason in told]
    blocks.extend(reasons_in_detail([(f"{rank}.{each.number}", each) for each in shown], level, seen))
    for comfort in place.comforts:
        points = f"{comfort.low:.2g} to {comfort.high:.2g} of {comfort.weight:g}"
        blocks.append(
            labelled(
                "comfort",
                f"{comfort.preference}: {points}. {sentence(comfort.sentence)}",
                Tone.QUIET,
                indent=5,
            )
        )
    return blocks


def _rest(answer: WhereAnswer, unseen: Sequence[PlaceAnswer]) -> list[Block]:
    blocks: list[Block] = []
    for word in Word:
        same = [place.place for place in unseen if place.word is word]
        if same and word is not Word.NO:
            text = f"at {counted(len(same), 'more place')}: {listed(same)}."
            label = "" if blocks else "ALSO"
            blocks.append(Labelled(label, (Part(f"{word.value} ", word_tone(word)), Part(text))))
    total = sum(count for count, _ in answer.no_counts)
    if total:
        groups = ", ".join(f"{count} {why}" for count, why in answer.no_counts)
        blocks.append(Line((Part("NO ", Tone.BAD), Part(f"at {counted(total, 'place')}: {groups}."))))
    return blocks


def _fallback(answer: WhereAnswer) -> tuple[str, ...]:
    if not answer.places:
        return ("--level 2", "--json")
    best = answer.places[0].place
    return (f"why {answer.coral.id} {best}", f"why-not {answer.coral.id} PLACE", "--level 2")
