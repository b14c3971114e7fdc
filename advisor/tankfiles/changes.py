"""Commands that change a tank: the journal is told first, then tank.yaml is rewritten to match."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from advisor.errors import Problem, Severity, Span, unusable
from advisor.model.tank import Animal, Event, EventKind, Phase, Tank
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.edits import EditError, add_to, apply_edit, change
from advisor.tankfiles.entries import Names, Reading, slug
from advisor.tankfiles.facts import SEEN_FROM_OTHER
from advisor.tankfiles.folder import read_tank_text
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.loose import UNKNOWN_WORD
from advisor.tankfiles.nodes import Keyed, key_of, read_yaml
from advisor.tankfiles.pasted import parse_coral_line, told_of
from advisor.tankfiles.pending import with_pending
from advisor.tankfiles.refusals import (
    measure_named,
    require_known,
    require_room,
    require_standing,
    thing_named,
)
from advisor.tankfiles.sources import JOURNAL_FILE, MAX_TABLE_BYTES, MAX_YAML_BYTES, TANK_FILE, read_text
from advisor.tankfiles.store import append_line, locked, write_atomically
from advisor.tankfiles.unitless import (
    require_unit_of_place,
    require_units,
    require_units_in_line,
    with_unit_of,
)

OWN_PLACE = ("at", "place", "position", "where", "rock", "on-rock", "which-rock")
"""Keys of an animal's own position, which end when it goes to a spot."""
SETTLED_KEYS = frozenset(
    {"placed", "placed-on", "date-placed", "doing", "fixing", "fixed", "mounted", "moved", "moved-on"}
)
"""Keys that are told of a coral that is inside already."""


class _Open:
    """A tank folder held for one change: its text with every missing edit made, and what it says."""

    def __init__(self, folder: Path, vocabulary: Vocabulary, words: Collection[str] | None) -> None:
        self.folder, self._vocabulary, self._words = folder, vocabulary, words
        reading = Reading(vocabulary, Ledger(), words=words)
        text = read_text(folder, TANK_FILE, reading.ledger, MAX_YAML_BYTES, needed=True)
        tank, problems = read_tank_text(folder, text, reading)
        errors = tuple(p for p in problems if p.severity is Severity.ERROR)
        if tank is None or text is None or errors:
            raise unusable(errors or problems)
        self.tank: Tank = tank
        self._known_faults = frozenset(p.what for p in problems)
        self.names: Names = reading.names
        self.text = self._with_pending(text)

    def _with_pending(self, text: str) -> str:
        journal = read_text(self.folder, JOURNAL_FILE, Ledger(), MAX_TABLE_BYTES) or ""
        root = read_yaml(text, TANK_FILE, Ledger())
        return with_pending(text, root, journal, Ledger())[0] if isinstance(root, Keyed) else text

    def next_id(self) -> str:
        """The id of the next event."""
        numbers = [int(found.group(1)) for e in self.tank.events if (found := re.fullmatch(r"e-(\d+)", e.id))]
        return f"e-{max(numbers, default=0) + 1:04d}"

    def commit(self, event: Event, where: tuple[int, int] | None = None) -> Event:
        """Check the change on the text alone, then write the journal, then tank.yaml."""
        try:
            text = apply_edit(self.text, event.edit or {"do": "nothing"}, event.id, where)
        except EditError as fault:
            raise unusable(
                (Problem("edit-191", str(fault), Span(TANK_FILE), mend="make the change in an editor"),)
            ) from fault
        again = Reading(self._vocabulary, Ledger(), words=self._words)
        changed, problems = read_tank_text(self.folder, text, again, pending=False)
        errors = tuple(replace(p, severity=Severity.ERROR) for p in problems if self._refused(p))
        if errors or changed is None:
            raise unusable(errors)
        require_units(self.tank, changed, event, self._vocabulary)
        append_line(self.folder, JOURNAL_FILE, _line(event))
        write_atomically(self.folder, TANK_FILE, text)
        return event

    def _refused(self, problem: Problem) -> bool:
        new_word = problem.code == UNKNOWN_WORD and problem.what not in self._known_faults
        return new_word or problem.severity is Severity.ERROR


def _line(event: Event) -> str:
    told = event.model_dump(mode="json", exclude={"span", "facts"}, exclude_defaults=True)
    return json.dumps(
        {key: value for key, value in told.items() if value not in (None, "")}, ensure_ascii=False
    )


