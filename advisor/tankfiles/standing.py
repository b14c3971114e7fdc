"""Lamps and rocks held against the glass, each other and what can be: all of it counts, nothing is silent."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from advisor.errors import Related, Severity, Span
from advisor.model.lighting import LampBody, LampForm, RockBody
from advisor.model.tank import Glass, Lamp
from advisor.tankfiles.ledger import Ledger
from advisor.units import format_number

MOST_PER_JOULE = 5.85
"""Photons of 700 nm, the reddest that count, in a joule: wavelength / (N_A h c). [µmol/J]"""
CIRCUIT_W = 3680.0
"""What one circuit of a house gives: 16 A at 230 V, common practice. [W]"""
NARROWEST_DEG = 5.0
"""Lamps with a lens go down to some 10 degrees, common practice. [degrees]"""
HIGHEST_CM = 250.0
"""A lamp under the ceiling of a room hangs lower. [cm]"""
OUT_CM = 1.0
"""A rock may reach so far out of the glass before anything is said: panes are never that straight. [cm]"""
GLASS_CM = (10.0, 500.0)
"""Sides of tanks in a house; gaps in a tank are told up to 5 m, too. [cm]"""
LAMP_SPANS = {
    **{key: (key,) for key in ("size", "over-water", "photons", "watts", "beam")},
    "at": ("at", "place"),
}
"""Keys of a lamp whose places in the file `check_lamp` can use, each with all its spellings."""

_MEASURED = "measure from the inside front left corner, or correct glass:"


def check_glass(sizes_cm: Mapping[str, float], span: Span | None, ledger: Ledger) -> None:
    """Warn of inside measures that no tank in a house has.

    Parameters
    ----------
    sizes_cm
        Length, width and height by the names `Glass` has for them. [cm]
    """
    low, high = GLASS_CM
    sides = [sizes_cm[name] for name in ("length_cm", "width_cm", "height_cm")]
    odd = [side for side in sides if not low <= side <= high]
    if odd:
        meant = [
            factor
            for factor in (0.1, 0.01, 10.0, 100.0, 1000.0)
            if all(low <= s * factor <= high for s in sides)
        ]
        as_meant = " x ".join(_n(side * meant[0]) for side in sides) if meant else ""
        ledger.note(
            "value-136",
            f"a side of {_n(odd[0])} cm is hardly possible",
            span,
            label=f"{_n(low)} to {_n(high)} cm is usual",
            mend=f"did you mean {as_meant} cm?" if meant else "read it again, with its unit",
            severity=Severity.WARNING,
        )


def check_lamp(lamp: Lamp, spans: Mapping[str, Span], glass: Glass | None, ledger: Ledger) -> None:
    """Note what of one lamp cannot be, hardly can, or is left for readings to find.

    Parameters
    ----------
    spans
        Where its keys are told, by those of `LAMP_SPANS` that are.
    """
    body = lamp.body
    if body.photons_umol_per_s is not None and body.watts is not None:
        most = MOST_PER_JOULE * body.watts
        if body.photons_umol_per_s > most:
            what = f"{lamp.id} cannot send {_n(body.photons_umol_per_s)} µmol/s from {_n(body.watts)} W"
            label = f"{_n(body.watts)} W make at most {_n(most)} µmol/s of light"
            ledger.note("value-132", what, spans.get("photons"), label=label, mend="unknown")
    for key, what, beside in _hardly(body, glass):
        ledger.note(
            "value-136",
            f"{what} of {lamp.id} is hardly possible",
            spans.get(key, lamp.span),
            label=beside,
            mend="read it again, or write unknown",
            severity=Severity.WARNING,
        )
    if body.middle_cm is not None and glass is not None:
        _note_beside(lamp.id, body, body.middle_cm, glass, spans.get("at", lamp.span), ledger)
    _note_untold(lamp, spans, ledger)


def _hardly(body: LampBody, glass: Glass | None) -> list[tuple[str, str, str]]:
    """Key, what is told there, and what that is held against, of all that is hardly possible."""
    found = []
    photons, watts, beam, over = body.photons_umol_per_s, body.watts, body.beam_deg, body.over_water_cm
    house = f"one circuit of a house gives {_n(CIRCUIT_W)} W"
    if photons is not None and photons > MOST_PER_JOULE * CIRCUIT_W:
        least = format_number(photons / MOST_PER_JOULE)
        found.append(("photons", f"photons: {_n(photons)} µmol/s", f"it takes {least} W or more; {house}"))
    if watts is not None and watts > CIRCUIT_W:
        found.append(("watts", f"watts: {_n(watts)} W", house))
    if beam is not None and beam < NARROWEST_DEG:
        found.append(
            ("beam", f"beam: {_n(beam)} degrees", f"below {_n(NARROWEST_DEG)} degrees it is no lamp")
        )
    if over is not None and over > HIGHEST_CM:
        found.append(("over-water", f"over water: {_n(over)} cm", "that is above the ceiling of a room"))
    longest = 0.0 if glass is None else math.hypot(glass.length_cm, glass.width_cm)
    if longest and max(body.length_cm, body.width_cm) > 2.0 * longest:
        beside = f"from corner to corner the tank measures {format_number(longest)} cm"
        found.append(("size", f"size: {_n(max(body.length_cm, body.width_cm))} cm", beside))
    return found


def _note_beside(
    name: str, body: LampBody, middle_cm: tuple[float, float], glass: Glass, span: Span | None, ledger: Ledger
) -> None:
    """Say of a lamp that no part of it hangs over the tank."""
    half = _half_cm(body.length_cm, body.width_cm, body.turned_deg)
    room = (glass.length_cm, glass.width_cm)
    beside = [
        f"{axis} goes from 0 to {_n(side)} cm"
        for axis, at, reach, side in zip("xy", middle_cm, half, room, strict=True)
        if at + reach < 0.0 or at - reach > side
    ]
    if beside:
        what = f"{name} hangs beside the tank, no part of it over the water"
        label = " and ".join(beside)
        ledger.note("place-151", what, span, label=label, mend=_MEASURED, severity=Severity.WARNING)


def _half_cm(length_cm: float, width_cm: float, turned_deg: float) -> tuple[float, float]:
    """How far a level rectangle reaches from its middle along x and y. [cm]"""
    cos, sin = abs(math.cos(math.radians(turned_deg))), abs(math.sin(math.radians(turned_deg)))
    return (length_cm * cos + width_cm * sin) / 2.0, (length_cm * sin + width_cm * cos) / 2.0


def _note_untold(lamp: Lamp, spans: Mapping[str, Span], ledger: Ledger) -> None:
    """Say what is reckoned with where a lamp tells only a part of how it hangs and shines."""
    body = lamp.body
    untold = []
    if body.middle_cm is None and body.over_water_cm is not None and "at" not in spans:
        untold.append(("at", 'at: "35, 30 cm"', "where it hangs is not known"))
    if body.over_water_cm is None and body.middle_cm is not None and "over-water" not in spans:
        untold.append(("over water", "over water: 20 cm", "where it hangs is not known"))
    if body.hangs and body.length_cm == 0.0 and body.form is not LampForm.POINT and "size" not in spans:
        size = "size: 80 cm" if body.form is LampForm.TUBE else "size: 30 x 20 cm"
        untold.append(("size", size, "it is reckoned as one point"))
    if body.hangs and not {"photons", "watts"} & spans.keys():
        untold.append(("photons or watts", "photons: 350 umol/s", "only readings can tell how strong it is"))
    if untold:
        what = f"{lamp.id} does not tell {' and '.join(name for name, _, _ in untold)}"
        so = "; ".join(so for _, _, so in untold)
        mend = ", ".join(line for _, line, _ in untold)
        ledger.note("key-123", what, lamp.span, label=so, mend=mend, severity=Severity.NOTE)


def check_lamps(lamps: Sequence[Lamp], ledger: Ledger) -> None:
    """Warn of lamps that hang in exactly one place, which a copied line does."""
    first: dict[tuple[object, ...], Lamp] = {}
    for lamp in lamps:
        if not lamp.body.hangs:
            continue
        place = (lamp.body.middle_cm, lamp.body.over_water_cm)
        other = first.setdefault(place, lamp)
        if other is not lamp:
            related = (Related(other.span, other.id),) if other.span is not None else ()
            ledger.note(
                "place-153",
                f"{other.id} and {lamp.id} hang in the same place",
                lamp.span,
                related=related,
                mend="correct the position of one, or let it be where two share one housing",
                severity=Severity.WARNING,
            )


def check_rock(
    name: str, body: RockBody | None, spans: Mapping[str, Span], glass: Glass | None, ledger: Ledger
) -> None:
    """Note a rock told by its shape that does not fit into the glass; of scans their own reader tells.

    Parameters
    ----------
    spans
        Where `at` and `size` are told.
    """
    if body is None or body.shape is None or body.middle_cm is None or body.size_cm is None or glass is None:
        return
    # every shape holds the ellipse in its outline, so that nothing is told that may not be so
    along, across, up = body.size_cm
    cos, sin = math.cos(math.radians(body.turned_deg)), math.sin(math.radians(body.turned_deg))
    half = (math.hypot(along * cos, across * sin) / 2.0, math.hypot(along * sin, across * cos) / 2.0)
    room = (glass.length_cm, glass.width_cm, glass.height_cm)
    low = (body.middle_cm[0] - half[0], body.middle_cm[1] - half[1], body.foot_cm)
    high = (body.middle_cm[0] + half[0], body.middle_cm[1] + half[1], body.foot_cm + up)
    sides = (("left", "right"), ("front", "back"), ("bottom", "top"))
    over = {
        side: far
        for (less, more), lowest, highest, most in zip(sides, low, high, room, strict=True)
        for side, far in ((less, -lowest), (more, highest - most))
        if far > OUT_CM
    }
    if not over:
        return
    holds = f"the glass holds {' x '.join(_n(side) for side in room)} cm"
    outside = any(
        lowest >= most or highest <= 0.0 for lowest, highest, most in zip(low, high, room, strict=True)
    )
    bigger = any(
        highest - lowest > most + OUT_CM for lowest, highest, most in zip(low, high, room, strict=True)
    )
    if outside or bigger:
        what = f"{name} is bigger than the tank" if bigger else f"{name} lies outside the glass"
        span = spans.get("size" if bigger else "at")
        ledger.note("place-151", what, span, label=holds, mend="correct at, size, foot or turned")
        return
    far = ", ".join(f"{_n(cm)} cm at the {side}" for side, cm in over.items())
    what = f"{name} reaches out of the glass: {far}"
    mend = "correct at, size, foot or turned"
    ledger.note("place-151", what, spans.get("at"), label=holds, mend=mend, severity=Severity.WARNING)


def _n(value: float) -> str:
    """A number as a keeper writes it."""
    return format_number(round(value, 2), 9)
