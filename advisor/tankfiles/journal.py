"""The journal of a tank: one event a line, append-only, read whole even where its last line is torn."""

from __future__ import annotations

import json
import re

from advisor.errors import Related, Severity, Span
from advisor.model.tank import Event, EventKind, Fact, Said
from advisor.tankfiles.animals import night_looks
from advisor.tankfiles.entries import Reading, slug
from advisor.tankfiles.facts import TANK, Subject, read_facts
from advisor.tankfiles.ledger import Ledger, listed, try_closest
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, check_text, key_of
from advisor.tankfiles.said import Circumstances, read_date, read_speaker
from advisor.tankfiles.sources import JOURNAL_FILE

EVENT_KEYS = ("id", "on", "at", "by", "kind", "subject", "spot", "values", "how", "night", "note", "edit")
MAX_LINE = 100_000
_AN_EVENT = '{"id": "e-1", "on": "2026-10-24", "kind": "seen", "subject": "torch-1"}'
_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_TIME = re.compile(r"([01]?\d|2[0-3]):[0-5]\d")


def read_journal(text: str, reading: Reading) -> tuple[Event, ...]:
    """Return every event of a journal in the order written; faults are noted.

    Parameters
    ----------
    text
        The whole journal; blank lines are skipped.
    reading
        Vocabulary, ids and ledger. Facts about ids the tank no longer has are left out:
        the journal is history.
    """
    events: list[Event] = []
    seen: dict[str, Span] = {}
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip():
            continue
        span = Span(JOURNAL_FILE, number, 1, number, len(line) + 1, line[:200])
        data = _parsed(line, span, reading)
        if data is None:
            continue
        event = _event(data, span, reading)
        if event is None:
            continue
        if event.id in seen:
            reading.ledger.note(
                "journal-183",
                f"two events have the id {event.id}",
                span,
                related=(Related(seen[event.id], "first here"),),
                mend="give the later one a new id",
            )
            continue
        seen[event.id] = span
        events.append(event)
    return tuple(events)


def _parsed(line: str, span: Span, reading: Reading) -> dict[str, object] | None:
    """One line as plain data; a line cut off while writing is left out with a warning."""
    try:
        if len(line) > MAX_LINE:
            raise ValueError("the line is too long")
        data = json.loads(line)
    except json.JSONDecodeError as fault:
        if _cut_off(line, fault):
            reading.ledger.note(
                "journal-182",
                "this line was cut off while it was being written; I leave it out",
                span,
                severity=Severity.WARNING,
                mend="delete it, or complete it",
            )
        else:
            reading.ledger.note(
                "journal-181",
                "this line is not one event",
                span,
                label="not readable as JSON from here",
                mend=_AN_EVENT,
            )
        return None
    except (ValueError, RecursionError) as fault:
        reading.ledger.note(
            "journal-181", "this line is not one event", span, label=str(fault)[:80], mend=_AN_EVENT
        )
        return None
    if isinstance(data, dict):
        return data
    reading.ledger.note(
        "journal-181", "this line is not one event", span, label="expected {…}", mend=_AN_EVENT
    )
    return None


def _cut_off(line: str, fault: json.JSONDecodeError) -> bool:
    """Whether the line is the beginning of an event: it stops where more is expected."""
    return line.lstrip().startswith("{") and (fault.pos >= len(line.rstrip()) or "Unterminated" in fault.msg)


def node_of(data: object, span: Span) -> Node:
    """Return plain data as a tree whose every part stands at one place."""
    if isinstance(data, dict):
        return Keyed(tuple((Scalar(str(k), span), node_of(v, span)) for k, v in data.items()), span)
    if isinstance(data, list):
        return Items(tuple(node_of(item, span) for item in data), span)
    if data is None:
        return Scalar("", span)
    if isinstance(data, bool):
        return Scalar("yes" if data else "no", span)
    return Scalar(str(data), span)


