"""Lists of spots, rocks, animals and fish: entries found, ids read or made, twins reported."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from advisor.errors import Related, Span
from advisor.tankfiles.entries import Entry, Names, Reading, read_id, slug
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.said import is_none, is_unknown, read_words

IS_KEYS = ("is", "taxon", "species", "coral", "animal", "kind", "what")


@dataclass(slots=True)
class Found:
    """One entry of a section with its id and display name."""

    id: str
    name: str
    entry: Entry
    span: Span
    called: str = ""
    """What a coral is, or the kind of a fish."""


def section_items(node: Node | None, what: str, ledger: Ledger, mend: str = "- id: …") -> list[Node]:
    """Return the entries of a section: a list, or a mapping of ids to entries; `mend` shows one."""
    if node is None or is_none(node) or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return []
    if isinstance(node, Items):
        return list(node.items)
    if isinstance(node, Keyed):
        return [_with_id(key, value) for key, value in node.entries]
    ledger.note(
        "key-122",
        f"a list of {what} is expected here",
        node.span,
        label="each starts with a hyphen",
        mend=mend,
    )
    return []


def _with_id(key: Scalar, value: Node) -> Node:
    id_key = Scalar("id", key.span)
    if isinstance(value, Keyed):
        if any(key_of(k.text) == "id" for k, _ in value.entries):
            return value
        return Keyed(
            ((id_key, key), *value.entries),
            Span(
                key.span.file,
                key.span.line,
                key.span.column,
                value.span.end_line,
                value.span.end_column,
                key.span.text,
            ),
        )
    blank = isinstance(value, Scalar) and value.blank
    return Keyed(((id_key, key),), key.span) if blank else Items((value,), value.span)


def find_entries(
    nodes: list[Node],
    what: str,
    ids: dict[str, Span],
    reading: Reading,
    *,
    named_by: tuple[str, ...] = (),
    numbered: bool = False,
) -> list[Found]:
    """Return the entries of one section, ids registered; an id twice or missing is noted.

    The second of two with one id gets another, so that what else is wrong with
    it is told as well.

    Parameters
    ----------
    nodes
        Its entries, mappings; a plain text stands for one of which only the name is told.
    what
        What one entry is called in messages.
    ids
        Where the ids of this section are kept.
    reading
        Ledger and the names known so far.
    named_by
        Keys that tell what it is; an id is made from them where none is stated.
    numbered
        Whether a made id ends in a number: torch-1, torch-2.
    """
    found = [f for node in nodes if (f := _find(node, what, reading, named_by)) is not None]
    for one in found:
        if one.id:
            _register(one, what, ids, reading)
    for one in found:
        if not one.id:
            _make_id(one, what, ids, reading.names, numbered)
            _register(one, what, ids, reading)
    return found


def _find(node: Node, what: str, reading: Reading, named_by: tuple[str, ...]) -> Found | None:
    if isinstance(node, Scalar) and not node.blank:
        key = named_by[0] if named_by else "id"
        node = Keyed(((Scalar(key, node.span), node),), node.span)
    if not isinstance(node, Keyed):
        reading.ledger.note("key-122", f"each {what} is an entry with keys", node.span, mend="- id: …")
        return None
    entry = Entry(node, reading.ledger)
    id_node, name_node = entry.take("id"), entry.take("name", "called")
    called_node = entry.take(*named_by) if named_by else None
    called = read_words(called_node, reading.ledger) if called_node is not None else ""
    name = read_words(name_node, reading.ledger) if name_node is not None else ""
    identity = read_id(id_node, reading.ledger)
    if named_by and not called:
        called = name or identity
    told = isinstance(id_node, Scalar) and not id_node.blank
    if not told and not name and not called:
        reading.ledger.note("key-123", f"this {what} has no id and no name", node.span, mend="id: …")
        return None
    return Found(identity, name, entry, node.span, called)


def _make_id(one: Found, what: str, ids: dict[str, Span], names: Names, numbered: bool) -> None:
    base = slug(one.called or one.name) or what
    taken = {*names.taken, *ids, "tank"}
    one.id = base if not numbered and base not in taken else _free(base, taken, 1)


def _free(base: str, taken: Collection[str], number: int) -> str:
    """The first id with a number that nothing has."""
    while f"{base}-{number}" in taken:
        number += 1
    return f"{base}-{number}"


def _register(one: Found, what: str, ids: dict[str, Span], reading: Reading) -> None:
    names = reading.names
    every = (names.spots, names.animals, names.fish, names.lamps, names.pumps)
    shared = (ids,) if ids is names.rocks or ids is names.meters else every
    for others in shared:
        first = others.get(one.id)
        if first is not None:
            other = _free(one.id, {*names.taken, *ids}, 2)
            reading.ledger.note(
                "id-142",
                f"the id {one.id} stands twice",
                one.span,
                label=f"this {what}",
                related=(Related(first, "first here"),),
                mend=f"call one of them {other}",
            )
            one.id = other
            break
    ids[one.id] = one.span
    if one.name:
        names.called.setdefault(slug(one.name), one.id)