def _changed(
    folder: Path,
    vocabulary: Vocabulary,
    words: Collection[str] | None,
    make: Callable[[_Open], tuple[Event, tuple[int, int] | None]],
) -> Event:
    with locked(folder):
        held = _Open(folder, vocabulary, words)
        event, where = make(held)
        return held.commit(event, where)


def add_coral(
    folder: Path,
    vocabulary: Vocabulary,
    called: str,
    *,
    on: date,
    id: str = "",
    spot: str = "",
    told: Mapping[str, str] | None = None,
    words: Collection[str] | None = None,
) -> Event:
    """Add a coral to a tank: waiting, or standing on a spot.

    Parameters
    ----------
    folder, vocabulary
        The tank, and the measures that may be told.
    called
        What it is: card, trade name or binomial.
    on
        The day of the event.
    id
        Its id; empty for one made from `called`.
    spot
        Where it stands from that day on; empty while it waits.
    told
        More keys of a coral with their texts: ``size``, ``origin-light``, ``clone`` …
    words
        Loose words that stand for a range; another where a number belongs is refused.

    Raises
    ------
    UnusableInput
        If the folder or what is told cannot be used; nothing is written then.
    """

    def make(held: _Open) -> tuple[Event, tuple[int, int] | None]:
        coral = parse_coral_line(called)
        require_units_in_line(coral)
        identity = id or _free_id(slug(coral.called) or "coral", held.names, numbered=True)
        entry: dict[str, object] = {"id": identity, **told_of(coral, called)}
        for key, value in (told or {}).items():
            entry["comes from" if key_of(key) in ("origin-light", "comes-from") else key] = value
        if spot:
            require_known(spot, held.names.spots, "spot")
            where = held.names.resolve(spot, held.names.spots)
            require_room(where, identity, held.tank)
            entry |= {"spot": where, **({} if _inside_already(told or {}) else _placed_now(entry, on))}
        _require_free(identity, held.names)
        return Event(
            id=held.next_id(),
            on=on,
            by="keeper",
            kind=EventKind.ADDED,
            subject=identity,
            spot=spot,
            edit=add_to("corals", entry),
        ), None

    return _changed(folder, vocabulary, words, make)


def add_spot(
    folder: Path,
    vocabulary: Vocabulary,
    name: str,
    *,
    on: date,
    at: str = "",
    told: Mapping[str, str] | None = None,
    words: Collection[str] | None = None,
) -> Event:
    """Add a spot to a tank; `at` is its place in words or its position. See `add_coral`.

    Raises
    ------
    UnusableInput
        If the folder or what is told cannot be used; nothing is written then.
    """

    def make(held: _Open) -> tuple[Event, tuple[int, int] | None]:
        identity = slug(name)
        _require_free(identity, held.names)
        entry: dict[str, object] = {"id": identity}
        if name != identity:
            entry["name"] = name
        if at:
            in_numbers = re.match(r"\s*[\d.]", at) is not None
            entry["at" if in_numbers else "place"] = at
            require_unit_of_place(at if in_numbers else "")
        entry |= dict(told or {})
        return Event(
            id=held.next_id(),
            on=on,
            by="keeper",
            kind=EventKind.ADDED,
            subject=identity,
            edit=add_to("spots", entry),
        ), None

    return _changed(folder, vocabulary, words, make)


