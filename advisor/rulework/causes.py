"""Which edit brings a change of an answer about: the edits are made one at a time, and judged again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from advisor.language.house_state import names_behind
from advisor.language.library import Library
from advisor.language.nodes import Prefer, Rule
from advisor.rulework.declared import Key, mixed
from advisor.rulework.outcomes import Asked, Outcomes
from advisor.rulework.together import Together, together

Judge = Callable[[Library, frozenset[str]], Outcomes]
"""From a library and the rules asked about (or the animals that wait) to answers."""


@dataclass(slots=True)
class Tracer:
    """Traces answers back to edits; what was judged once is not judged again."""

    before: Library
    after: Library
    edits: Sequence[Key]
    judge: Judge
    alike: Callable[[Asked, Outcomes], bool]
    """Whether an answer is as the later rules have it."""
    rules_of: Callable[[Asked], frozenset[str]]
    """The rules that an answer rests on."""
    scope: frozenset[str]
    """The rules, or the animals that wait, of which something changed: nothing else is judged again."""
    _judged: dict[frozenset[Key], Outcomes] = field(default_factory=dict)
    _together: Together | None = None

    def causes(self, asked: Asked) -> tuple[tuple[Key, ...], bool]:
        """Return the edits that bring an answer about, and whether they were seen to."""
        likely = [key for key in self.edits if self._reaches(key, asked)]
        for candidates in (likely, list(self.edits)):
            for key in candidates:
                if self._brings(asked, (key,)):
                    return (key,), True
            if len(candidates) > 1 and self._brings(asked, candidates):
                return self._fewest(asked, candidates), True
        return tuple(likely), False

    def _fewest(self, asked: Asked, edits: Sequence[Key]) -> tuple[Key, ...]:
        """Edits none of which can be left out: each is tried without, what mostly comes with others first."""
        kept = list(edits)
        for key in reversed(edits):
            fewer = [each for each in kept if each != key]
            if fewer and self._brings(asked, fewer):
                kept = fewer
        return tuple(kept)

    def _brings(self, asked: Asked, edits: Sequence[Key]) -> bool:
        """Whether some edits, with what they need to be read at all, give the later answer."""
        if self._together is None:
            self._together = together(self.before, self.after, self.edits)
        key = self._together.with_needed(edits)
        if key not in self._judged:
            self._judged[key] = self.judge(mixed(self.before, self.after, sorted(key)), self.scope)
        return self.alike(asked, self._judged[key])

    def _reaches(self, key: Key, asked: Asked) -> bool:
        """Whether an edit can have to do with a rule; always where no one rule is asked about."""
        rules = self.rules_of(asked)
        if not rules or key.kind in ("word", "lever", "card", "action", "handling"):
            return True
        if key.kind in ("rule", "prefer", "accept"):
            return key.name.split(" for ")[0] in rules
        for library in (self.before, self.after):
            names = frozenset[str]().union(*(_names_of(rule, library) for rule in rules))
            if key.name in names or self._line_read(key, library, names):
                return True
        return False

    def _line_read(self, key: Key, library: Library, names: frozenset[str]) -> bool:
        """Whether a card's line is read under one of some names."""
        if key.kind not in ("line", "own line"):
            return False
        return any(
            measure.card_line == key.line and measure.name in names
            for measure in library.vocabulary.measures.values()
        )


def _names_of(rule: str, library: Library) -> frozenset[str]:
    """Every name a rule rests on, the lines of cards behind what is worked out included."""
    item: Rule | Prefer | None = library.rules.get(rule) or library.prefers.get(rule)
    return frozenset() if item is None else names_behind(item, library)
