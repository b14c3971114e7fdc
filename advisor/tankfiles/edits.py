"""The edits a journal event may stand for, and how each is made in the text of tank.yaml.

An edit is a mapping of texts, so that it fits a journal line:

``{"do": "add", "to": "corals", "entry": "{id: duncan-1, is: duncan}"}``
    One entry more in a list. Made already where its id (or event) is there.
``{"do": "change", "what": "torch-1", "set": "{spot: shelf}", "drop": "at place rock"}``
    Keys of one animal or spot set, others taken out.
"""

from __future__ import annotations

import io
import json
import re
from collections import Counter
from collections.abc import Mapping
from typing import Any

from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.animals import spread_lines
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, as_data, key_of, read_yaml
from advisor.tankfiles.pasted import parse_coral_line
from advisor.tankfiles.sections import IS_KEYS, find_entries, section_items
from advisor.tankfiles.sources import TANK_FILE
from advisor.tankfiles.splice import SpliceError, Splicer, flow_text

SECTIONS = ("corals", "animals", "waiting", "spots")


class EditError(Exception):
    """The edit does not fit tank.yaml as it is; the message says why."""


def add_to(section: str, entry: Mapping[str, object]) -> dict[str, str]:
    """Return the edit that puts one entry into a list."""
    return {"do": "add", "to": section, "entry": flow_text(entry)}


def change(identity: str, sets: Mapping[str, str], drops: tuple[str, ...] = ()) -> dict[str, str]:
    """Return the edit that sets and takes out keys of one animal or spot."""
    return {"do": "change", "what": identity, "set": flow_text(sets), "drop": " ".join(drops)}


def apply_edit(
    text: str, edit: Mapping[str, str], event_id: str, where: tuple[int, int] | None = None
) -> str:
    """Return the text of tank.yaml with one edit made and its event named as the last.

    Parameters
    ----------
    text
        tank.yaml as it is.
    edit
        One of the forms above.
    event_id
        Id of the event it belongs to.
    where
        Line and column of the entry to change, where it has no id of its own yet.

    Raises
    ------
    EditError
        If the text cannot be read, holds no such entry, or the change did not come out as meant.
    """
    root = _tree(text)
    data = as_data(root)
    if not isinstance(data, dict):
        raise EditError(f"{TANK_FILE} does not hold keys with values")
    todo = _change_of(edit, root, where)
    wanted = _wanted(data, todo, event_id)
    for way in (_by_splicing, _by_round_trip):
        try:
            changed = way(text, root, todo, event_id)
            if as_data(_tree(changed)) == wanted and _comments_kept(text, changed):
                return changed
        except (SpliceError, EditError, ValueError, IndexError, KeyError, TypeError):
            continue
    raise EditError(f"the layout of {TANK_FILE} could not be changed safely")


def _tree(text: str) -> Keyed:
    ledger = Ledger()
    root = read_yaml(text, TANK_FILE, ledger)
    if root is None and not ledger.has_errors and not text.strip():
        raise EditError(f"{TANK_FILE} is empty")
    if not isinstance(root, Keyed):
        raise EditError(f"{TANK_FILE} cannot be read")
    return root


class _Todo:
    """One edit with its place in the tree: nothing to do, an entry to add, or an entry to change."""

    def __init__(
        self,
        section: str = "",
        entry: dict[str, object] | None = None,
        path: tuple[str, int | str] | None = None,
        sets: dict[str, str] | None = None,
        drops: frozenset[str] = frozenset(),
    ) -> None:
        self.section, self.entry, self.path = section, entry, path
        self.sets, self.drops = sets or {}, drops


