"""Run the examples that stand beside the rules: the shipped ones as shipped, a house's own with the house."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, unusable
from advisor.knowledge.load import shipped_rules
from advisor.language.format_house import pasteable
from advisor.language.guess import nearest
from advisor.language.house_state import names_behind
from advisor.language.nodes import Example, HouseEdit, HouseVerb
from advisor.session.opening import library_in_force, usable

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.results import ExampleResult, ExamplesAnswer, MovedExample
    from advisor.reasoning.examples import Outcomes

_NOT_ASKED = "not asked any more"


def run_examples(
    files: Sequence[Path] = (),
    *,
    only: Sequence[str] = (),
    rules: Path | None = None,
    house: Sequence[Path] = (),
    own: Sequence[Path] = (),
    on: date | None = None,
) -> ExamplesAnswer:
    """Return what every example of the rule files came out as.

    Parameters
    ----------
    files
        Only the examples of these; a file that is not among the rules is the
        keeper's own and is laid over them.
    only
        Only the examples of a rule of that name, or with these words in their title.
    rules
        A folder of rules to use instead of the shipped ones.
    house
        House files: the shipped examples are run with them, too, and those
        that come out otherwise are told with the line that moved them.
    own
        House files that are in force in any case: those of a tank's folder.
    on
        The day the house lines must count on; None to look at no day.

    Raises
    ------
    UnusableInput
        If a rule file has an error, or no example is asked for by `only`.
    """
    from advisor.model.results import ExamplesAnswer

    inside = _names_inside(files, rules if rules is not None else shipped_rules())
    beside = [file for file in files if file not in inside]
    laid = tuple({path.resolve(): path for path in (*own, *beside, *house)}.values())
    plain = usable(*library_in_force(rules, ()))
    full = usable(*library_in_force(rules, laid, on)) if laid else plain
    mine = {path.as_posix() for path in (beside if files else laid)}
    theirs = set(inside.values())
    shipped = [item for item in plain.examples if not files or item.span.file in theirs]
    added = [item for item in full.examples if item.span.file in mine]
    chosen, more = _chosen(only, shipped, plain), _chosen(only, added, full)
    strangers = [name for name in only if not _only(name, shipped, plain) and not _only(name, added, full)]
    if strangers:
        raise unusable(tuple(_nothing_called(name, (*shipped, *added)) for name in strangers))
    return ExamplesAnswer(
        examples=tuple(_results(chosen, plain)) + tuple(_results(more, full)),
        moved=tuple(_moved(chosen, plain, full)) if house else (),
    )


def _names_inside(files: Iterable[Path], folder: Path) -> dict[Path, str]:
    """The files that are among the rules, each with its name there."""
    found = {}
    for file in files:
        for path in (file.resolve(), (folder / file).resolve()):
            if path.is_file() and path.is_relative_to(folder.resolve()):
                found[file] = path.relative_to(folder.resolve()).as_posix()
    return found


def _chosen(only: Sequence[str], examples: Sequence[Example], library: Library) -> list[Example]:
    """The examples that any of some names asks for, in their order; all where nothing is asked for."""
    if not only:
        return list(examples)
    wanted = {id(item) for name in only for item in _only(name, examples, library)}
    return [item for item in examples if id(item) in wanted]


def _only(only: str, examples: Sequence[Example], library: Library) -> list[Example]:
    """The examples of a rule, or with some words in their title; all of them where nothing is asked."""
    if only in library.rules or only in library.prefers:
        return [item for item in examples if item.rule == only]
    return [item for item in examples if only.lower() in item.title.lower()]


def _nothing_called(only: str, examples: Iterable[Example]) -> Problem:
    """The fault of asking for examples there are none of."""
    known = {name for item in examples for name in (item.rule, item.title)}
    return Problem(
        "ask-404",
        f"no example is for a rule called '{only}', and none has it in its title",
        mend=nearest(only, known, 55.0) or "advisor rules test runs them all",
    )


def _results(examples: Sequence[Example], library: Library) -> Iterator[ExampleResult]:
    """What came of some examples, as it is published."""
    from advisor.model.results import ExampleResult
    from advisor.reasoning import examples as running

    for item in running.run_examples(library, examples, explained=False):
        yield ExampleResult(
            title=item.example.title,
            rule=item.example.rule,
            ok=item.ok,
            expected=item.expected,
            got=item.got,
            file=item.then.span.file,
            line=item.then.span.line,
            reason=item.reason,
        )


# --- what a house moves ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Place:
    """Which outcome of which example."""

    example: int
    then: int


def _ran(examples: Sequence[Example], library: Library) -> dict[_Place, Outcomes]:
    """What came of each outcome; nothing of a rule that is switched off."""
    from advisor.reasoning.examples import run_examples

    places = {
        id(then): _Place(index, at)
        for index, example in enumerate(examples)
        for at, then in enumerate(example.thens)
    }
    return {places[id(item.then)]: item for item in run_examples(library, examples, explained=False)}


def _moved(examples: Sequence[Example], plain: Library, full: Library) -> Iterator[MovedExample]:
    """The shipped outcomes that come out otherwise with a house, each with the line that did it."""
    from advisor.model.results import MovedExample

    after = _ran(examples, full)
    for place, before in _ran(examples, plain).items():
        now = after[place].got if place in after else _NOT_ASKED
        if now == before.got:
            continue
        line = _blamed(before, place.then, plain, full)
        yield MovedExample(
            title=before.example.title,
            rule=before.example.rule,
            file=before.then.span.file,
            line=before.then.span.line,
            shipped=before.got,
            here=now,
            because="" if line is None else " ".join(pasteable(line).split()),
            because_file="" if line is None else line.span.file,
            because_line=0 if line is None else line.span.line,
        )


def _blamed(before: Outcomes, at: int, plain: Library, full: Library) -> HouseEdit | None:
    """The house line without which an outcome would be as shipped, else the only one that touches it."""
    touching = [edit for edit in full.house if _touches(edit, before.example.rule, full, plain)]
    for edit in touching:
        without = _ran((before.example,), _without(edit, plain, full)).get(_Place(0, at))
        if without is not None and without.got == before.got:
            return edit
    return touching[0] if len(touching) == 1 else None


def _touches(edit: HouseEdit, rule: str, full: Library, plain: Library) -> bool:
    """Whether a house line changes a rule, or a number it rests on, also behind what is worked out."""
    if edit.verb is not HouseVerb.CHANGE_LET:
        return edit.target == rule
    item = plain.rules.get(rule) or plain.prefers.get(rule)
    return item is not None and edit.target in names_behind(item, full)


def _without(edit: HouseEdit, plain: Library, full: Library) -> Library:
    """The rules in force but for one house line."""
    name = edit.target
    if name in plain.lets:
        return replace(full, lets={**full.lets, name: plain.lets[name]})
    if name in plain.rules:
        return replace(full, rules={**full.rules, name: plain.rules[name]})
    if name in plain.prefers:
        return replace(full, prefers={**full.prefers, name: plain.prefers[name]})
    return full
