"""Light at a point, and what readings say of the lamps, as pages."""

from __future__ import annotations

from math import exp

from advisor.model.lightanswer import FaceLight, LampFit, LightAnswer, LightFitAnswer, ReadingFit
from advisor.reports.page import Block, Cells, Grid, Page, Part, Tone, labelled
from advisor.reports.wording import counted, listed, sentence
from advisor.units import format_number

_CAPS = (18, 18, 40)
_DOWN_DEG = 175.0
"""From here on a face is said to look straight down."""
_MUCH = 5.0
"""Percent from which a part of the light is worth a line."""


def light_page(answer: LightAnswer, level: int = 1) -> Page:
    """Return the light at one point; what it rests on comes from level 1 on, every part from level 2."""
    if answer.best is None or answer.low is None or answer.high is None:
        return _unknown(answer)
    head = f"{_umol(answer.best)} PAR, {_umol(answer.low)} to {_umol(answer.high)}"
    if answer.at_most:
        head = f"at most {_umol(answer.high)} PAR"
    if answer.face is not None:
        head += ", on a sensor that looks up"
    blocks: list[Block] = [labelled(answer.place, head, Tone.HEAD)]
    if answer.changed and answer.before is not None:
        blocks.append(
            labelled("CHANGED", f"{', '.join(answer.changed)}; as it is now {_umol(answer.before)} PAR")
        )
        blocks += [labelled("CAUTION", text, Tone.BAD) for text in answer.cautions]
    blocks += _face(answer.face)
    if answer.dose_low is not None and answer.dose_high is not None:
        dose = f"{answer.dose_low:.1f} to {answer.dose_high:.1f} mol/m²/d, {answer.hours}"
        blocks.append(labelled("A DAY", dose))
    blocks += _own(answer)
    if level == 0:
        return tuple(blocks)
    return (
        *blocks,
        *_grounds(answer, level),
        *(labelled("NOTE", sentence(note), Tone.QUIET) for note in _notes(answer)),
    )


def _face(face: FaceLight | None) -> list[Block]:
    """What the surface of the place itself gets."""
    if face is None:
        return []
    whole = f"{_umol(face.low)} to {_umol(face.high)}"
    light = f"{whole} PAR" if face.best is None else f"{_umol(face.best)} PAR, {whole}"
    told = f"{_looks(face)}: {light}"
    if face.sand_percent >= _MUCH:
        told += f"; {face.sand_percent:.0f} % of it from the sand"
    if face.counts:
        told += "; the rules go by this"
    return [labelled("FACE", told)]


def _looks(face: FaceLight) -> str:
    """Which way a surface looks, in words."""
    if face.slope_deg >= _DOWN_DEG:
        return "looks straight down"
    to = f"to the {face.side}" if face.side else "to a side that is not told"
    return f"tilted {face.slope_deg:.0f}° {to}"


def _umol(value: float) -> str:
    """PAR as a keeper would say it."""
    return format_number(round(value) if value < 100 else 5 * round(value / 5))


def _unknown(answer: LightAnswer) -> Page:
    blocks: list[Block] = [labelled(answer.place, "not known yet", Tone.OPEN)]
    blocks += _own(answer)
    blocks += [labelled("" if row else "TELL", sentence(text)) for row, text in enumerate(answer.missing)]
    return (*blocks, *(labelled("NOTE", sentence(note), Tone.QUIET) for note in answer.notes))


def _own(answer: LightAnswer) -> list[Block]:
    """What was read at the very place, and whether the model agrees."""
    if answer.own is None:
        return []
    told = f"{_umol(answer.own.best)} PAR, {_umol(answer.own.low)} to {_umol(answer.own.high)}"
    steps = [labelled("", step) for step in answer.own.reckoned]
    if answer.own.at_face:
        told += ", on the face of the rock"
    if answer.agrees is None:
        return [labelled("YOU READ", told), *steps]
    word = "agrees" if answer.agrees else "does not agree: read again, or look what moved; answers cover both"
    return [labelled("YOU READ", f"{told}; {word}", Tone.GOOD if answer.agrees else Tone.BAD), *steps]