def add_reading(
    folder: Path,
    vocabulary: Vocabulary,
    subjects: Sequence[str],
    measure: str,
    value: str,
    *,
    on: date,
    how: str = "",
    words: Collection[str] | None = None,
) -> Event:
    """Add a dated reading of a spot, an animal, a rock, lamp, pump or fish, the tank, or between two.

    Parameters
    ----------
    folder, vocabulary
        The tank, and the measures that may be read.
    subjects
        One id, or two for what lies between: ``("right-shelf", "torch-1")``; ``("tank",)`` for the water.
    measure
        Name of a measure or relation of the vocabulary.
    value
        As in a tank file: ``118 ±12 PAR``, ``medium``, ``yes``.
    on
        The day it was read.
    how
        Instrument or method.
    words
        See `add_coral`.

    Raises
    ------
    UnusableInput
        If the folder or the reading cannot be used; nothing is written then.
    """

    def make(held: _Open) -> tuple[Event, tuple[int, int] | None]:
        ids = [s if s == "tank" else thing_named(s, held.names) for s in subjects]
        name = measure_named(measure, vocabulary, held.names.kind_of(ids[0]))
        if len(ids) == 2:
            require_standing(ids, name, value, held.tank)
        if len(ids) == 2 and name in SEEN_FROM_OTHER:
            ids.reverse()
        identity = held.next_id()
        entry: dict[str, object] = {"of": ids[0], "on": on.isoformat()}
        said = with_unit_of(measure, value, vocabulary.measures.get(name))
        entry[name] = {ids[1]: said} if len(ids) == 2 else said
        if how:
            entry["how"] = how
        entry["event"] = identity
        kind = EventKind.TESTED if ids[0] == "tank" else EventKind.MEASURED
        return Event(
            id=identity,
            on=on,
            by="keeper",
            kind=kind,
            subject=ids[0],
            edit=add_to("readings", entry),
            note=f"{name} {said}",
        ), None

    return _changed(folder, vocabulary, words, make)


def move(folder: Path, vocabulary: Vocabulary, animal: str, spot: str, *, on: date, note: str = "") -> Event:
    """Move an animal to a spot: one that waited is on trial there, any other stays what it was.

    What was said of its surroundings before is not deleted; reading leaves it out from that day on.

    Raises
    ------
    UnusableInput
        If the folder, the animal or the spot cannot be used; nothing is written then.
    """

    def make(held: _Open) -> tuple[Event, tuple[int, int] | None]:
        require_known(animal, held.names.animals, "coral")
        require_known(spot, held.names.spots, "spot")
        who = held.names.resolve(animal, held.names.animals)
        where = held.names.resolve(spot, held.names.spots)
        stands = next(a for a in held.tank.animals if a.id == who)
        require_room(where, who, held.tank)
        if stands.span is not None and stands.span.file != TANK_FILE:
            raise unusable(
                (
                    Problem(
                        "edit-191",
                        f"{who} is listed in {stands.span.file}, which I do not rewrite",
                        stands.span,
                        mend=f"move its line into {TANK_FILE}, or change the spot there",
                    ),
                )
            )
        if stands.phase is not Phase.WAITING and stands.spot == where:
            raise unusable(
                (Problem("edit-192", f"{who} stands on {where} already", mend="name another spot"),)
            )
        # since when it is in the tank is history that a move does not change
        entered = {} if stands.placed_on is not None else {"placed": on.isoformat()}
        sets = {"spot": where, **entered, "moved": on.isoformat(), **_phase_after(stands)}
        kind = EventKind.PLACED if stands.phase is Phase.WAITING else EventKind.MOVED
        event = Event(
            id=held.next_id(),
            on=on,
            by="keeper",
            kind=kind,
            subject=who,
            spot=where,
            note=note,
            edit=change(who, sets, OWN_PLACE),
        )
        return event, (stands.span.line, stands.span.column) if stands.span is not None else None

    return _changed(folder, vocabulary, None, make)


def _inside_already(told: Mapping[str, str]) -> bool:
    """Whether what is told can only be told of a coral that stood there before this day."""
    keys = {key_of(key): text.strip().lower() for key, text in told.items()}
    return bool(SETTLED_KEYS & keys.keys()) or keys.get("phase", "") in ("placed", "settled")


def _placed_now(entry: Mapping[str, object], on: date) -> dict[str, str]:
    """The keys of a coral that comes to stand somewhere today; told ones stay."""
    told = {key_of(key) for key in entry}
    new = {"phase": Phase.TRIAL.value, "placed": on.isoformat(), "moved": on.isoformat()}
    return {key: value for key, value in new.items() if key not in told}


def _phase_after(animal: Animal) -> dict[str, str]:
    return {"phase": Phase.TRIAL.value} if animal.phase is Phase.WAITING else {}


def _free_id(base: str, names: Names, *, numbered: bool) -> str:
    taken = {*names.taken, "tank"}
    if not numbered and base not in taken:
        return base
    number = 1
    while f"{base}-{number}" in taken:
        number += 1
    return f"{base}-{number}"


def _require_free(identity: str, names: Names) -> None:
    if identity in names.taken:
        free = _free_id(re.sub(r"-\d+$", "", identity), names, numbered=True)
        raise unusable((Problem("id-142", f"there is {identity} in this tank already", mend=free),))
