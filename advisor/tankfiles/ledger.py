"""Where readers of a tank folder note every fault they find, and how they guess at misspelt names."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.errors import Problem, Related, Severity, Span


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
