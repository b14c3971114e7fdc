"""What a command refuses of things and places: an unknown name, a full spot, a distance from nowhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.errors import Problem, unusable
from advisor.model.tank import Phase, Tank
from advisor.model.vocabulary import Kind, Vocabulary
from advisor.tankfiles.entries import Names, slug
from advisor.tankfiles.facts import OTHER_SPELLINGS, name_meant
from advisor.tankfiles.ledger import listed, try_closest
from advisor.tankfiles.nodes import key_of


def require_room(spot: str, who: str, tank: Tank) -> None:
    """Refuse a spot that is full, naming who stands there and which spots are free.

    Raises
    ------
    UnusableInput
        If the spot holds no more.
    """
    standing = [a for a in tank.animals if a.phase is not Phase.WAITING and a.id != who]
    here = {s.id: [a.id for a in standing if a.spot == s.id] for s in tank.spots}
    holds = {s.id: s.holds for s in tank.spots}
    if len(here.get(spot, ())) < holds.get(spot, 1):
        return
    free = [s for s in holds if len(here[s]) < holds[s]]
    there = listed(here[spot])
    raise unusable(
        (
            Problem(
                "place-152",
                f"{spot} is full: {there} {'stands' if len(here[spot]) == 1 else 'stand'} there",
                label=f"{spot} holds {holds[spot]}",
                mend=f"a free spot: {', '.join(free[:3])}" if free else f"move {here[spot][0]} first",
            ),
        )
    )


def require_standing(ids: Sequence[str], name: str, value: str, tank: Tank) -> None:
    """Refuse what lies between two things where one of them waits, and so stands nowhere.

    Raises
    ------
    UnusableInput
        If one of `ids` is an animal that waits.
    """
    waiting = {a.id for a in tank.animals if a.phase is Phase.WAITING}
    nowhere = next((one for one in ids if one in waiting), "")
    if not nowhere:
        return
    pair = ",".join("SPOT" if one == nowhere else one for one in ids)
    spots = listed([s.id for s in tank.spots], 6)
    raise unusable(
        (
            Problem(
                "place-154",
                f"{nowhere} waits and stands nowhere yet, so it has no {name} to anything",
                label=f"spots: {spots}" if spots else "this tank names no spot yet",
                mend=f'measure from the spot: advisor tank add reading {pair} {name} "{value}"',
            ),
        )
    )


def require_known(name: str, among: Mapping[str, object], what: str) -> None:
    """Refuse a name that none of `among` has.

    Raises
    ------
    UnusableInput
        If nothing there has that name.
    """
    if not Names(spots={}, called={}).resolve(name, among):
        raise unusable(
            (
                Problem(
                    "id-143",
                    f"there is no {what} '{name}' in this tank",
                    label=f"known here: {listed(among)}",
                    mend=try_closest(slug(name), among, f"advisor tank add {what} {slug(name)}"),
                ),
            )
        )


def thing_named(name: str, names: Names) -> str:
    """Return the id of the spot, animal, rock, lamp, pump or fish a text names.

    Raises
    ------
    UnusableInput
        If nothing there has that name.
    """
    found = names.resolve(name, names.every)
    if not found:
        raise unusable(
            (
                Problem(
                    "id-143",
                    f"there is no spot or animal '{name}' in this tank",
                    label=f"known here: {listed(names.every)}",
                    mend=try_closest(slug(name), names.every, "tank, for the water"),
                ),
            )
        )
    return found


def measure_named(text: str, vocabulary: Vocabulary, kind: Kind | None) -> str:
    """Return the measure or relation a text means of a thing of some kind.

    Raises
    ------
    UnusableInput
        If nothing is called so.
    """
    name = name_meant(key_of(text), kind, vocabulary)
    known = (*vocabulary.measures, *vocabulary.relations, "below")
    if name not in known:
        raise unusable(
            (
                Problem(
                    "key-121",
                    f"I do not know the measure '{text}'",
                    mend=try_closest(name, (*known, *OTHER_SPELLINGS), "advisor schema tank"),
                ),
            )
        )
    return name
