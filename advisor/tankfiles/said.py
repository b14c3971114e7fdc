"""One value as a keeper writes it, turned into a `Statement` in base units."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import assert_never

from advisor.errors import QuantityError, Span
from advisor.model.tank import Immersion, Said, Statement
from advisor.model.vocabulary import YES_NO, Measure, NumberType, SetType, TruthType, WordType
from advisor.tankfiles.crumb import crumb_in_words, is_lone_time, note_lone_time, timed_crumb
from advisor.tankfiles.ledger import Ledger, closest, listed, try_closest
from advisor.tankfiles.light_told import read_immersion, read_output
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, in_words, key_of
from advisor.tankfiles.numbers import Amount, amount_text, read_amount
from advisor.tankfiles.since import read_begun, since_when
from advisor.units import Dimension

NONE = frozenset({"none", "nothing", "nobody", "no one"})
_YES = {"yes": True, "true": True, "y": True, "no": False, "false": False, "n": False}
_SPEAKERS = {
    "keeper": Said.KEEPER,
    "me": Said.KEEPER,
    "i": Said.KEEPER,
    "myself": Said.KEEPER,
    "seller": Said.SELLER,
    "shop": Said.SHOP,
    "store": Said.SHOP,
    "instrument": Said.INSTRUMENT,
    "meter": Said.INSTRUMENT,
    "probe": Said.INSTRUMENT,
}
_ABOUT_IT = frozenset(
    {
        "value",
        "word",
        "error",
        "on",
        "date",
        "by",
        "how",
        "instrument",
        "meter",
        "since",
        "note",
        "distance",
        "seconds",
        "repeats",
        "event",
        "output",
        "immersion-factor",
    }
)


@dataclass(frozen=True, slots=True)
class Circumstances:
    """When, by whom and how something was said, where the value itself does not tell."""

    on: date | None = None
    since: date | None = None
    by: Said = Said.KEEPER
    how: str = ""
    event: str = ""
    output_percent: float | None = None
    """Of a reading of light: what all lamps were set to. [%]"""
    immersion: Immersion | None = None
    """Of a reading of light: the factor under water of what it was read with."""


NOTHING_TOLD = Circumstances()


def read_date(node: Node, ledger: Ledger) -> date | None:
    """Return an ISO date (a time of day after it is left out), or None with the reason noted."""
    if isinstance(node, Scalar):
        if node.blank or is_unknown(node):
            return None
        head = re.split(r"[T ]", node.text.strip(), maxsplit=1)[0]
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", head):
            try:
                return date.fromisoformat(head)
            except ValueError:
                pass
        ledger.note(
            "value-134",
            f"'{node.text}' is not a date",
            node.span,
            label="expected year-month-day",
            mend=_date_mend(node.text),
        )
    else:
        ledger.note("key-122", "a date is one value", node.span, mend="2026-10-24")
    return None


def _date_mend(text: str) -> str:
    numbers = re.fullmatch(r"\s*(\d{1,2})[./-](\d{1,2})[./-](\d{4})\s*", text)
    if numbers is None:
        return "2026-10-24 is the 24th of October 2026"
    first, second, year = (int(part) for part in numbers.groups())
    likely = []
    for month, day in ((second, first), (first, second)):
        try:
            likely.append(date(year, month, day).isoformat())
        except ValueError:
            continue
    return " or ".join(dict.fromkeys(likely)) or "2026-10-24 is the 24th of October 2026"


def is_unknown(node: Node) -> bool:
    """Whether the keeper says that this is not known."""
    return isinstance(node, Scalar) and node.unknown


def is_none(node: Node) -> bool:
    """Whether the keeper says that there is none; an empty list says so too."""
    if isinstance(node, Items):
        return not node.items
    return isinstance(node, Scalar) and node.text.strip().lower() in NONE


def read_yes_no(node: Node, ledger: Ledger) -> bool | None:
    """Return yes or no, or None where it is unknown, blank, or neither (noted)."""
    if isinstance(node, Scalar):
        if node.blank or is_unknown(node):
            return None
        found = _YES.get(node.text.strip().lower())
        if found is not None:
            return found
    ledger.note("value-133", f"'{_shown(node)}' is neither yes nor no", node.span, mend="yes, no or unknown")
    return None


def read_words(node: Node, ledger: Ledger) -> str:
    """Return free words; a list or mapping here is noted."""
    if isinstance(node, Scalar):
        return "" if node.blank else node.text.strip()
    mend = f'"{in_words(node).replace(chr(34), chr(39))}"'
    label = "one value, not a list or mapping"
    ledger.note("key-122", "words are expected here", node.span, label=label, mend=mend)
    return ""


def read_speaker(node: Node, ledger: Ledger, otherwise: Said) -> Said:
    """Return who says it."""
    if isinstance(node, Scalar):
        if node.blank or is_unknown(node):
            return otherwise
        found = _SPEAKERS.get(node.text.strip().lower())
        if found is not None:
            return found
    ledger.note(
        "value-133",
        f"I do not know who '{_shown(node)}' is",
        node.span,
        label="expected who says it",
        mend=try_closest(_shown(node).lower(), _SPEAKERS, "keeper, seller, shop or instrument"),
    )
    return otherwise


def read_statements(
    node: Node, measure: Measure, ledger: Ledger, told: Circumstances = NOTHING_TOLD
) -> tuple[Statement, ...]:
    """Return every statement a value makes about one measure; faults are noted.

    Parameters
    ----------
    node
        The value: text, a mapping with its circumstances, or a list of either.
    measure
        What it is about: gives the unit of bare numbers, the words, the physical range.
    ledger
        Where faults are noted; a faulty statement is left out.
    told
        Circumstances that hold unless the value tells its own.
    """
    match node:
        case Scalar():
            if isinstance(measure.type, NumberType) and measure.type.dimension is Dimension.SPEED:
                crumb = crumb_in_words(node.text, node)
                if crumb is not None:
                    return timed_crumb(crumb, {k.text: v for k, v in crumb.entries}, measure, ledger, told)
                if is_lone_time(node.text):
                    note_lone_time(node, ledger)
                    return ()
            said = None if node.blank else _read_scalar(node, measure, ledger, told)
            return () if said is None else (said,)
        case Keyed():
            return _read_mapping(node, measure, ledger, told)
        case Items(items=items):
            if (
                items
                and not isinstance(measure.type, NumberType)
                and all(isinstance(i, Scalar) for i in items)
            ):
                said = _read_word_list(node, measure, ledger, told)
                return () if said is None else (said,)
            return tuple(s for item in items for s in read_statements(item, measure, ledger, told))
    assert_never(node)


def _read_mapping(
    node: Keyed, measure: Measure, ledger: Ledger, told: Circumstances
) -> tuple[Statement, ...]:
    parts = {key_of(key.text): value for key, value in node.entries}
    known = _ABOUT_IT - _not_told_of(measure)
    for key, _ in node.entries:
        if key_of(key.text) not in known:
            ledger.note(
                "key-121",
                f"I do not know '{key.text}' beside a value",
                key.span,
                label="expected " + listed(sorted(known)),
                mend=try_closest(key_of(key.text), known, "put it under note:"),
            )
    told = read_circumstances(parts, ledger, told)
    if "distance" in parts or "seconds" in parts:
        return timed_crumb(node, parts, measure, ledger, told)
    value = parts.get("value", parts.get("word"))
    if value is None:
        ledger.note("key-123", f"there is no value for {measure.name} here", node.span, mend="value: …")
        return ()
    found = read_statements(value, measure, ledger, told)
    error = parts.get("error")
    if error is None or not found:
        return found
    return tuple(_with_error(s, error, measure, ledger) for s in found)


def read_circumstances(parts: dict[str, Node], ledger: Ledger, told: Circumstances) -> Circumstances:
    """Return the circumstances a mapping tells, over those that held before."""
    on = parts.get("on", parts.get("date"))
    how = parts.get("how", parts.get("instrument", parts.get("meter")))
    output, factor = parts.get("output"), parts.get("immersion-factor")
    return Circumstances(
        on=(read_date(on, ledger) or told.on) if on is not None else told.on,
        since=(read_date(parts["since"], ledger) or told.since) if "since" in parts else told.since,
        by=read_speaker(parts["by"], ledger, told.by) if "by" in parts else told.by,
        how=(read_words(how, ledger) or told.how) if how is not None else told.how,
        event=told.event,
        output_percent=told.output_percent if output is None else read_output(output, ledger),
        immersion=told.immersion if factor is None else read_immersion(factor, ledger),
    )


def _not_told_of(measure: Measure) -> set[str]:
    """What only goes with a reading of light; lamps here are set for no light but that of here."""
    light = isinstance(measure.type, NumberType) and measure.type.dimension is Dimension.LIGHT
    return ({"output"} if measure.name != "light" else set()) | (set() if light else {"immersion-factor"})


def _with_error(said: Statement, node: Node, measure: Measure, ledger: Ledger) -> Statement:
    if said.best is None or not isinstance(node, Scalar) or not isinstance(measure.type, NumberType):
        ledger.note("value-131", "an error belongs to one number", node.span, mend="118 ±12 PAR")
        return said
    if node.blank or is_unknown(node):
        return said
    try:
        error = amount_text(f"0 ± {node.text.strip().lstrip('±')}", measure.type, said.best).error
    except QuantityError as fault:
        mend = _error_like(node.text, measure, measure.type)
        label = f"expected an error of {measure.name}"
        ledger.note("value-131", f"{fault}", node.span, label=label, mend=mend)
        return said
    return said.model_copy(update={"error": error})


def _error_like(text: str, measure: Measure, kind: NumberType) -> str:
    """An error as it may be written: the number that was meant, or the measure's own step, with its unit."""
    found = re.search(r"\d+(?:[.,]\d+)?", text)
    value = found.group().replace(",", ".") if found else f"{measure.step / kind.unit.factor:g}"
    return f"{value} {kind.unit.name}".rstrip()


