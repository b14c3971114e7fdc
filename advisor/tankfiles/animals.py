"""Corals, clams and anemones of a tank file: waiting, on trial, placed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from advisor.model.tank import Animal, Fact, Glass, Phase, Said, Statement
from advisor.model.vocabulary import Kind
from advisor.tankfiles.entries import Entry, Reading, note_unknown_key
from advisor.tankfiles.facts import Subject
from advisor.tankfiles.ledger import Ledger, try_closest
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.pasted import PastedCoral, parse_coral_line
from advisor.tankfiles.said import (
    Circumstances,
    is_none,
    is_unknown,
    read_circumstances,
    read_date,
    read_speaker,
    read_statements,
    read_words,
    read_yes_no,
    statement,
)
from advisor.tankfiles.sections import Found
from advisor.tankfiles.surroundings import Surroundings, read_rest, read_surroundings

ANIMAL_KEYS = (
    "id",
    "name",
    "is",
    "phase",
    "spot",
    "place",
    "at",
    "rock",
    "size",
    "clone",
    "placed",
    "moved",
    "gaps",
    "gaps complete",
    "nothing else within",
    "below",
    "above",
    "night looks",
    "comes from",
    "seller says",
    "note",
    "also",
)
_PHASES = {
    "waiting": Phase.WAITING,
    "wanted": Phase.WAITING,
    "trial": Phase.TRIAL,
    "on-trial": Phase.TRIAL,
    "placed": Phase.PLACED,
    "settled": Phase.PLACED,
}
_STANDS_SOMEWHERE = (
    "light",
    "par",
    "flow",
    "gap",
    "gaps",
    "up-flow",
    "down-flow",
    "below",
    "above",
    "shaded-by",
    "pattern",
    "gaps-complete",
    "nothing-else-within",
)
_COMES_FROM = {
    "light": "origin-light",
    "par": "origin-light",
    "value": "origin-light",
    "stay": "origin-stay",
    "stood": "origin-stay",
    "hours": "origin-hours",
    "light-hours": "origin-hours",
}
_SELLER_SAYS = {
    "light": "seller-light",
    "flow": "seller-flow",
    "temper": "seller-temper",
    "temperament": "seller-temper",
}


def spread_lines(nodes: list[Node], ledger: Ledger) -> list[Node]:
    """Return the entries with one-line corals (``torch, 8 cm, 110 PAR``) spelled out."""
    spread: list[Node] = []
    for node in nodes:
        if isinstance(node, Scalar) and not node.blank:
            coral = parse_coral_line(node.text)
            if not coral.called:
                ledger.note(
                    "key-123",
                    "this line does not begin with what the coral is",
                    node.span,
                    mend="torch, 8 cm, 110 PAR",
                )
                continue
            spread += [_as_keyed(coral, node)] * coral.copies
        else:
            spread.append(node)
    return spread


def _as_keyed(coral: PastedCoral, node: Scalar) -> Keyed:
    def text(value: str) -> Scalar:
        return Scalar(value, node.span)

    told = [
        ("is", coral.called),
        ("size", coral.size),
        ("comes from", coral.comes_from),
        ("note", coral.note),
    ]
    entries: list[tuple[Scalar, Node]] = [(text(key), text(value)) for key, value in told if value]
    words = [("light", coral.light_word), ("flow", coral.flow_word)]
    says = tuple((text(key), text(value)) for key, value in words if value)
    if says:
        entries.append((text("seller says"), Keyed(says, node.span)))
    return Keyed(tuple(entries), node.span)


@dataclass(frozen=True, slots=True)
class ReadAnimal:
    """One animal with the facts stated of it."""

    animal: Animal
    facts: tuple[Fact, ...]


def read_animal(one: Found, glass: Glass | None, reading: Reading) -> ReadAnimal:
    """Return one animal and the facts stated of it."""
    entry, subject = one.entry, Subject(Kind.CORAL, one.id)
    stands = entry.peek(*_STANDS_SOMEWHERE, "at", "place", "position") is not None
    where = read_surroundings(entry, glass, reading)
    spot_node = entry.take("spot")
    spot = (
        ""
        if spot_node is None or is_none(spot_node) or is_unknown(spot_node)
        else reading.refer(spot_node, "spot", reading.names.spots)
    )
    placed, placed_on = _placed(entry, reading)
    phase = _phase(entry, reading, stands=stands or placed or bool(spot))
    _note_waiting_on_spot(phase, spot, spot_node, reading)
    moved = entry.take("moved", "moved-on")
    clone = entry.take("clone", "colony", "mother-colony", "mother")
    gaps = entry.peek("gaps", "gap")
    facts = (
        *_named_keys(entry, subject, reading),
        *read_rest(entry, subject, reading, "a coral", ANIMAL_KEYS),
    )
    animal = _animal(
        one,
        phase,
        spot,
        where,
        reading,
        facts=facts,
        placed_on=placed_on,
        clone=read_words(clone, reading.ledger) if clone is not None and not is_unknown(clone) else "",
        moved_on=read_date(moved, reading.ledger) if moved is not None else None,
        closes=gaps is not None and is_none(gaps),
    )
    return ReadAnimal(animal, facts)


def _animal(
    one: Found,
    phase: Phase,
    spot: str,
    where: Surroundings,
    reading: Reading,
    *,
    facts: tuple[Fact, ...],
    clone: str,
    placed_on: date | None,
    moved_on: date | None,
    closes: bool,
) -> Animal:
    return Animal(
        id=one.id,
        name=one.name,
        taxon=one.called,
        phase=phase,
        spot=spot,
        box=where.box,
        rock=where.rock,
        place=where.place,
        clone=clone,
        size_cm=_newest(facts, "size"),
        placed_on=placed_on,
        moved_on=moved_on,
        closed_on=where.closed_on,
        span=one.span,
        nothing_else_within_cm=where.nothing_else_within_cm,
        gaps_complete=where.gaps_complete or closes,
    )


def _newest(facts: tuple[Fact, ...], measure: str) -> Statement | None:
    said = [f.said for f in facts if f.measure == measure]
    return max(said, key=lambda s: s.on or date.min) if said else None


def _placed(entry: Entry, reading: Reading) -> tuple[bool, date | None]:
    node = entry.take("placed", "placed-on", "date-placed")
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return False, None
    if isinstance(node, Scalar) and node.text.strip().lower() in ("yes", "no", "true", "false"):
        return bool(read_yes_no(node, reading.ledger)), None
    return True, read_date(node, reading.ledger)


def _phase(entry: Entry, reading: Reading, *, stands: bool) -> Phase:
    node = entry.take("phase", "stage", "status")
    otherwise = Phase.PLACED if stands else Phase.WAITING
    if not isinstance(node, Scalar) or node.blank:
        return otherwise
    found = _PHASES.get(key_of(node.text))
    if found is None:
        reading.ledger.note(
            "value-133",
            f"'{node.text}' is not a phase of a coral",
            node.span,
            label="expected waiting, trial or placed",
            mend=try_closest(key_of(node.text), _PHASES, "waiting, trial or placed"),
        )
    return found or otherwise


def _note_waiting_on_spot(phase: Phase, spot: str, node: Node | None, reading: Reading) -> None:
    if phase is Phase.WAITING and spot and node is not None:
        reading.ledger.note(
            "place-154",
            f"a coral that waits cannot stand on {spot}",
            node.span,
            mend="phase: placed, or phase: trial, or take the spot out",
        )


def _named_keys(entry: Entry, subject: Subject, reading: Reading) -> tuple[Fact, ...]:
    """Facts of the keys that have a form of their own."""
    facts: list[Fact] = []
    looks = entry.take("night-looks", "night-look", "looked-at-night")
    if looks is not None:
        facts += night_looks(looks, subject, reading)
    comes = entry.take("comes-from", "origin", "came-from")
    if comes is not None:
        facts += _told_by_seller(
            comes, subject, reading, _COMES_FROM, "origin-light", "where a coral comes from"
        )
    says = entry.take("seller-says", "seller", "sold-as")
    if says is not None:
        facts += _told_by_seller(says, subject, reading, _SELLER_SAYS, "seller-light", "what a seller says")
    return tuple(facts)


def night_looks(node: Node, subject: Subject, reading: Reading) -> tuple[Fact, ...]:
    """Return a fact for each look by night: dated, with what was seen."""
    if is_none(node):
        said = statement(Circumstances(), "none", node.span, none=True)
        return (Fact(measure="night-look", subjects=(subject.id,), said=said),)
    facts = []
    for item in node.items if isinstance(node, Items) else (node,):
        parts = {key_of(k.text): v for k, v in item.entries} if isinstance(item, Keyed) else {}
        saw = read_words(parts["saw"], reading.ledger) if "saw" in parts else ""
        told = read_circumstances(parts, reading.ledger, Circumstances())
        on = told.on if parts else read_date(item, reading.ledger)
        if on is not None:
            said = statement(
                Circumstances(on=on, by=told.by, how=told.how),
                saw or "looked at by night",
                item.span,
                truth=True,
            )
            facts.append(Fact(measure="night-look", subjects=(subject.id,), said=said))
    return tuple(facts)


def _told_by_seller(
    node: Node, subject: Subject, reading: Reading, keys: dict[str, str], alone: str, what: str
) -> list[Fact]:
    """Facts of a mapping that a seller tells, each key a measure; one value alone is the measure `alone`."""
    told = Circumstances(by=Said.SELLER)
    if not isinstance(node, Keyed):
        return _facts(alone, node, subject, reading, told)
    parts = {key_of(k.text): v for k, v in node.entries}
    told = read_circumstances(parts, reading.ledger, told)
    if "measured-by" in parts:
        told = Circumstances(
            told.on, told.since, read_speaker(parts["measured-by"], reading.ledger, told.by), told.how
        )
    facts: list[Fact] = []
    for key, value in node.entries:
        name = key_of(key.text)
        if name in keys:
            facts += _facts(keys[name], value, subject, reading, told)
        elif name not in ("on", "date", "by", "how", "instrument", "measured-by", "note"):
            note_unknown_key(key, what, (*keys, "by", "how", "on"), reading.ledger)
    return facts


def _facts(measure: str, node: Node, subject: Subject, reading: Reading, told: Circumstances) -> list[Fact]:
    known = reading.vocabulary.measures.get(measure)
    if known is None:
        return []
    return [
        Fact(measure=measure, subjects=(subject.id,), said=said)
        for said in read_statements(node, known, reading.ledger, told)
    ]
