"""A crumb timed over a distance: the speed of the water, and how sure it is."""

from __future__ import annotations

import math
import re
import statistics
from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.errors import QuantityError
from advisor.model.tank import Statement
from advisor.model.vocabulary import Measure, NumberType
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar
from advisor.tankfiles.numbers import amount_text
from advisor.units import UNITS, Dimension, format_quantity

if TYPE_CHECKING:
    from advisor.tankfiles.said import Circumstances

# Upper 5 % points of Student's t for 1 to 30 degrees of freedom, then the normal value:
# NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2, column 0.95.
_T_95 = (
    6.314,
    2.920,
    2.353,
    2.132,
    2.015,
    1.943,
    1.895,
    1.860,
    1.833,
    1.812,
    1.796,
    1.782,
    1.771,
    1.761,
    1.753,
    1.746,
    1.740,
    1.734,
    1.729,
    1.725,
    1.721,
    1.717,
    1.714,
    1.711,
    1.708,
    1.706,
    1.703,
    1.701,
    1.699,
    1.697,
)
_T_95_MANY = 1.645


def speed_of_runs(
    distance_cm: float, seconds: Sequence[float], one_run_fraction: float
) -> tuple[float, float | None]:
    """Mean speed of several timed runs and its error.

    Parameters
    ----------
    distance_cm
        Length of each run. [cm]
    seconds
        Time of each run. [s]
    one_run_fraction
        Error of a single run, as a fraction of its speed, from the measure's own line; the
        error of the mean is never less than this over the root of the number of runs, because
        a few runs that agree by luck are not proof.

    Returns
    -------
    Speed, and half of its 90 % two-sided range; None for a single run, whose error is
    the measure's own. [cm/s]

    Raises
    ------
    QuantityError
        If a distance or time is not above zero, or there is no run.
    """
    if not seconds or distance_cm <= 0 or min(seconds) <= 0:
        raise QuantityError("a timed crumb needs a distance and times above zero")
    speeds = [distance_cm / s for s in seconds]
    mean = statistics.fmean(speeds)
    if len(speeds) == 1:
        return mean, None
    freedom = len(speeds) - 1
    t = _T_95[freedom - 1] if freedom <= len(_T_95) else _T_95_MANY
    scatter = t * statistics.stdev(speeds) / math.sqrt(len(speeds))
    return mean, max(scatter, mean * one_run_fraction / math.sqrt(len(speeds)))


_TIME_UNIT = r"(?:seconds?|secs?|s)"
_TIME = rf"\d+(?:\.\d+)?(?:\s*{_TIME_UNIT}\b)?"
_TIMES = rf"{_TIME}(?:(?:\s*[,;/]\s*(?:and\s+)?|\s+and\s+|\s+){_TIME})*"
_LENGTH = r"\d+(?:\.\d+)?\s*[a-z\"]+"
_CRUMB = (
    re.compile(
        rf"^(?P<distance>{_LENGTH})(?:\s*[:,]\s*|\s+(?:in|over|took)\s+)(?P<seconds>{_TIMES})$", re.IGNORECASE
    ),
    re.compile(
        rf"^(?P<seconds>{_TIMES})(?:\s*[:,]\s*|\s+(?:over|for|per|in)\s+)(?P<distance>{_LENGTH})$",
        re.IGNORECASE,
    ),
)
_LONE_TIME = re.compile(rf"^{_TIMES}$", re.IGNORECASE)


def crumb_in_words(text: str, node: Scalar) -> Keyed | None:
    """Return ``20 cm in 2.0, 2.2 s`` or ``2.1 s over 20 cm`` as a mapping for `timed_crumb`, else None."""
    for form in _CRUMB:
        found = form.match(text.strip())
        if found is not None:
            bare = re.sub(rf"\s*{_TIME_UNIT}\b", "", found.group("seconds"), flags=re.IGNORECASE)
            parts = {
                "distance": found.group("distance"),
                "seconds": re.sub(r"[\s,;/]+(?:and\s+)?", ", ", bare.strip()),
            }
            entries = tuple((Scalar(k, node.span), Scalar(v, node.span)) for k, v in parts.items())
            return Keyed(entries, node.span)
    return None