def _change_of(edit: Mapping[str, str], root: Keyed, where: tuple[int, int] | None) -> _Todo:
    try:
        match edit.get("do"):
            case "add":
                entry = _data_of(edit["entry"])
                section = _section_called(root, edit["to"])
                return _Todo() if _there_already(root, entry) else _Todo(section, entry)
            case "change":
                sets = {str(k): str(v) for k, v in _data_of(edit["set"]).items()}
                path = _path_of(root, edit["what"], where)
                return _Todo(
                    path=path, sets={"id": edit["what"], **sets}, drops=frozenset(edit["drop"].split())
                )
            case "nothing":
                return _Todo()
            case other:
                raise EditError(f"I do not know the edit '{other}'")
    except (KeyError, ValueError, AttributeError, TypeError) as fault:
        raise EditError("the edit in the journal is not complete") from fault


def _data_of(text: str) -> dict[str, object]:
    node = read_yaml(text, "journal", Ledger())
    data = as_data(node) if node is not None else None
    if not isinstance(data, dict) or not data:
        raise EditError("the edit in the journal is not complete")
    return data


def _section_called(root: Keyed, section: str) -> str:
    """The key of a section as this file spells it: `animals` may stand for `corals`."""
    there = {key_of(k.text) for k, _ in root.entries}
    return "animals" if section == "corals" and "corals" not in there and "animals" in there else section


def _there_already(root: Keyed, entry: Mapping[str, object]) -> bool:
    sign = "id" if "id" in entry else "event"
    if sign not in entry:
        return False
    lists = (*SECTIONS, "readings")
    return any(
        _value(item, sign) == entry[sign] or (sign == "id" and name == entry["id"])
        for key, node in root.entries
        if key_of(key.text) in lists
        for name, item in _items(node)
    )


def _items(node: Node) -> list[tuple[int | str, Node]]:
    match node:
        case Items(items=items):
            return list(enumerate(items))
        case Keyed(entries=entries):
            return [(key.text, value) for key, value in entries]
        case _:
            return []


def _value(node: Node, key: str) -> str:
    if not isinstance(node, Keyed):
        return ""
    return next(
        (v.text.strip() for k, v in node.entries if key_of(k.text) == key and isinstance(v, Scalar)), ""
    )


def _path_of(root: Keyed, identity: str, where: tuple[int, int] | None) -> tuple[str, int | str]:
    entries = [
        (key.text, name, item)
        for key, node in root.entries
        if key_of(key.text) in SECTIONS
        for name, item in _items(node)
    ]
    for section, name, item in entries:
        if _value(item, "id") == identity or name == identity:
            return section, name
    stands = where or _where_made(root, identity)
    for section, name, item in entries:
        if stands is not None and (item.span.line, item.span.column) == stands:
            return section, name
    raise EditError(f"{TANK_FILE} has no entry {identity} to change")


def _where_made(root: Keyed, identity: str) -> tuple[int, int] | None:
    """Where the entry stands to which reading gives this id because it states none."""
    reading = Reading(Vocabulary(), Ledger())
    found = []
    for sections, what in ((("spots",), "spot"), (("corals", "animals", "waiting"), "coral")):
        nodes = [
            item
            for s in sections
            for key, node in root.entries
            if key_of(key.text) == s
            for item in section_items(node, what, reading.ledger)
        ]
        if what == "coral":
            found += find_entries(
                spread_lines(nodes, reading.ledger),
                what,
                reading.names.animals,
                reading,
                named_by=IS_KEYS,
                numbered=True,
            )
        else:
            found += find_entries(nodes, what, reading.names.spots, reading)
    span = next((one.span for one in found if one.id == identity), None)
    return (span.line, span.column) if span is not None else None


def _node_at(root: Keyed, path: tuple[str, int | str]) -> Node:
    section = next(node for key, node in root.entries if key.text == path[0])
    return dict(_items(section))[path[1]]


def _wanted(data: dict[str, object], todo: _Todo, event_id: str) -> dict[str, object]:
    """The data tank.yaml must hold afterwards."""
    wanted: dict[str, Any] = json.loads(json.dumps(data))
    if todo.entry is not None:
        key = next((k for k in wanted if key_of(k) == todo.section), todo.section)
        there = wanted.get(key)
        if isinstance(there, dict):
            entry = {k: v for k, v in todo.entry.items() if k != "id"}
            wanted[key] = {**there, str(todo.entry.get("id")): entry}
        else:
            wanted[key] = [*(there if isinstance(there, list) else []), json.loads(json.dumps(todo.entry))]
    if todo.path is not None:
        section, name = todo.path
        wanted[section][name] = _changed(wanted[section][name], todo, keyed=isinstance(name, str))
    last = next((k for k in wanted if key_of(k) == "last-event"), "last-event")
    wanted[last] = event_id
    return wanted


