"""Every shipped rule says what it asks, why, what helps and who says so; and there are enough of them."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import Problem, Severity
from advisor.language.library import Library
from advisor.language.nodes import Expr, Level, Prefer, Rule, Stage, Text
from advisor.language.walk import conditions, names_used
from advisor.model.vocabulary import Grade, Supplier
from advisor.rulework.lint_names import READ_BY_PROGRAM

TAXON_MEASURES = frozenset({"genus", "taxon"})


def plain(text: Text) -> str:
    return "".join(piece if isinstance(piece, str) else "…" for piece in text.pieces)


def holes(text: Text) -> list[Expr]:
    return [piece for piece in text.pieces if not isinstance(piece, str)]


def used(rule: Rule, library: Library) -> frozenset[str]:
    return names_used(conditions(rule), library.defines)


def judged(library: Library) -> Iterator[Rule]:
    return (rule for rule in library.rules.values() if rule.expect is not None)


def test_shipped_rules_have_no_errors(loaded: tuple[Library, tuple[Problem, ...]]) -> None:
    errors = [problem for problem in loaded[1] if problem.severity is Severity.ERROR]
    assert [(problem.code, problem.what, problem.span) for problem in errors] == []


def test_every_rule_has_its_texts_and_its_ground(library: Library) -> None:
    lacking = [
        (rule.name, part)
        for rule in library.rules.values()
        for part, there in (
            ("because", plain(rule.because).strip()),
            ("matters", rule.matters.strip()),
            ("remedy", plain(rule.remedy).strip()),
            ("source", rule.source is not None and rule.source.text.strip()),
        )
        if not there
    ]
    assert lacking == []


def test_every_preference_has_its_text_and_its_ground(library: Library) -> None:
    assert library.prefers
    lacking = [
        prefer.name
        for prefer in library.prefers.values()
        if not plain(prefer.because).strip() or prefer.source is None
    ]
    assert lacking == []


def test_because_tells_of_this_case(library: Library) -> None:
    silent = [rule.name for rule in judged(library) if not holes(rule.because)]
    assert silent == []


def test_every_named_number_says_why_and_who_says_so(library: Library) -> None:
    assert library.lets
    lacking = [
        let.name
        for let in library.lets.values()
        if not let.because.strip() or let.source is None or not let.source.text.strip()
    ]
    assert lacking == []


def test_every_named_number_is_used(library: Library) -> None:
    """By a rule, or by the program where a number stands for none: of growth, vouching, light and places."""
    speaking: list[Rule | Prefer] = [*library.rules.values(), *library.prefers.values()]
    parts = tuple(expr for item in speaking for expr in conditions(item))
    shown = tuple(
        piece
        for rule in library.rules.values()
        for text in (rule.because, rule.remedy, *rule.duties)
        for piece in holes(text)
    )
    used = names_used((*parts, *shown), library.defines)
    assert set(library.lets) - used == READ_BY_PROGRAM - used


def test_there_are_many_rules_and_most_weigh_two_facts(library: Library) -> None:
    assert len(library.rules) >= 40
    two = [rule for rule in library.rules.values() if of_a_pair(rule) or len(facts_of(rule, library)) >= 2]
    assert len(two) >= 25


def of_a_pair(rule: Rule) -> bool:
    return any(binder.neighbour_of for binder in rule.binders)


def facts_of(rule: Rule, library: Library) -> set[str]:
    """The relations and the measures no card tells that a rule rests on."""
    names = used(rule, library)
    read = {
        name
        for name, measure in library.vocabulary.measures.items()
        if name in names and Supplier.CARD not in measure.suppliers
    }
    return read | (names & set(library.vocabulary.relations))


def test_no_rule_names_a_genus_or_a_species(library: Library) -> None:
    """What holds for one species alone belongs on its card."""
    named = [rule.name for rule in library.rules.values() if used(rule, library) & TAXON_MEASURES]
    assert named == []
    cards = {
        word
        for card in library.cards.values()
        for value in card.values
        if value.key in TAXON_MEASURES
        for word in (value.word.lower(), *(w.lower() for w in value.words), value.text.lower())
        if word
    }
    assert not cards & {name for rule in library.rules.values() for name in used(rule, library)}


def test_a_danger_rests_on_a_named_source(library: Library) -> None:
    dangers = [rule for rule in library.rules.values() if rule.level is Level.DANGER]
    known = {"keep-clear-of-stingers", "not-too-bright", "nothing-loose-on-a-ledge"}
    assert {rule.name for rule in dangers} >= known
    assert all(rule.source is not None and rule.source.grade in set(Grade) for rule in dangers)


def test_what_only_starves_or_grows_is_not_asked_of_a_first_night(library: Library) -> None:
    slow = (
        "enough-light",
        "not-far-too-dim",
        "enough-flow",
        "room-for-reach-and-growth",
        "mats-want-an-islet",
        "not-under-a-growing-roof",
        "steps-into-more-light",
    )
    assert {library.rules[name].stage for name in slow} == {Stage.SETTLED}


def test_what_is_to_come_is_a_warning_with_a_date(library: Library) -> None:
    dated = [rule for rule in library.rules.values() if rule.until_horizon]
    assert len(dated) >= 4
    assert all(rule.level is not Level.DANGER and rule.stage is Stage.SETTLED for rule in dated)


def test_gates_speak_of_the_tank(library: Library) -> None:
    gates = [rule for rule in library.rules.values() if rule.stage is Stage.GATE]
    of_tank = {
        name for name, measure in library.vocabulary.measures.items() if measure.params[0].name == "tank"
    }
    assert len(gates) >= 8
    assert all(used(rule, library) & of_tank for rule in gates)
