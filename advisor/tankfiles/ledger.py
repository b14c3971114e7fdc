"""Where readers of a tank folder note every fault they find, and how they guess at misspelt names."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.errors import Problem, Related, Severity, Span

CODES: dict[str, str] = {
    "file-101": "There is no such file, or it cannot be opened. A tank folder holds a tank.yaml; "
    "`advisor tank new DIR` makes one.",
    "file-102": "The file is empty. A tank.yaml needs at least one spot or one coral to say anything about.",
    "file-103": "The file is larger than a tank file can sensibly be, so it was not read at all. "
    "Split it, or take out what is not about the tank.",
    "file-104": "The file is not written in UTF-8. Save it again as UTF-8 (plain text).",
    "file-105": "A path in the tank folder leads out of the folder. Files of a tank lie inside its folder.",
    "file-106": "A control character stands in the text, such as the one that starts a terminal command. "
    "Delete it.",
    "file-107": "Another program is changing this tank folder. Wait for it, then try again.",
    "file-108": "There is a tank in this folder already; it is not overwritten.",
    "yaml-111": "The layout of the file cannot be read. Look at the line named and the one above it: "
    "a colon, a quote or a bracket is missing, or the line is not indented like its neighbours.",
    "yaml-112": "A tab stands where the layout needs spaces. Replace it by spaces.",
    "yaml-113": "The file nests deeper than any tank needs.",
    "yaml-114": "The file holds more entries than a tank can, perhaps through repeated references (*name).",
    "yaml-115": "A tag (!name) asks for a special kind of object. Tank files are plain data; delete the tag.",
    "yaml-116": "The same key stands twice in one entry, so one of the two would be lost. Keep one.",
    "yaml-117": "The file holds several documents (---). Keep one.",
    "key-121": "A key is not one I know at this place. Keys are the names of measures and relations, and the "
    "few names of the tank file itself; `advisor schema tank` lists them.",
    "key-122": "A value does not have the form this key needs: a list, a mapping, or one value.",
    "key-123": "A key that is needed is missing.",
    "key-124": "This is not for the keeper to state: it comes from the coral's card or is computed. "
    "Change a card in house.rules.",
    "value-131": "The text is not a quantity: a number, a unit that fits, a range such as 100-140 PAR, or "
    "118 ±12 PAR.",
    "value-132": "The number is outside what can be: of this measure, or of a sum of water changes.",
    "value-133": "The word is not one of those this key takes.",
    "value-134": "A date is written as year-month-day: 2026-10-24.",
    "value-135": "A timed crumb needs a distance and the seconds it took.",
    "value-137": "A place is words (left, back, high) or a position (20, 35, 28 cm).",
    "value-138": "A word stands where a number belongs, and no rule says what it means. It is taken as "
    "unknown.",
    "id-141": "An id is made of small letters, digits and hyphens, and `tank` is taken.",
    "id-142": "Two things have the same id; every spot, animal and fish needs its own.",
    "id-143": "Nothing in this tank has that name.",
    "place-151": "A position is outside the glass. Positions are inside measures from the front left bottom "
    "corner: x to the right, y to the back, z up.",
    "place-152": "More animals stand on a spot than it holds. Raise `holds`, or move one.",
    "place-153": "Two animals have exactly the same position.",
    "place-154": "An animal that waits cannot stand on a spot; a placed one does.",
    "reading-161": "One thing was read twice on one date, and differently; the last one written counts.",
    "reading-162": "A statement about where an animal stands is older than its last move, so it is left out.",
    "csv-171": "A column heading is not one I know here.",
    "csv-172": "A row has more fields than the heading.",
    "journal-181": "A line of the journal is not a complete event. Each line is one JSON object.",
    "journal-182": "A line of the journal was cut off while it was being written; it is left out.",
    "journal-183": "Two events have the same id.",
    "journal-184": "tank.yaml names a last event the journal does not hold, so I cannot tell which edits are "
    "missing. Nothing is replayed.",
    "journal-185": "The journal holds an edit that has not reached tank.yaml; I read the tank as if it had. "
    "The next command that changes the tank writes it down.",
    "journal-186": "The journal holds an edit that cannot be made in tank.yaml as it is now.",
    "edit-191": "The layout of tank.yaml could not be edited safely; nothing was changed in it.",
    "edit-192": "The coral is to be moved to where it stands already; nothing was changed.",
}
"""Every code this package reports, with a longer text for `explain`."""


class Ledger:
    """Collects problems; readers go on after noting one."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything noted so far, in order of noting."""
        return tuple(self._problems)

    def note(
        self,
        code: str,
        what: str,
        span: Span | None = None,
        *,
        label: str = "",
        mend: str = "",
        severity: Severity = Severity.ERROR,
        related: tuple[Related, ...] = (),
    ) -> None:
        """Note one problem."""
        self._problems.append(Problem(code, what, span, label, mend, severity, related))

    @property
    def has_errors(self) -> bool:
        """Whether anything noted makes the input unusable."""
        return any(p.severity is Severity.ERROR for p in self._problems)


# Score out of 100 above which two names look like one misspelt; below, a hint misleads more than it helps.
_ALIKE = 70.0


def closest(word: str, known: Iterable[str]) -> str:
    """Return the known name most like `word`, or an empty text where none is alike."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(word, sorted(set(known)), scorer=fuzz.ratio, score_cutoff=_ALIKE)
    return str(found[0]) if found else ""


def try_closest(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """Return a mend: the closest known name, else `otherwise`."""
    return closest(word, known) or otherwise


def listed(names: Iterable[str], most: int = 12) -> str:
    """Return names as a readable list, cut off where it grows too long to help."""
    every = list(names)
    shown = ", ".join(every[:most])
    return f"{shown}, …" if len(every) > most else shown