def statement(told: Circumstances, written: str, span: Span, **form: object) -> Statement:
    """Return a statement with its circumstances filled in."""
    return Statement.model_validate(
        {
            "on": told.on,
            "since": told.since,
            "by": told.by,
            "how": told.how,
            "event": told.event,
            "output_percent": told.output_percent,
            "immersion": told.immersion,
            "written": written,
            "span": span,
            **form,
        }
    )


def _read_scalar(node: Scalar, measure: Measure, ledger: Ledger, told: Circumstances) -> Statement | None:
    text = node.text.strip()
    if is_unknown(node):
        return statement(told, text, node.span)
    match measure.type:
        case NumberType() as kind:
            if is_none(node):
                return statement(told, text, node.span, none=True)
            amount = read_amount(node, measure, kind, ledger)
            return None if amount is None else _amount_statement(amount, node, told)
        case WordType():
            return _read_word(node, measure, measure.type.words, ledger, told)
        case SetType():
            return _read_word_list(Items((node,), node.span), measure, ledger, told)
        case TruthType():
            truth = read_yes_no(node, ledger)
            return None if truth is None else statement(told, text, node.span, truth=truth)
    assert_never(measure.type)


def _amount_statement(amount: Amount, node: Scalar, told: Circumstances) -> Statement:
    return statement(
        told,
        node.text.strip(),
        node.span,
        best=amount.best,
        error=amount.error,
        low=amount.low,
        high=amount.high,
        words=amount.words,
        lux=amount.lux,
    )