def _grounds(answer: LightAnswer, level: int) -> list[Block]:
    """What the value rests on."""
    lamps = [f"{each.lamp} {each.percent:.0f} %" for each in answer.by_lamp if each.percent >= 1.0]
    blocks = [labelled("FROM", listed(lamps))] if lamps else []
    if answer.over_walls_percent >= _MUCH:
        blocks.append(labelled("", f"{answer.over_walls_percent:.0f} % of it comes over the glass walls"))
    dark = [f"{each.body} keeps off {each.percent:.0f} %" for each in answer.shaded
            if level >= 2 or each.percent >= _MUCH]  # fmt: skip
    if dark:
        blocks.append(labelled("SHADE", listed(dark)))
    if answer.model is not None and answer.readings:
        blocks.append(labelled("MODEL", f"the lamps as told would give {_umol(answer.model)} PAR"))
    if answer.near:
        near = [
            f"{each.place} {_umol(each.par_umol)} PAR, {each.apart_cm:.0f} cm off{', odd' * each.odd}"
            for each in answer.near
        ]
        blocks.append(
            labelled("READINGS", f"{counted(answer.readings, 'reading')}; the nearest {listed(near)}")
        )
    elif answer.by_lamp:
        blocks.append(
            labelled("READINGS", "none: only the lamps as told. One reading would halve the doubt.")
        )
    return list(blocks)


def _notes(answer: LightAnswer) -> list[str]:
    notes = list(answer.notes)
    if abs(answer.moved_cm) >= 1.0:
        notes.insert(0, f"{answer.place} was set {_moved(answer)}")
    return notes


def _moved(answer: LightAnswer) -> str:
    """How far a place was moved, and onto what."""
    far = f"{abs(answer.moved_cm):.0f} cm"
    if answer.face is not None and answer.face.set_onto:
        return f"{far} aside, onto the nearest {answer.face.set_onto} of rock"
    return f"{far} {'up' if answer.moved_cm > 0 else 'down'}, onto the rock below it"


def light_fit_page(answer: LightFitAnswer, level: int = 1) -> Page:
    """Return what the readings say of lamps, water and each other."""
    if answer.missing:
        return tuple(
            labelled("" if row else "TELL", sentence(text)) for row, text in enumerate(answer.missing)
        )
    blocks: list[Block] = []
    if answer.lamps:
        blocks.append(
            Grid((_row("lamp", "photons", "against what was told"), *map(_lamp, answer.lamps)), _CAPS)
        )
    if answer.kd is not None and answer.kd_low is not None and answer.kd_high is not None:
        lost = [100.0 * (1.0 - exp(-each)) for each in (answer.kd, answer.kd_low, answer.kd_high)]
        told = f"takes {lost[0]:.0f} % of the light on each metre, {lost[1]:.0f} to {lost[2]:.0f} %"
        blocks.append(labelled("WATER", told))
    if answer.readings:
        shown = answer.readings if level >= 1 else tuple(each for each in answer.readings if each.odd)
        rows = tuple(map(_reading, shown))
        blocks.append(Grid((_row("reading", "read", "expected from all others"), *rows), _CAPS))
    if answer.rms_percent is not None and len(answer.readings) > 1:
        blocks.append(
            labelled(
                "LEFT OUT",
                f"each reading guessed from the others: off by {answer.rms_percent:.0f} % on the whole",
            )
        )
    if not answer.readings:
        blocks.append(
            labelled(
                "READINGS", "none that can be compared: take two or more, at places whose position is told"
            )
        )
    odd = [each.place for each in answer.readings if each.odd]
    if odd:
        blocks.append(labelled("ODD", f"{listed(odd)}: read again, or look what moved since", Tone.BAD))
    return (*blocks, *(labelled("NOTE", sentence(note), Tone.QUIET) for note in answer.notes))


def _row(*texts: str) -> Cells:
    return Cells(tuple(Part(text, Tone.HEAD) for text in texts))


def _lamp(each: LampFit) -> Cells:
    times = f"{each.times:.2f} times, {each.times_low:.2f} to {each.times_high:.2f}"
    return Cells((Part(each.lamp), Part(f"{each.photons_umol_per_s:.0f} µmol/s"), Part(times)))


def _reading(each: ReadingFit) -> Cells:
    side = "brighter" if each.deviations > 0 else "darker"
    off = f"{_umol(each.expected_umol)} PAR; read {side} by {abs(each.deviations):.1f} deviations"
    tone = Tone.BAD if each.odd else Tone.PLAIN
    return Cells((Part(each.place), Part(f"{_umol(each.par_umol)} PAR"), Part(off, tone)))
