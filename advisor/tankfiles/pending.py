"""Edits the journal holds that have not reached tank.yaml: a program was stopped between the two."""

from __future__ import annotations

import json
from dataclasses import dataclass

from advisor.errors import Severity, Span
from advisor.tankfiles.edits import EditError, apply_edit
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Keyed, Scalar, key_of, read_yaml
from advisor.tankfiles.sources import JOURNAL_FILE, TANK_FILE


@dataclass(frozen=True, slots=True)
class JournalEdit:
    """One event that stands for an edit of tank.yaml."""

    id: str
    edit: dict[str, str]
    span: Span


def journal_edits(journal: str) -> tuple[JournalEdit, ...]:
    """Return the edits of a journal in order; lines that cannot be read are passed over here."""
    found = []
    for number, line in enumerate(journal.split("\n"), start=1):
        if '"edit"' not in line:
            continue
        try:
            data = json.loads(line)
        except (ValueError, RecursionError):
            continue
        edit = data.get("edit") if isinstance(data, dict) else None
        if (
            isinstance(edit, dict)
            and all(isinstance(v, str) for v in edit.values())
            and isinstance(data.get("id"), str)
        ):
            span = Span(JOURNAL_FILE, number, 1, number, len(line) + 1, line[:200])
            found.append(JournalEdit(data["id"], {str(k): str(v) for k, v in edit.items()}, span))
    return tuple(found)


def last_event_of(root: Keyed) -> Scalar | None:
    """Return the id of the last event whose edit tank.yaml already shows, as written."""
    node = next((v for k, v in root.entries if key_of(k.text) == "last-event"), None)
    return node if isinstance(node, Scalar) and not node.blank else None


def with_pending(text: str, root: Keyed, journal: str, ledger: Ledger) -> tuple[str, Keyed]:
    """Return tank.yaml as it is once every missing edit is made, in memory only.

    Parameters
    ----------
    text, root
        tank.yaml and the tree it was read as.
    journal
        The text of the journal.
    ledger
        Where a missing edit, or one that cannot be made, is noted.
    """
    edits = journal_edits(journal)
    last = last_event_of(root)
    missing = _missing(edits, last, ledger)
    for edit in missing:
        try:
            text = apply_edit(text, edit.edit, edit.id)
        except EditError as fault:
            ledger.note(
                "journal-186",
                f"the edit of event {edit.id} cannot be made: {fault}",
                edit.span,
                mend=f"make it by hand, then write last-event: {edit.id} into {TANK_FILE}",
            )
            break
        ledger.note(
            "journal-185",
            f"event {edit.id} has not reached {TANK_FILE} yet; I read the tank as if it had",
            edit.span,
            severity=Severity.WARNING,
            mend="the next command that changes the tank writes it down",
        )
    changed = read_yaml(text, TANK_FILE, Ledger()) if missing else root
    return text, changed if isinstance(changed, Keyed) else root


def _missing(edits: tuple[JournalEdit, ...], last: Scalar | None, ledger: Ledger) -> tuple[JournalEdit, ...]:
    if last is None:
        return edits
    ids = [edit.id for edit in edits]
    name = last.text.strip()
    if name in ids:
        return edits[len(ids) - ids[::-1].index(name) :]
    if edits:
        ledger.note(
            "journal-184",
            f"{TANK_FILE} names the last event {name}, which the journal does not hold",
            last.span,
            severity=Severity.WARNING,
            label="I cannot tell which edits are missing; none is replayed",
            mend=f"last-event: {ids[-1]}, if everything in the journal is done",
        )
    return ()