def _read_word(
    node: Scalar, measure: Measure, words: tuple[str, ...], ledger: Ledger, told: Circumstances
) -> Statement | None:
    text = node.text.strip()
    spoken = since_when(text)
    if spoken is not None:
        text, begun_text = spoken
        begun = read_begun(text, begun_text, node, told.on, ledger)
        if begun is None:
            return None
        told = replace(told, since=begun)
    if not words:
        return statement(told, node.text.strip(), node.span, words=(text,))
    several = [text] if key_of(text) in words else re.split(r"\s+or\s+|\s*[/,]\s*", text)
    found = [_known_word(part, node, measure, words, ledger) for part in several]
    if None in found:
        return None
    return statement(told, node.text.strip(), node.span, words=tuple(w for w in found if w))


def _known_word(
    text: str, node: Scalar, measure: Measure, words: tuple[str, ...], ledger: Ledger
) -> str | None:
    word = key_of(text)
    if words == YES_NO.words and word in _YES:
        return "yes" if _YES[word] else "no"
    if word in words:
        return word
    ledger.note(
        "value-133",
        f"'{text}' is not a word for {measure.name}",
        node.span,
        label=f"expected {listed(words)}",
        mend=closest(word, words) or "unknown, or one of those",
    )
    return None


def _read_word_list(node: Items, measure: Measure, ledger: Ledger, told: Circumstances) -> Statement | None:
    words = measure.type.words if isinstance(measure.type, WordType | SetType) else ()
    found: list[str] = []
    for item in node.items:
        if isinstance(item, Scalar):
            said = _read_word(item, measure, words, ledger, told)
            if said is None:
                return None
            found.extend(said.words)
    written = ", ".join(i.text.strip() for i in node.items if isinstance(i, Scalar))
    return statement(told, written, node.span, words=tuple(dict.fromkeys(found)))


def _shown(node: Node) -> str:
    return node.text.strip() if isinstance(node, Scalar) else "this list"
