"""One entry of a tank file (a spot, a coral, the tank): its keys taken one by one, the rest reported."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field

from advisor.errors import Related, Span
from advisor.model.vocabulary import Kind, Vocabulary
from advisor.tankfiles.ledger import Ledger, listed, try_closest
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of, texts_of

_SHOWN = 12
_ID = re.compile(r"[a-z0-9][a-z0-9-]*")


class Entry:
    """A mapping whose keys are taken by name; spellings with space, hyphen or underscore are one."""

    def __init__(self, node: Keyed, ledger: Ledger) -> None:
        self.span = node.span
        self._ledger = ledger
        self._left: dict[str, tuple[Scalar, Node]] = {}
        for key, value in node.entries:
            name = key_of(key.text)
            if name in self._left:
                first = self._left[name][0]
                ledger.note(
                    "yaml-116",
                    f"'{key.text}' stands twice in one entry",
                    key.span,
                    related=(Related(first.span, "first here"),),
                    mend="keep one of them",
                )
            else:
                self._left[name] = (key, value)

    def take(self, *names: str) -> Node | None:
        """Return the value of the first of `names` that is there, and take it out."""
        for name in names:
            if name in self._left:
                return self._left.pop(name)[1]
        return None

    def peek(self, *names: str) -> Node | None:
        """Return the value of the first of `names` that is there, and leave it."""
        return next((self._left[name][1] for name in names if name in self._left), None)

    def rest(self) -> Iterator[tuple[str, Scalar, Node]]:
        """Take and yield every key that is left: its one spelling, the key, the value."""
        left, self._left = self._left, {}
        for name, (key, value) in left.items():
            yield name, key, value


def note_unknown_key(key: Scalar, of: str, known: Iterable[str], ledger: Ledger) -> None:
    """Note a key that nobody knows, with the likeliest meant."""
    names = sorted(set(known))
    ledger.note(
        "key-121",
        f"I do not know '{key.text}' for {of}",
        key.span,
        label=f"expected one of {listed(names)}" if len(names) <= _SHOWN else f"no key of {of}",
        mend=try_closest(
            key_of(key.text), names, "advisor schema tank lists every key; free words go under note:"
        ),
    )


def slug(text: str) -> str:
    """Return the id a name makes: small letters, digits and hyphens; empty where none is left."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")


def read_id(node: Node | None, ledger: Ledger) -> str:
    """Return a stated id, or an empty text where none or a bad one is stated (noted)."""
    if node is None or (isinstance(node, Scalar) and node.blank):
        return ""
    if not isinstance(node, Scalar):
        ledger.note("id-141", "an id is one word", node.span, mend="torch-1")
        return ""
    text = node.text.strip()
    if _ID.fullmatch(text) and text != "tank":
        return text
    made = slug(text)
    ledger.note(
        "id-141",
        f"'{text}' cannot be an id",
        node.span,
        label="expected small letters, digits and hyphens" if text != "tank" else "taken by the tank itself",
        mend=made if made and made != "tank" else "torch-1",
    )
    return "" if made == "tank" else made


@dataclass(slots=True)
class Names:
    """The ids of one tank, and what else they may be called by."""

    spots: dict[str, Span] = field(default_factory=dict)
    animals: dict[str, Span] = field(default_factory=dict)
    rocks: dict[str, Span] = field(default_factory=dict)
    fish: dict[str, Span] = field(default_factory=dict)
    lamps: dict[str, Span] = field(default_factory=dict)
    pumps: dict[str, Span] = field(default_factory=dict)
    meters: dict[str, Span] = field(default_factory=dict)
    called: dict[str, str] = field(default_factory=dict)
    """Display names, as ids would be made of them, to ids."""

    def resolve(self, text: str, among: Iterable[str]) -> str:
        """Return the id among some that a text names, or an empty text."""
        ids = set(among)
        if text in ids:
            return text
        made = slug(text)
        if made in ids:
            return made
        known = self.called.get(made, "")
        return known if known in ids else ""

    @property
    def things(self) -> tuple[str, ...]:
        """Ids of everything that stands somewhere."""
        return (*self.spots, *self.animals)

    @property
    def taken(self) -> tuple[str, ...]:
        """Every id nothing else may have; a rock may be called like a spot on it."""
        return (*self.things, *self.fish, *self.lamps, *self.pumps)

    @property
    def every(self) -> tuple[str, ...]:
        """Ids of everything a reading can be of."""
        return (*self.taken, *self.rocks)

    def of(self, kind: Kind) -> dict[str, Span]:
        """Return the ids of the things of one kind."""
        lists = {Kind.PLACE: self.spots, Kind.ROCK: self.rocks, Kind.FISH: self.fish, Kind.LAMP: self.lamps}
        lists |= {Kind.PUMP: self.pumps, Kind.ANIMAL: self.animals, Kind.CORAL: self.animals}
        return lists.get(kind, {})

    def kind_of(self, identity: str) -> Kind | None:
        """Return what an id is of, None where nothing has it."""
        kinds = (Kind.PLACE, Kind.CORAL, Kind.FISH, Kind.LAMP, Kind.PUMP, Kind.ROCK)
        return next((kind for kind in kinds if identity in self.of(kind)), None)


@dataclass(slots=True)
class Reading:
    """What every reader needs: the vocabulary, the ids known so far, where faults go."""

    vocabulary: Vocabulary
    ledger: Ledger
    names: Names = field(default_factory=Names)
    words: Collection[str] | None = None
    """Every loose word that stands for a range; None where nobody told."""

    def refer(self, node: Node, what: str, among: Iterable[str]) -> str:
        """Return the id a value refers to, or an empty text with the fault noted."""
        ids = list(among)
        if not isinstance(node, Scalar):
            named = next((name for text in texts_of(node) if (name := self.names.resolve(text, ids))), "")
            mend = named or next(iter(ids), f"add the {what}, then write its id here")
            self.ledger.note("key-122", f"one {what} is expected here", node.span, mend=mend)
            return ""
        if node.blank:
            return ""
        found = self.names.resolve(node.text.strip(), ids)
        if not found:
            known = f"known here: {listed(ids)}" if ids else f"this tank names no {what} yet"
            self.ledger.note(
                "id-143",
                f"there is no {what} '{node.text.strip()}' in this tank",
                node.span,
                label=known,
                mend=try_closest(slug(node.text), ids, f"add the {what}, or correct the name"),
            )
        return found


def as_list(node: Node) -> tuple[Node, ...]:
    """Return the items of a list; one value alone is a list of one, and commas part a plain text."""
    if isinstance(node, Items):
        return node.items
    if isinstance(node, Scalar):
        if node.blank:
            return ()
        return tuple(Scalar(part.strip(), node.span) for part in node.text.split(",") if part.strip())
    return (node,)