def is_lone_time(text: str) -> bool:
    """Whether a text tells seconds and no distance: ``2.1 s``."""
    return _LONE_TIME.match(text.strip()) is not None and re.search(r"[a-z]", text, re.IGNORECASE) is not None


def timed_crumb(
    node: Keyed, parts: dict[str, Node], measure: Measure, ledger: Ledger, told: Circumstances
) -> tuple[Statement, ...]:
    """Return the speed that ``{distance: 20 cm, seconds: [2.1, 1.9]}`` states."""
    if not isinstance(measure.type, NumberType) or measure.type.dimension is not Dimension.SPEED:
        ledger.note(
            "value-135", f"a timed crumb is a flow, not {measure.name}", node.span, mend="put it under flow:"
        )
        return ()
    try:
        distance_cm = _distance(parts.get("distance"))
        seconds, runs = _seconds(parts)
        speed, error = speed_of_runs(
            distance_cm, seconds, measure.error if measure.error_is_fraction else 0.0
        )
    except QuantityError as fault:
        ledger.note(
            "value-135",
            str(fault),
            node.span,
            label="expected a distance and the seconds of each run",
            mend="{distance: 20 cm, seconds: [2.1, 1.9, 2.3]}",
        )
        return ()
    if not measure.low <= speed <= measure.high:
        ledger.note(
            "value-132",
            f"{measure.name} cannot be {format_quantity(speed, UNITS['cm/s'])}",
            node.span,
            label=f"expected {measure.low:g} to {measure.high:g} cm/s",
            mend="look at distance and seconds",
        )
        return ()
    if error is None and runs > 1 and measure.error_is_fraction:
        error = speed * measure.error / math.sqrt(runs)
    times = "once" if runs == 1 else f"{runs} times"
    return (
        Statement(
            best=speed,
            error=error,
            on=told.on,
            since=told.since,
            by=told.by,
            event=told.event,
            how=told.how or f"crumb timed {times}",
            span=node.span,
            written=f"{distance_cm:g} cm in {', '.join(f'{s:g}' for s in seconds)} s",
        ),
    )


def _distance(node: Node | None) -> float:
    if not isinstance(node, Scalar) or node.blank:
        raise QuantityError("the distance of the timed crumb is missing")
    best = amount_text(node.text, NumberType(Dimension.LENGTH, UNITS["cm"])).best
    if best is None:
        raise QuantityError(f"'{node.text}' is not one distance")
    return best


def _seconds(parts: dict[str, Node]) -> tuple[list[float], int]:
    node = parts.get("seconds")
    times = [node] if isinstance(node, Scalar) else list(node.items) if isinstance(node, Items) else []
    seconds = [
        _one_time(item)
        for time in times
        if isinstance(time, Scalar)
        for item in re.split(r"[,;]\s*|\s+(?=\d)", time.text.strip())
        if item
    ]
    if not seconds:
        raise QuantityError("the seconds of the timed crumb are missing")
    repeats = parts.get("repeats")
    if not isinstance(repeats, Scalar) or repeats.blank:
        return seconds, len(seconds)
    if not re.fullmatch(r"[1-9]\d{0,3}", repeats.text.strip()):
        raise QuantityError(f"'{repeats.text}' is not a number of repeats")
    return seconds, max(len(seconds), int(repeats.text))


def _one_time(text: str) -> float:
    amount = amount_text(
        text if re.search(r"[a-z]", text) else f"{text} s", NumberType(Dimension.TIME, UNITS["seconds"])
    )
    if amount.best is None:
        raise QuantityError(f"'{text}' is not a time in seconds")
    return amount.best * 86400.0


def note_lone_time(node: Scalar, ledger: Ledger) -> None:
    """Note that a flow needs the distance beside the time."""
    time = node.text.strip()
    ledger.note(
        "value-135",
        f"'{time}' is a time, and a flow needs the distance, too",
        node.span,
        label="expected over which distance a crumb took that long",
        mend=f"{time} over 20 cm, if it was 20 cm",
    )
