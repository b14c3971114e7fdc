"""Several corals answered in one table: where tonight, where for good, what settles it."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import Reason, WhereAnswer, Word
from advisor.reports.footer import caution_blocks, gate_blocks, more_blocks, parted
from advisor.reports.house import loosened_blocks
from advisor.reports.page import Block, Cells, Grid, Page, Part, Tone, labelled
from advisor.reports.rows import SURE, word_text, word_tone
from advisor.reports.wording import sentence, sentences

_CAPS = (22, 16, 16)


_JOINT = "Each reckons with those above it standing where they go tonight. Place them in this order."


def batch_page(answers: Sequence[WhereAnswer]) -> Page:
    """Return one line for each coral, every caution for people before them."""
    rows = [Cells((Part(""), *(Part(name, Tone.QUIET) for name in ("tonight", "for good", ""))))]
    rows.extend(map(_row, answers))
    first = answers[0]
    return tuple(parted(
        _cautions(answers),
        loosened_blocks(tuple(dict.fromkeys(each for answer in answers for each in answer.loosened)), 0),
        gate_blocks(_gates(answers), 1),
        [Grid(tuple(rows), _CAPS)],
        [labelled("NOTE", _JOINT)],
        more_blocks((f"where {first.coral.id}", "where --level 2", "--json"), first.given),
    ))  # fmt: skip


def _row(answer: WhereAnswer) -> Cells:
    name = Part(answer.coral.id, Tone.HEAD)
    tonight = Part(answer.tonight.place if answer.tonight is not None else "nowhere here")
    best = answer.places[0] if answer.places else None
    if best is None or best.word is Word.NO:
        return Cells((name, tonight, Part("NO", Tone.BAD), Part(_why_no(answer))))
    word = Part(word_text(best), word_tone(best.word))
    asks = answer.needs[0].ask if answer.needs and best.word not in SURE else ""
    text = _sure(answer) if best.word in SURE else f"perhaps {best.place}. {sentence(asks)}".strip()
    return Cells((name, tonight, word, Part(text)))


def _why_no(answer: WhereAnswer) -> str:
    """What to do if nowhere is good tonight, and what stands against every place for good."""
    tonight = answer.tonight_note if answer.tonight is None or not answer.no_counts else ""
    counts = ", ".join(f"{count} {why}" for count, why in answer.no_counts)
    return sentences(filter(None, (tonight, f"no place for good: {counts}" if counts else "")))


def _sure(answer: WhereAnswer) -> str:
    """The best place and the next two that would do."""
    names = [place.place for place in answer.places if place.word in SURE]
    others = f", else {' or '.join(names[1:3])}" if names[1:] else ""
    return f"on {names[0]}{others}."


def _cautions(answers: Sequence[WhereAnswer]) -> list[Block]:
    """Each caution once, with the corals it is about."""
    about: dict[str, list[str]] = {}
    for answer in answers:
        for caution in answer.cautions:
            about.setdefault(caution.text, []).extend(caution.about or (answer.coral.id,))
    told = [(caution, about.pop(caution.text)) for answer in answers for caution in answer.cautions
            if caution.text in about]  # fmt: skip
    named = [caution.model_copy(update={"about": tuple(dict.fromkeys(names))}) for caution, names in told]
    return caution_blocks(named, 1, coral="")


def _gates(answers: Sequence[WhereAnswer]) -> list[Reason]:
    """The gates of all of them, one for each rule and verdict."""
    first: dict[tuple[str, str], Reason] = {}
    for answer in answers:
        for gate in answer.gates:
            first.setdefault((gate.rule, gate.verdict.value), gate)
    return list(first.values())
