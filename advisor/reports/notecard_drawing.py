"""What can be drawn of a note card: light as a column of water, flow as a ruler, reach as rings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from advisor.model.results import CardAnswer, CardLine

_LIGHT_TICKS = (0, 25, 100, 200, 400, 800)
_FLOW_TICKS = (0, 6, 15, 30, 60)
_RINGS_CM = (5, 10, 20, 30, 50)
_TOP, _BOTTOM = 13.0, 108.0
"""Where the column of water begins and ends on the drawing. [drawing units]"""
_LEFT, _RIGHT = 222.0, 326.0
"""Where the flow ruler begins and ends. [drawing units]"""
_CENTRE = (152.0, 61.0)
_RING_ROOM = 46.0


_WATER = (
    '<defs><linearGradient id="water" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#f6f0c4"/>'
    '<stop offset=".4" stop-color="#9fd0d6"/><stop offset="1" stop-color="#2b5a77"/></linearGradient></defs>'
)
"""Bright above, dark below."""


@dataclass(frozen=True, slots=True)
class Scales:
    """Upper ends of the three scales, the same for all cards that are printed together."""

    light_par: float
    flow_cm_per_s: float
    reach_cm: float


def scales_of(answers: Iterable[CardAnswer]) -> Scales:
    """Return scales that take in every card, so that cards can be compared."""
    lines = [line for answer in answers for line in answer.lines]
    return Scales(
        _largest(lines, "light", 400.0), _largest(lines, "flow", 30.0), _largest(lines, "reach", 10.0)
    )


def drawing(answer: CardAnswer, scales: Scales) -> str:
    """Return the drawing of a card as SVG; what the card does not tell is left out."""
    parts = [
        *_light(answer.lines, scales.light_par),
        *_rings(answer.lines, scales.reach_cm),
        *_flow(answer.lines, scales.flow_cm_per_s),
    ]
    if not parts:
        return ""
    return (
        '<svg viewBox="0 0 330 112" role="img" aria-label="light, reach and flow drawn to scale">'
        f"{_WATER}{''.join(parts)}</svg>"
    )


def _largest(lines: Iterable[CardLine], topic: str, least: float) -> float:
    return max((line.high for line in lines if line.topic == topic and line.high is not None), default=least)


def _spans(lines: Sequence[CardLine], label: str) -> list[tuple[float, float]]:
    """The ranges told under a label, disagreements included."""
    return [
        (line.low, line.high)
        for line in lines
        if line.label == label and line.low is not None and line.high is not None
    ]


def _share(value: float, top: float) -> float:
    """How far up a scale a value lies; the low end is drawn wider, for there small steps count."""
    return sqrt(min(value, top) / top) if top else 0.0


def _light(lines: Sequence[CardLine], top: float) -> list[str]:
    """The water column: bright at the top, the range it stands as a bracket, the best as a bar."""
    best, stands = _spans(lines, "good light"), _spans(lines, "light it stands")
    if not best and not stands:
        return []

    def height(par: float) -> float:
        return _BOTTOM - _share(par, top) * (_BOTTOM - _TOP)

    out = [
        '<text class="head" x="2" y="7">light, PAR</text>',
        f'<rect class="water" x="22" y="{_TOP:g}" width="26" height="{_BOTTOM - _TOP:g}" rx="3"/>',
    ]
    shown = [tick for tick in _LIGHT_TICKS if tick <= top]
    out += [f'<text class="tick end" x="19" y="{height(tick) + 2.5:.1f}">{tick}</text>' for tick in shown]
    for low, high in stands[:1]:
        out.append(f'<path class="range" d="M54 {height(high):.1f}h-4V{height(low):.1f}h4"/>')
    for number, (low, high) in enumerate(best):
        tall = max(3.0, height(low) - height(high))
        out.append(
            f'<rect class="best{" other" if number else ""}" x="{25 + 10 * number}" y="{height(high):.1f}"'
            f' width="{20 if len(best) == 1 else 9}" height="{tall:.1f}" rx="2"/>'
        )
        if not number:
            out.append(f'<text class="value" x="58" y="{height(high) + 4:.1f}">{high:g}</text>')
            out.append(
                f'<text class="value" x="58" y="{max(height(low), height(high) + 9) + 1:.1f}">{low:g}</text>'
            )
    return out


def _rings(lines: Sequence[CardLine], top: float) -> list[str]:
    """Reach as seen from above: the usual one filled, the longest as a dashed ring."""
    reaches = _spans(lines, "reach")
    if not reaches:
        return []
    x, y = _CENTRE
    scale = _RING_ROOM / top
    out = [f'<text class="head" x="{x - _RING_ROOM:g}" y="7">reach, cm from its edge</text>']
    for ring in (ring for ring in _RINGS_CM if ring <= top):
        out.append(f'<circle class="ring" cx="{x:g}" cy="{y:g}" r="{ring * scale:.1f}"/>')
        out.append(f'<text class="tick mid" x="{x:g}" y="{y - ring * scale - 1:.1f}">{ring}</text>')
    usual = max(low for low, _ in reaches)
    most = max(high for _, high in reaches)
    out.append(f'<circle class="usual" cx="{x:g}" cy="{y:g}" r="{max(usual * scale, 1.5):.1f}"/>')
    out.append(f'<circle class="most" cx="{x:g}" cy="{y:g}" r="{max(most * scale, 2.0):.1f}"/>')
    out.append(f'<circle class="coral" cx="{x:g}" cy="{y:g}" r="3"/>')
    out.append(f'<text class="value" x="222" y="24">{usual:g} cm usual</text>')
    out.append(f'<text class="value" x="222" y="35">{most:g} cm at most</text>')
    return out


def _flow(lines: Sequence[CardLine], top: float) -> list[str]:
    """The flow ruler: the range it stands as a line, the best as a bar."""
    best, stands = _spans(lines, "good flow"), _spans(lines, "flow it stands")
    if not best and not stands:
        return []

    def across(speed: float) -> float:
        return _LEFT + _share(speed, top) * (_RIGHT - _LEFT)

    out = [
        f'<text class="head" x="{_LEFT:g}" y="60">flow, cm/s</text>',
        f'<path class="stream" d="{_wave()}"/>',
    ]
    out += [
        f'<text class="tick mid" x="{across(tick):.1f}" y="105">{tick}</text>'
        for tick in _FLOW_TICKS
        if tick <= top
    ]
    for low, high in stands[:1]:
        out.append(f'<path class="range" d="M{across(low):.1f} 76v10m0 -5H{across(high):.1f}m0 -5v10"/>')
    for number, (low, high) in enumerate(best):
        wide = max(3.0, across(high) - across(low))
        out.append(
            f'<rect class="best{" other" if number else ""}" x="{across(low):.1f}" y="{77 + 5 * number}"'
            f' width="{wide:.1f}" height="{8 if len(best) == 1 else 4}" rx="2"/>'
        )
        if not number:
            middle = across(low) + wide / 2
            out.append(f'<text class="value mid" x="{middle:.1f}" y="72">{low:g} to {high:g}</text>')
    return out


def _wave() -> str:
    """A line of ripples that grow longer with the flow."""
    x, out = _LEFT, f"M{_LEFT:g} 93"
    step = 3.0
    while x + 2 * step <= _RIGHT:
        out += f"q{step / 2:.1f} -3 {step:.1f} 0t{step:.1f} 0"
        x += 2 * step
        step *= 1.16
    return out
