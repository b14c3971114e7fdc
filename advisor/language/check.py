"""Files joined into one library: names, kinds, units, texts and examples proved; house edits laid over.

The order of the files makes no difference. What is faulty, or rests on
something faulty, is left out of the library, so that whatever is in it can be
compiled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeVar, assert_never

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.check_cards import CardLines, check_card
from advisor.language.check_examples import check_example
from advisor.language.check_handling import check_handlings
from advisor.language.check_levers import check_lever
from advisor.language.check_rules import check_define, check_prefer, check_rule
from advisor.language.check_vocabulary import check_meaning, check_measure, check_relation
from advisor.language.house_dates import laid_by_day
from advisor.language.kin_hazards import with_kin_hazards
from advisor.language.library import Library
from advisor.language.nodes import (
    Action,
    Card,
    Declaration,
    Define,
    Example,
    Handling,
    HouseEdit,
    Let,
    Lever,
    Prefer,
    Rule,
    RuleFile,
    WordMeaning,
)
from advisor.language.since import event_of, events_asked
from advisor.language.strata import loops
from advisor.language.things import MONTH, SPOT
from advisor.language.twice import Named, place_of, told_twice, words_twice
from advisor.language.valuetypes import Typer
from advisor.language.walk import bodies, conditions, names_used
from advisor.model.vocabulary import Measure, Relation, Vocabulary

_BUILT_IN = frozenset({SPOT, MONTH, "tank", "yes", "no", "neighbour"})
_Named = TypeVar("_Named", Measure, Relation, Let, Define, Rule, Prefer, Card, Lever, Action, Handling)


@dataclass(slots=True)
class _Draft:
    """Everything the files declare, before it is proved."""

    vocabulary: Vocabulary = field(default_factory=Vocabulary)
    lets: dict[str, Let] = field(default_factory=dict)
    defines: dict[str, Define] = field(default_factory=dict)
    rules: dict[str, Rule] = field(default_factory=dict)
    prefers: dict[str, Prefer] = field(default_factory=dict)
    cards: dict[str, Card] = field(default_factory=dict)
    levers: dict[str, Lever] = field(default_factory=dict)
    actions: dict[str, Action] = field(default_factory=dict)
    handlings: dict[str, Handling] = field(default_factory=dict)
    words: list[WordMeaning] = field(default_factory=list)
    own_words: list[WordMeaning] = field(default_factory=list)
    """Those of the house's files."""
    examples: list[Example] = field(default_factory=list)
    edits: list[HouseEdit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    first: dict[tuple[str, str], Named] = field(default_factory=dict)
    """What has each name, by what it must be told apart from."""
    shipped: frozenset[tuple[str, str]] = frozenset()
    """The names that were taken before the house's files were read."""
    house: bool = False
    """Whether it is the house's files that are being read."""

    def read(self, files: Sequence[RuleFile]) -> None:
        """Take all declarations of some files in, whatever their order."""
        for file in sorted(files, key=lambda file: file.name):
            for item in file.declarations:
                self.add(item)

    def add(self, item: Declaration) -> None:
        """Take one declaration in."""
        match item:
            case Measure():
                self._named(item, self.vocabulary.measures, "word")
            case Relation():
                self._named(item, self.vocabulary.relations, "word")
            case Let():
                self._named(item, self.lets, "word")
            case Define():
                self._named(item, self.defines, "word")
            case Rule():
                self._named(item, self.rules, "rule")
            case Prefer():
                self._named(item, self.prefers, "rule")
            case Card():
                self._named(item, self.cards, "card")
            case Lever():
                self._named(item, self.levers, "lever")
            case Action():
                self._named(item, self.actions, "action")
            case Handling():
                self._named(item, self.handlings, "handling")
            case WordMeaning():
                (self.own_words if self.house else self.words).append(item)
            case Example():
                self.examples.append(item)
            case HouseEdit():
                self.edits.append(item)
            case _:
                assert_never(item)

    def _named(self, item: _Named, table: dict[str, _Named], space: str) -> None:
        """Take a named declaration in; a second one of the name is told and left out."""
        first = self.first.get((space, item.name))
        if first is not None:
            own = self.house and (space, item.name) in self.shipped
            self.problems.append(told_twice(item, first, own=own))
        elif space == "word" and (item.name in _BUILT_IN or event_of(item.name)):
            self.problems.append(
                Problem(
                    "word-127",
                    f"'{item.name}' is built in and cannot be declared",
                    place_of(item),
                    "a name of its own is expected",
                    f"{item.name}-of-mine",
                )
            )
        else:
            self.first[space, item.name] = item
            table[item.name] = item


def check(
    files: Sequence[RuleFile], computed: frozenset[str] | None = None, house: Sequence[RuleFile] = ()
) -> tuple[Library, tuple[Problem, ...]]:
    """Join and prove rule files.

    Parameters
    ----------
    files
        Parsed files, in any order.
    computed
        The names that ``computed by`` may use; None leaves them unchecked.
    house
        Parsed house files, in any order; a name that is shipped is not theirs to give.

    Returns
    -------
    The library, and every problem found, in the order of files and lines.
    """
    draft = _Draft()
    draft.read(files)
    draft.shipped, draft.house = frozenset(draft.first), True
    draft.read(house)
    faulty = _prove(draft, computed)
    _leave_out(draft, faulty)
    library = Library(
        draft.vocabulary,
        draft.lets,
        draft.defines,
        draft.rules,
        draft.prefers,
        draft.cards,
        tuple(draft.words),
        tuple(draft.examples),
        levers=draft.levers,
        actions=draft.actions,
        handlings=draft.handlings,
        own_cards=tuple(name for name in draft.cards if ("card", name) not in draft.shipped),
    )
    library, found = laid_by_day(library, draft.edits)
    return library, _ordered([*draft.problems, *found])


def _ordered(problems: list[Problem]) -> tuple[Problem, ...]:
    """Problems in the order of files and lines, each once."""

    def place(problem: Problem) -> tuple[str, int, int, str]:
        span = problem.span if problem.span is not None else Span("")
        return span.file, span.line, span.column, problem.code

    return tuple(sorted(dict.fromkeys(problems), key=place))


def _prove(draft: _Draft, computed: frozenset[str] | None) -> set[str]:
    """Check every declaration; returns the marks of those that must be left out."""
    faulty: set[str] = set()

    def note(mark: str, found: Sequence[Problem]) -> None:
        draft.problems.extend(found)
        if any(problem.severity is Severity.ERROR for problem in found):
            faulty.add(mark)

    for measure in draft.vocabulary.measures.values():
        draft.problems.extend(check_measure(measure, draft.vocabulary, computed))
    for relation in draft.vocabulary.relations.values():
        draft.problems.extend(check_relation(relation, computed))
    double, draft.words = words_twice(draft.words, draft.own_words, draft.vocabulary.measures)
    draft.problems.extend(double)
    for meaning in draft.words:
        note(f"meaning {id(meaning)}", list(check_meaning(meaning, draft.vocabulary.measures)))
    speaking: tuple[Define | Rule | Prefer, ...] = (
        *draft.defines.values(),
        *draft.rules.values(),
        *draft.prefers.values(),
    )
    for item in speaking:
        for measure in events_asked(item):
            draft.vocabulary.measures.setdefault(measure.name, measure)
    circles, looping = loops(draft.defines)
    draft.problems.extend(circles)
    faulty.update(f"define {name}" for name in looping)
    typer = Typer(draft.vocabulary, draft.lets, draft.defines)
    for define in draft.defines.values():
        note(f"define {define.name}", check_define(define, typer))
    for rule in draft.rules.values():
        note(f"rule {rule.name}", check_rule(rule, typer))
    for prefer in draft.prefers.values():
        note(f"rule {prefer.name}", check_prefer(prefer, typer))
    for lever in draft.levers.values():
        note(f"lever {lever.name}", check_lever(lever, typer))
    lines = CardLines.of(draft.vocabulary)
    for name, card in draft.cards.items():
        found, draft.cards[name] = check_card(card, lines)
        draft.problems.extend(found)
    shipped = [card for name, card in draft.cards.items() if ("card", name) in draft.shipped]
    for name in [name for name in draft.cards if ("card", name) not in draft.shipped]:
        found, draft.cards[name] = with_kin_hazards(draft.cards[name], shipped)
        draft.problems.extend(found)
    told, draft.handlings = check_handlings(draft.handlings, draft.actions, lines)
    draft.problems.extend(told)
    _prove_examples(draft, typer, faulty)
    return faulty


def _prove_examples(draft: _Draft, typer: Typer, faulty: set[str]) -> None:
    """Check every example; two of one title for one rule are told."""
    both: dict[str, Rule | Prefer] = {**draft.rules, **draft.prefers}
    seen: dict[tuple[str, str], Span] = {}
    for example in draft.examples:
        found = [] if f"rule {example.rule}" in faulty else check_example(example, both, typer)
        if found:
            faulty.add(f"example {id(example)}")
        draft.problems.extend(found)
        first = seen.setdefault((example.rule, example.title), example.span)
        if first is not example.span:
            draft.problems.append(
                Problem(
                    "test-711",
                    f"two examples of '{example.rule}' are called \"{example.title}\"",
                    example.span,
                    "the second one",
                    "give it a title of its own",
                    Severity.WARNING,
                    (Related(first, "the first one"),),
                )
            )


def _leave_out(draft: _Draft, faulty: set[str]) -> None:
    """Drop what is faulty and what rests on it."""
    bad = {mark.split(" ", 1)[1] for mark in faulty if mark.startswith("define ")}
    while True:
        more = {
            name
            for name, define in draft.defines.items()
            if name not in bad and bad & names_used(bodies(define), draft.defines)
        }
        if not more:
            break
        bad |= more
    out = {mark.split(" ", 1)[1] for mark in faulty if mark.startswith("rule ")}
    both: tuple[Rule | Prefer, ...] = (*draft.rules.values(), *draft.prefers.values())
    out |= {rule.name for rule in both if bad & names_used(conditions(rule), draft.defines)}
    for name in bad:
        draft.defines.pop(name, None)
    for mark in faulty:
        if mark.startswith("lever "):
            draft.levers.pop(mark.removeprefix("lever "), None)
    for name in out:
        draft.rules.pop(name, None)
        draft.prefers.pop(name, None)
    draft.examples = [
        example
        for example in draft.examples
        if f"example {id(example)}" not in faulty
        and (example.rule in draft.rules or example.rule in draft.prefers)
    ]
    draft.words = [meaning for meaning in draft.words if f"meaning {id(meaning)}" not in faulty]
