"""Keys that name a measure or relation of the vocabulary, turned into facts about their subject."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.errors import Related, Severity
from advisor.model.tank import ANYTHING, Fact, Statement
from advisor.model.vocabulary import LISTED, Kind, Measure, Relation, Supplier, Vocabulary
from advisor.tankfiles.entries import Reading, as_list
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.said import (
    NOTHING_TOLD,
    Circumstances,
    is_none,
    is_unknown,
    read_circumstances,
    read_statements,
    read_yes_no,
    statement,
)

OTHER_SPELLINGS: dict[str, str] = {
    "par": "light",
    "ppfd": "light",
    "current": "flow",
    "water-movement": "flow",
    "overflow": "overflow-side",
    "sand": "sand-grain",
    "age": "tank-age",
    "light-hours": "photoperiod",
    "guards": "pump-guards",
    "tool": "tool-length",
    "feeding-tool": "tool-length",
    "feeding-every": "feeds-every",
    "fed": "feeds-every",
    "stands-on": "ground",
    "facing": "faces",
    "face": "faces",
    "mounted": "fixing",
    "fixed": "fixing",
    "orientation": "turned",
    "clear-height-above": "headroom",
    "outlet": "outlet-distance",
    "reachable": "hand-reach",
    "temp": "temperature",
    "salt": "salinity",
    "alk": "alkalinity",
    "kh": "alkalinity",
    "ca": "calcium",
    "mg": "magnesium",
    "no3": "nitrate",
    "po4": "phosphate",
    "nh3": "ammonia",
    "gaps": "gap",
    "diameter": "size",
    "width": "size",
    "trimmed": "kept-trimmed",
    "lights": "light",
    "moat-width": "moat",
}
"""Other spellings of measures a keeper may use as keys."""

SEEN_FROM_OTHER = frozenset({"up-flow", "down-flow", "above"})
"""Keys that name what lies there: `up-flow: [a]` on b is up-flow(a, b)."""
BOTH_WAYS = frozenset({"divider", "long-settled", "same-rock"})
"""Relations that hold both ways round."""
CLOSING = frozenset({"nothing-else", "nobody-else", "no-others", "no-other", "only"})


@dataclass(frozen=True, slots=True)
class Subject:
    """What an entry is about."""

    kind: Kind
    id: str

    def can_be(self, wanted: Kind) -> bool:
        """Whether a measure of this kind may be said of it; of an animal, also what is said of its place."""
        if self.kind is Kind.TANK or wanted is Kind.TANK:
            return self.kind is wanted
        return self.kind.fits(wanted) or (self.kind is Kind.CORAL and wanted is Kind.PLACE)

    def has_part_in(self, kinds: Sequence[Kind]) -> bool:
        """Whether a measure of two such things may be said of it; a spot stands for who is on it."""
        if self.kind in (Kind.PLACE, Kind.CORAL):
            return any(kind.lives or kind is Kind.PLACE for kind in kinds)
        return self.kind in kinds


TANK = Subject(Kind.TANK, "tank")


def known_keys(subject: Subject, reading: Reading) -> tuple[str, ...]:
    """Return every key of the vocabulary a keeper may state of a subject."""
    vocabulary = reading.vocabulary
    measures = [m.name for m in vocabulary.measures.values() if _stated(m, subject)]
    return (*measures, *(r.name for r in vocabulary.relations.values() if _stated(r, subject)))


def _stated(of: Measure | Relation, subject: Subject) -> bool:
    if Supplier.KEEPER not in of.suppliers:
        return False
    kinds = [p.kind for p in of.params]
    if len(kinds) == 2:
        return subject.has_part_in(kinds)
    return subject.can_be(kinds[0] if kinds else Kind.TANK)


def name_meant(key: str, kind: Kind | None, vocabulary: Vocabulary) -> str:
    """Return the measure or relation a key means: ``flow`` of a pump is ``pump-flow``.

    Parameters
    ----------
    key
        The key in its one spelling.
    kind
        What it is said of; None where that is not known.
    """
    if kind in LISTED:
        words: dict[str, Measure | Relation] = {**vocabulary.relations, **vocabulary.measures}
        one = key.removesuffix("s")
        for name in (f"{kind.value}-{key}", f"{kind.value}-{one}", key, one):
            found = words.get(name)
            if found is not None and any(param.kind is kind for param in found.params):
                return name
    return OTHER_SPELLINGS.get(key, key)


def read_facts(
    key: str, node: Node, subject: Subject, reading: Reading, told: Circumstances = NOTHING_TOLD
) -> tuple[Fact, ...] | None:
    """Return the facts one key states of a subject, or None if the key names nothing of the vocabulary.

    Parameters
    ----------
    key
        The key in its one spelling.
    node
        Its value.
    subject
        What it is said of.
    reading
        Vocabulary, ids and ledger.
    told
        Circumstances that hold unless the value tells its own.
    """
    name = name_meant(key, subject.kind, reading.vocabulary)
    if key == "below" and subject.kind not in LISTED:
        return _below(node, subject, reading, told)
    measure = reading.vocabulary.measures.get(name)
    if measure is not None and _may_state(measure, node, subject, reading):
        if len(measure.params) == 2:
            return _pair_measure(measure, node, subject, reading, told)
        return tuple(
            Fact(measure=name, subjects=(subject.id,), said=said)
            for said in read_statements(node, measure, reading.ledger, told)
        )
    relation = reading.vocabulary.relations.get(name)
    if relation is not None and _may_state(relation, node, subject, reading):
        return _relation(relation, node, subject, reading, told)
    return () if measure is not None or relation is not None else None


def _may_state(of: Measure | Relation, node: Node, subject: Subject, reading: Reading) -> bool:
    if _stated(of, subject):
        return True
    if Supplier.KEEPER not in of.suppliers:
        card = Supplier.CARD in of.suppliers
        where = "it comes from the animal's card" if card else "it is computed"
        reading.ledger.note(
            "key-124",
            f"{of.name} is not stated in the tank file: {where}",
            node.span,
            mend="change the card in house.rules" if card else "leave it out",
        )
    else:
        kind = _with_article(of.params[0].kind) if of.params else "the tank"
        reading.ledger.note(
            "key-121",
            f"{of.name} is said of {kind}, not of {_with_article(subject.kind)}",
            node.span,
            mend="move it to what it belongs to",
        )
    return False


def _with_article(kind: Kind) -> str:
    if kind is Kind.TANK:
        return "the tank"
    return f"{'an' if kind is Kind.ANIMAL else 'a'} {kind.value}"


def _other_side(of: Measure | Relation, subject: Subject) -> tuple[Kind, bool]:
    """The kind of the other thing of a pair, and whether the subject is the second of the two."""
    first, second = (param.kind for param in of.params)
    if subject.can_be(first) or not subject.can_be(second):
        return second, False
    return first, first is not second


def _pair_measure(
    measure: Measure, node: Node, subject: Subject, reading: Reading, told: Circumstances
) -> tuple[Fact, ...]:
    if isinstance(node, Scalar) and (node.blank or is_none(node) or is_unknown(node)):
        return ()
    if not isinstance(node, Keyed):
        reading.ledger.note(
            "key-122",
            f"{measure.name} needs to know to what",
            node.span,
            label="expected name: value",
            mend="{hammer-1: 36 cm}",
        )
        return ()
    facts = []
    kind, turned = _other_side(measure, subject)
    for key, value in node.entries:
        other = other_thing(key, subject.id, reading, kind)
        pair = (other, subject.id) if turned else (subject.id, other)
        if other:
            facts += [
                Fact(measure=measure.name, subjects=pair, said=said)
                for said in read_statements(value, measure, reading.ledger, told)
            ]
    return tuple(facts)


def other_thing(node: Node, own_id: str, reading: Reading, kind: Kind = Kind.ANIMAL) -> str:
    """Return the id of the other thing a value names, of animals also the spot; itself is noted."""
    if kind in LISTED:
        other = reading.refer(node, kind.value, reading.names.of(kind))
    else:
        other = reading.refer(node, "spot or animal", reading.names.things)
    if other == own_id:
        reading.ledger.note(
            "id-143", f"{own_id} is named as a neighbour of itself", node.span, mend="name the other"
        )
        return ""
    return other


def _relation(
    relation: Relation, node: Node, subject: Subject, reading: Reading, told: Circumstances
) -> tuple[Fact, ...]:
    if len(relation.params) == 1:
        return _own_relation(relation, node, subject, reading, told)
    facts: list[Fact] = []
    kind, turned = _other_side(relation, subject)
    for other, said in _others(node, subject, reading, told, kind):
        turned_here = turned or relation.name in SEEN_FROM_OTHER
        pair = (other, subject.id) if turned_here else (subject.id, other)
        facts.append(Fact(measure=relation.name, subjects=pair, said=said))
        if relation.name in BOTH_WAYS:
            facts.append(Fact(measure=relation.name, subjects=pair[::-1], said=said))
    return tuple(facts)


def _own_relation(
    relation: Relation, node: Node, subject: Subject, reading: Reading, told: Circumstances
) -> tuple[Fact, ...]:
    value, told = _value_and_told(node, reading, told)
    if isinstance(value, Scalar) and value.blank:
        return ()
    truth = read_yes_no(value, reading.ledger)
    if truth is None and not is_unknown(value):
        return ()
    said = statement(told, _text(value), value.span, truth=truth)
    return (Fact(measure=relation.name, subjects=(subject.id,), said=said),)


def _value_and_told(node: Node, reading: Reading, told: Circumstances) -> tuple[Node, Circumstances]:
    if isinstance(node, Keyed):
        parts = {key_of(k.text): v for k, v in node.entries}
        if "value" in parts:
            return parts["value"], read_circumstances(parts, reading.ledger, told)
    return node, told


def _others(
    node: Node, subject: Subject, reading: Reading, told: Circumstances, kind: Kind
) -> list[tuple[str, Statement]]:
    """Each other thing with what is said of it; `ANYTHING` where the keeper says there is none (else)."""
    node, told = _value_and_told(node, reading, told)
    if is_none(node):
        return [(ANYTHING, statement(told, "none", node.span, none=True))]
    if is_unknown(node):
        return []
    if isinstance(node, Keyed):
        return _others_keyed(node, subject, reading, told, kind)
    found = []
    for item in as_list(node):
        if isinstance(item, Scalar) and key_of(item.text) in CLOSING:
            found.append((ANYTHING, statement(told, "nothing else", item.span, none=True)))
            continue
        other = other_thing(item, subject.id, reading, kind)
        if other:
            found.append((other, statement(told, _text(item), item.span, truth=True)))
    return found


def _others_keyed(
    node: Keyed, subject: Subject, reading: Reading, told: Circumstances, kind: Kind
) -> list[tuple[str, Statement]]:
    found = []
    for key, value in node.entries:
        other = other_thing(key, subject.id, reading, kind)
        truth = read_yes_no(value, reading.ledger)
        if other and (truth is not None or is_unknown(value)):
            found.append((other, statement(told, f"{key.text}: {_text(value)}", key.span, truth=truth)))
    return found


def _below(node: Node, subject: Subject, reading: Reading, told: Circumstances) -> tuple[Fact, ...]:
    """`below: {a: 14 cm}` on b: b stands above a, and so high over it."""
    if is_none(node):
        said = statement(told, "none", node.span, none=True)
        return (Fact(measure="above", subjects=(subject.id, ANYTHING), said=said),)
    if is_unknown(node):
        return ()
    height = reading.vocabulary.measures.get("clear-height")
    facts: list[Fact] = []
    pairs = (
        node.entries
        if isinstance(node, Keyed)
        else tuple((item, item) for item in as_list(node) if isinstance(item, Scalar))
    )
    for key, value in pairs:
        if key is value and key_of(key.text) in CLOSING:
            facts.append(
                Fact(
                    measure="above",
                    subjects=(subject.id, ANYTHING),
                    said=statement(told, "nothing else", key.span, none=True),
                )
            )
            continue
        other = other_thing(key, subject.id, reading)
        if not other:
            continue
        facts.append(
            Fact(
                measure="above",
                subjects=(subject.id, other),
                said=statement(told, key.text, key.span, truth=True),
            )
        )
        if value is not key and height is not None:
            facts += [
                Fact(measure="clear-height", subjects=(subject.id, other), said=said)
                for said in read_statements(value, height, reading.ledger, told)
            ]
    return tuple(facts)


def _text(node: Node) -> str:
    if isinstance(node, Items):
        return ", ".join(_text(item) for item in node.items)
    return node.text.strip() if isinstance(node, Scalar) else ""


def note_twice(facts: tuple[Fact, ...], reading: Reading) -> None:
    """Note once where readings of one thing on one date differ; those equally exact count together."""
    seen: dict[tuple[str, tuple[str, ...], object], list[Fact]] = {}
    for fact in facts:
        if fact.said.on is None or ANYTHING in fact.subjects or fact.measure == "night-look":
            continue
        subjects = tuple(sorted(fact.subjects)) if fact.measure == "gap" else fact.subjects
        seen.setdefault((fact.measure, subjects, fact.said.on), []).append(fact)
    for same in seen.values():
        last = same[-1]
        others = [fact for fact in same[:-1] if not _agree(fact.said, last.said)]
        if not others:
            continue
        reading.ledger.note(
            "reading-161",
            f"{last.measure} of {' and '.join(last.subjects)} was read differently on {last.said.on}",
            last.said.span,
            label=f"{last.said.written}; what is equally exact counts together",
            severity=Severity.NOTE,
            related=tuple(
                Related(fact.said.span, f"also read: {fact.said.written}")
                for fact in others
                if fact.said.span is not None
            ),
            mend="keep one, or date them apart",
        )


def _agree(first: Statement, second: Statement) -> bool:
    """Whether two statements say the same."""
    forms = ("best", "low", "high", "words", "truth", "none")
    return all(getattr(first, form) == getattr(second, form) for form in forms)