def _changed(entry: object, todo: _Todo, *, keyed: bool) -> dict[str, object]:
    old = entry if isinstance(entry, dict) else _from_line(str(entry))
    kept = {k: v for k, v in old.items() if key_of(k) not in todo.drops}
    spelled = {key_of(k): k for k in kept}
    sets = {k: v for k, v in todo.sets.items() if not (keyed and k == "id")}
    first = {"id": sets["id"]} if "id" in sets and "id" not in spelled else {}
    return {**first, **kept, **{spelled.get(key_of(k), k): v for k, v in sets.items()}}


def _from_line(text: str) -> dict[str, object]:
    coral = parse_coral_line(text)
    if not coral.called or coral.copies > 1:
        raise EditError(f"'{text}' is not one coral with keys; write it out with an id")
    says = {k: v for k, v in (("light", coral.light_word), ("flow", coral.flow_word)) if v}
    told = {
        "is": coral.called,
        "size": coral.size,
        "comes from": coral.comes_from,
        "note": coral.note,
        "seller says": says,
    }
    return {k: v for k, v in told.items() if v}


def _by_splicing(text: str, root: Keyed, todo: _Todo, event_id: str) -> str:
    splicer = Splicer(text, root)
    if todo.entry is not None:
        splicer.append_item(todo.section, todo.entry)
    if todo.path is not None:
        node = _node_at(root, todo.path)
        if isinstance(node, Keyed):
            sets = {k: v for k, v in todo.sets.items() if not (isinstance(todo.path[1], str) and k == "id")}
            splicer.change_entry(node, sets, todo.drops)
        elif isinstance(node, Scalar):
            splicer.replace_scalar_item(node, _changed(node.text, todo, keyed=False))
    splicer.set_top("last-event", event_id)
    return splicer.result()


def _by_round_trip(text: str, root: Keyed, todo: _Todo, event_id: str) -> str:
    """Load, change and dump with the round-trip YAML library, for layouts the splicer does not know."""
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = 10_000
    try:
        data = yaml.load(text)
    except YAMLError as fault:
        raise EditError(f"{TANK_FILE} cannot be read") from fault
    if todo.entry is not None:
        _add_in_place(data, todo.section, todo.entry)
    if todo.path is not None:
        section, name = todo.path
        _change_in_place(data[section], name, todo)
    data[next((k for k in data if key_of(str(k)) == "last-event"), "last-event")] = event_id
    out = io.StringIO()
    yaml.dump(data, out)
    return out.getvalue()


def _add_in_place(data: Any, section: str, entry: dict[str, object]) -> None:
    key = next((k for k in data if key_of(str(k)) == section), section)
    if isinstance(data.get(key), dict):
        data[key][entry["id"]] = {k: v for k, v in entry.items() if k != "id"}
    elif isinstance(data.get(key), list):
        data[key].append(dict(entry))
    else:
        data[key] = [dict(entry)]


def _change_in_place(section: Any, name: int | str, todo: _Todo) -> None:
    entry = section[name]
    changed = _changed(entry, todo, keyed=isinstance(name, str))
    if not isinstance(entry, dict):
        section[name] = changed
        return
    for key in [k for k in entry if k not in changed]:
        del entry[key]
    for key, value in changed.items():
        if key not in entry or str(entry[key]) != value:
            entry[key] = value


def _comments_kept(before: str, after: str) -> bool:
    def comments(text: str) -> Counter[str]:
        return Counter(c.strip() for c in re.findall(r"(?<!\S)#\s*([^#\n]*)", text))

    return not comments(before) - comments(after)
