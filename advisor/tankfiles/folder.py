"""A tank folder read whole: tank.yaml, tables and journal, with every problem of all of them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from advisor.errors import Problem, Span
from advisor.model.tank import Animal, Fact, Glass, Rock, Spot, Tank
from advisor.model.vocabulary import Kind, Vocabulary
from advisor.tankfiles.animals import read_animal, spread_lines
from advisor.tankfiles.checks import check_crowding, current_facts, note_not_understood
from advisor.tankfiles.entries import Entry, Reading, as_list, read_id, slug
from advisor.tankfiles.facts import TANK, Subject, known_keys, note_twice
from advisor.tankfiles.journal import read_journal
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.loose import note_unknown_words
from advisor.tankfiles.lux import in_par
from advisor.tankfiles.meters import read_meters
from advisor.tankfiles.nodes import Keyed, Node, Scalar, read_yaml
from advisor.tankfiles.pending import with_pending
from advisor.tankfiles.said import is_none, is_unknown, read_date, read_words, read_yes_no
from advisor.tankfiles.sections import IS_KEYS, find_entries, section_items
from advisor.tankfiles.sources import (
    CORALS_FILE,
    JOURNAL_FILE,
    MAX_TABLE_BYTES,
    MAX_YAML_BYTES,
    READINGS_FILE,
    SPOTS_FILE,
    TANK_FILE,
    house_files,
    inside,
    read_text,
)
from advisor.tankfiles.spots import find_spots, read_rocks, read_spot
from advisor.tankfiles.surroundings import read_rest
from advisor.tankfiles.tables import read_table
from advisor.tankfiles.things import Things, read_things, told_kinds
from advisor.tankfiles.unusual import note_unusual
from advisor.tankfiles.water import (
    read_flow,
    read_glass,
    read_horizon,
    read_readings,
    read_water,
    stated_gaps,
)

TANK_KEYS = (
    "edition",
    "id",
    "tank",
    "name",
    "invented",
    "started",
    "horizon",
    "last event",
    "glass",
    "flow",
    "water",
    "rocks",
    "spots",
    "places every",
    "places on",
    "corals",
    "animals",
    "waiting",
    "lamps",
    "pumps",
    "meters",
    "fish",
    "readings",
    "gaps",
    "also",
    "house",
    "note",
)
EDITION = "1"


def read_tank(
    folder: Path, vocabulary: Vocabulary, *, words: Collection[str] | None = None
) -> tuple[Tank | None, tuple[Problem, ...]]:
    """Return the tank a folder describes, and every problem found in its files.

    Parameters
    ----------
    folder
        The tank folder; nothing in it is written.
    vocabulary
        The measures and relations a keeper may state.
    words
        Loose words that stand for a range (``medium``); any other where a number belongs is warned of.

    Returns
    -------
    The tank, or None where tank.yaml cannot be read at all. Where any problem
    is an error the tank is only good for finding further problems: what is
    faulty is left out of it.
    """
    reading = Reading(vocabulary, Ledger(), words=words)
    text = read_text(folder, TANK_FILE, reading.ledger, MAX_YAML_BYTES, needed=True)
    return read_tank_text(folder, text, reading)


def read_tank_text(
    folder: Path, text: str | None, reading: Reading, *, pending: bool = True
) -> tuple[Tank | None, tuple[Problem, ...]]:
    """Return the tank a folder would describe with `text` as its tank.yaml; see `read_tank`.

    With `pending`, edits the journal holds and the text does not show are laid over it.
    """
    root = _root(text, reading.ledger)
    note_not_understood(text or "", reading.ledger)
    journal = read_text(folder, JOURNAL_FILE, reading.ledger, MAX_TABLE_BYTES) or ""
    if pending and root is not None and text is not None:
        _, root = with_pending(text, root, journal, reading.ledger)
    sections = _Sections(Entry(root, reading.ledger), reading) if root is not None else None
    tables = {
        name: _table(folder, name, reading, kind)
        for name, kind in ((SPOTS_FILE, Kind.PLACE), (CORALS_FILE, Kind.CORAL), (READINGS_FILE, Kind.PLACE))
    }
    tank = sections.tank(folder, tables, journal) if sections is not None else None
    if tank is None:
        read_journal(journal, reading)
    return tank, reading.ledger.problems


def _root(text: str | None, ledger: Ledger) -> Keyed | None:
    if text is None:
        return None
    root = read_yaml(text, TANK_FILE, ledger)
    if isinstance(root, Keyed):
        return root
    if root is None or (isinstance(root, Scalar) and root.blank):
        if not ledger.has_errors:
            ledger.note(
                "file-102",
                f"{TANK_FILE} is empty",
                Span(TANK_FILE),
                label="no spot and no coral is told",
                mend="advisor tank new DIR makes one to fill in",
            )
        return None
    ledger.note("key-122", f"{TANK_FILE} must hold keys with values", root.span, mend="name: my tank")
    return None


def _table(folder: Path, name: str, reading: Reading, kind: Kind) -> list[Node]:
    text = read_text(folder, name, reading.ledger, MAX_TABLE_BYTES)
    if text is None:
        return []
    subjects = (
        (Subject(kind, ""), TANK, Subject(Kind.CORAL, "")) if name == READINGS_FILE else (Subject(kind, ""),)
    )
    known = tuple(key for subject in subjects for key in known_keys(subject, reading))
    return read_table(text, name, (*known, *_STRUCTURAL), reading.ledger)


_STRUCTURAL = (
    "extent",
    "holds",
    "temporary",
    "nothing-else-within",
    "gaps-complete",
    "size",
    "clone",
    "placed",
    "phase",
    "up-flow",
    "down-flow",
    "seller-says",
    "error",
    "at",
)


@dataclass(slots=True)
class _Sections:
    """The top-level keys of one tank.yaml, read in the order that lets ids be known before they are used."""

    top: Entry
    reading: Reading

    def tank(self, folder: Path, tables: dict[str, list[Node]], journal: str) -> Tank:
        """Return the tank of the whole folder."""
        top, reading, ledger = self.top, self.reading, self.reading.ledger
        identity, name = self._called(folder)
        faults = len(ledger.problems)
        glass = read_glass(top.take("glass"), reading, folder)
        faulty = glass is None and len(ledger.problems) > faults
        spot_nodes = [*section_items(top.take("spots"), "spots", ledger), *tables[SPOTS_FILE]]
        told = told_kinds(top)
        rocks, of_rocks = read_rocks(
            section_items(top.take("rocks"), "rocks", ledger), spot_nodes, glass, reading
        )
        rocks = self._scanned(rocks, glass, folder)
        found_spots = find_spots(spot_nodes, reading)
        sampled = self._sampled(rocks, glass, faulty)
        found_animals = find_entries(
            self._animal_nodes(tables[CORALS_FILE]),
            "coral",
            reading.names.animals,
            reading,
            named_by=IS_KEYS,
            numbered=True,
        )
        facts: list[Fact] = [*of_rocks]
        things, of_things = read_things(top, glass, reading)
        facts += of_things
        spots: list[Spot] = []
        for one in found_spots:
            spot, said = read_spot(one, glass, reading)
            spots.append(spot)
            facts += said
        spots += sampled
        animals: list[Animal] = []
        for one in found_animals:
            read = read_animal(one, glass, reading)
            animals.append(read.animal)
            facts += read.facts
        return self._join(
            folder,
            identity,
            name,
            rocks=rocks,
            spots=tuple(spots),
            animals=tuple(animals),
            things=things,
            told=told,
            facts=facts,
            readings=tables[READINGS_FILE],
            journal=journal,
            glass=glass,
        )

    def _scanned(self, rocks: tuple[Rock, ...], glass: Glass | None, folder: Path) -> tuple[Rock, ...]:
        """The rocks with their scans; the library for meshes is loaded only where there is one."""
        if not any(rock.body is not None and rock.body.mesh for rock in rocks):
            return rocks
        from advisor.tankfiles.scans import with_scans

        return with_scans(rocks, glass, folder, self.reading.ledger)

    def _sampled(self, rocks: tuple[Rock, ...], glass: Glass | None, faulty: bool) -> tuple[Spot, ...]:
        """Places nobody named, where they are asked for and nothing is wrong with the glass."""
        node, on = self.top.take("places-every"), self.top.take("places-on")
        if on is not None and node is None:
            what = "places on says which, but not how far apart"
            self.reading.ledger.note("key-123", what, on.span, mend="places every: 8 cm")
        if node is None or is_unknown(node) or is_none(node) or (isinstance(node, Scalar) and node.blank):
            return ()
        if faulty:
            return ()
        from advisor.tankfiles.sampled import sampled_spots

        return sampled_spots(node, on, rocks, glass, self.reading)

    def _called(self, folder: Path) -> tuple[str, str]:
        id_node, name_node = self.top.take("id", "tank"), self.top.take("name")
        name = read_words(name_node, self.reading.ledger) if name_node is not None else ""
        identity = (
            read_id(id_node, self.reading.ledger) or slug(name) or slug(folder.resolve().name) or "my-tank"
        )
        return identity, name or identity

    def _animal_nodes(self, table: list[Node]) -> list[Node]:
        ledger = self.reading.ledger
        nodes = [
            node for key in ("corals", "animals") for node in section_items(self.top.take(key), key, ledger)
        ]
        waiting = section_items(self.top.take("waiting"), "waiting corals", ledger)
        return [
            *spread_lines(nodes, ledger),
            *(_as_waiting(n) for n in spread_lines(waiting, ledger)),
            *(_par_of_waiting(n) for n in table),
        ]

    def _join(
        self,
        folder: Path,
        identity: str,
        name: str,
        *,
        rocks: tuple[Rock, ...],
        spots: tuple[Spot, ...],
        animals: tuple[Animal, ...],
        things: Things,
        told: tuple[str, ...],
        facts: list[Fact],
        readings: list[Node],
        journal: str,
        glass: Glass | None,
    ) -> Tank:
        top, reading, ledger = self.top, self.reading, self.reading.ledger
        flow, said = read_flow(top.take("flow", "main-flow"), reading)
        facts += said
        facts += read_water(top.take("water", "water-tests", "tests"), reading)
        facts += read_readings([*section_items(top.take("readings"), "readings", ledger), *readings], reading)
        facts += stated_gaps(section_items(top.take("gaps"), "gaps", ledger), reading)
        horizon = read_horizon(top.take("horizon"), reading)
        started, invented = top.take("started", "started-on"), top.take("invented")
        last, house = top.take("last-event"), self._house(folder)
        self._edition()
        meters = read_meters(top.take("meters"), reading)
        facts += read_rest(top, TANK, reading, "the tank", TANK_KEYS)
        events = meters.read_in(read_journal(journal, reading))
        stated = meters.read_with(tuple(facts))
        meters.note_at_odds(stated)
        stated, events = in_par(stated, events, things.lamps, reading)
        note_twice((*stated, *(fact for event in events for fact in event.facts)), reading)
        note_unknown_words((*stated, *(fact for event in events for fact in event.facts)), reading)
        check_crowding(spots, animals, reading)
        current = current_facts(stated, animals, events, reading)
        note_unusual((*current, *(fact for event in events for fact in event.facts)), glass, reading)
        return Tank.model_validate(
            {
                "id": identity,
                "name": name,
                "glass": glass,
                "flow": flow,
                "horizon_months": horizon,
                "spots": spots,
                "invented": bool(read_yes_no(invented, ledger)) if invented is not None else False,
                "started": read_date(started, ledger) if started is not None else None,
                "rocks": rocks,
                "animals": animals,
                "lamps": things.lamps,
                "pumps": things.pumps,
                "fish": things.fish,
                "told": told,
                "facts": current,
                "events": events,
                "last_event": read_words(last, ledger) if last is not None else "",
                "house_files": house,
            }
        )

    def _edition(self) -> None:
        node = self.top.take("edition")
        if isinstance(node, Scalar) and not node.blank and node.text.strip() != EDITION:
            self.reading.ledger.note(
                "value-133",
                f"I do not know edition {node.text} of tank files",
                node.span,
                label=f"expected {EDITION}",
                mend=f"edition: {EDITION}",
            )

    def _house(self, folder: Path) -> tuple[str, ...]:
        node = self.top.take("house", "house-files")
        named = []
        for item in as_list(node) if node is not None and not is_none(node) and not is_unknown(node) else ():
            name = read_words(item, self.reading.ledger)
            path = inside(folder, name)
            if path is None:
                self.reading.ledger.note(
                    "file-105",
                    f"'{name}' leads out of the tank folder",
                    item.span,
                    mend="put the file into the folder, or name it with --house",
                )
            elif not path.is_file():
                self.reading.ledger.note(
                    "file-101",
                    f"there is no '{name}' in this folder",
                    item.span,
                    mend="correct the name, or take the line out",
                )
            else:
                named.append(name)
        return tuple(dict.fromkeys((*named, *house_files(folder))))


def _as_waiting(node: Node) -> Node:
    if not isinstance(node, Keyed) or any(
        k.text.strip().lower() in ("phase", "stage") for k, _ in node.entries
    ):
        return node
    return Keyed((*node.entries, (Scalar("phase", node.span), Scalar("waiting", node.span))), node.span)


def _par_of_waiting(node: Node) -> Node:
    """In a list of corals the light of one without a spot is the light it comes from."""
    if not isinstance(node, Keyed):
        return node
    keys = {k.text for k, _ in node.entries}
    if keys & {"spot", "placed", "at", "place"} or "light" not in keys or "comes-from" in keys:
        return node
    return Keyed(
        tuple((Scalar("comes-from", k.span) if k.text == "light" else k, v) for k, v in node.entries),
        node.span,
    )