def _event(data: dict[str, object], span: Span, reading: Reading) -> Event | None:
    parts: dict[str, Node] = {}
    for key, value in data.items():
        name = key_of(key)
        if name not in EVENT_KEYS:
            reading.ledger.note(
                "key-121",
                f"I do not know '{key[:60]}' in an event",
                span,
                label=f"expected one of {listed(EVENT_KEYS)}",
                mend=try_closest(name, EVENT_KEYS, "put it into note"),
            )
            continue
        parts[name] = node_of(value, span)
    if not _clean(parts, reading):
        return None
    kind = _kind(parts.get("kind"), span, reading)
    on = read_date(parts.get("on", Scalar("", span)), reading.ledger)
    identity = _text(parts, "id")
    if kind is None or on is None or not _ID.fullmatch(identity):
        if kind is not None:
            what = "date (on)" if on is None else "id"
            mend = '"on": "2026-10-24"' if on is None else f'"id": "{slug(identity) or f"e-{span.line}"}"'
            what = f"this event has no usable {what}"
            reading.ledger.note("journal-181", what, span, label="needed: id, on, kind", mend=mend)
        return None
    return Event(
        id=identity,
        on=on,
        at=_time(parts, span, reading),
        by=_text(parts, "by"),
        kind=kind,
        subject=_text(parts, "subject"),
        spot=_text(parts, "spot"),
        note=_text(parts, "note"),
        span=span,
        edit=_edit(data.get("edit"), span, reading),
        facts=_facts(parts, identity, reading),
    )


def _clean(parts: dict[str, Node], reading: Reading) -> bool:
    before = len(reading.ledger.problems)
    for node in parts.values():
        if isinstance(node, Scalar):
            check_text(node, reading.ledger)
    return len(reading.ledger.problems) == before


def _text(parts: dict[str, Node], key: str) -> str:
    node = parts.get(key)
    return node.text.strip() if isinstance(node, Scalar) else ""


def _time(parts: dict[str, Node], span: Span, reading: Reading) -> str:
    text = _text(parts, "at")
    if text and not _TIME.match(text):
        reading.ledger.note("value-134", f"'{text}' is not a time of day", span, mend="20:15")
        return ""
    return text


def _kind(node: Node | None, span: Span, reading: Reading) -> EventKind | None:
    text = node.text.strip().lower() if isinstance(node, Scalar) else ""
    try:
        return EventKind(text)
    except ValueError:
        kinds = [k.value for k in EventKind]
        reading.ledger.note(
            "value-133",
            f"'{text}' is not a kind of event",
            span,
            label=f"expected {listed(kinds)}",
            mend=try_closest(text, kinds, "noted"),
        )
        return None


def _edit(data: object, span: Span, reading: Reading) -> dict[str, str] | None:
    if data is None:
        return None
    if isinstance(data, dict) and all(isinstance(v, str) for v in data.values()):
        return {str(k): str(v) for k, v in data.items()}
    texts = data if isinstance(data, dict) else {"do": "nothing"}
    texts = {key: value if isinstance(value, str) else json.dumps(value) for key, value in texts.items()}
    mend = f'"edit": {json.dumps(texts, ensure_ascii=False)}'
    reading.ledger.note("journal-181", "the edit of an event is a mapping of texts", span, mend=mend)
    return None


def _facts(parts: dict[str, Node], identity: str, reading: Reading) -> tuple[Fact, ...]:
    """What an event tells about things that are still in the tank."""
    subject = _subject(_text(parts, "subject"), reading)
    if subject is None:
        return ()
    # Who wrote an event may be any name; only one that tells how sure a value is counts.
    by = read_speaker(parts["by"], Ledger(), Said.KEEPER) if "by" in parts else Said.KEEPER
    told = Circumstances(
        on=read_date(parts["on"], reading.ledger), by=by, how=_text(parts, "how"), event=identity
    )
    facts: list[Fact] = []
    values = parts.get("values")
    if isinstance(values, Keyed):
        for key, value in values.entries:
            found = read_facts(key_of(key.text), value, subject, reading, told)
            if found is None:
                reading.ledger.note(
                    "key-121",
                    f"I do not know the measure '{key.text[:60]}'",
                    key.span,
                    mend=try_closest(key_of(key.text), reading.vocabulary.measures),
                )
            facts += found or ()
    if _text(parts, "night") in ("yes", "true"):
        saw = parts.get("note", Scalar("", parts["on"].span))
        look = Keyed(
            ((Scalar("on", parts["on"].span), parts["on"]), (Scalar("saw", saw.span), saw)), parts["on"].span
        )
        facts += [
            f.model_copy(update={"said": f.said.model_copy(update={"event": identity})})
            for f in night_looks(look, subject, reading)
        ]
    return tuple(facts)


def _subject(text: str, reading: Reading) -> Subject | None:
    if text == "tank":
        return TANK
    kind = reading.names.kind_of(text)
    return Subject(kind, text) if kind is not None else None
