"""Every small change of a rule, each once and none that is no change."""

from __future__ import annotations

import pytest

from advisor.language.library import Library
from advisor.language.nodes import Define, Prefer, Rule
from advisor.language.walk import children
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of
from advisor.rulework.coverage import written
from advisor.rulework.following import ops_of
from advisor.rulework.mutants import mutants_of, with_child
from advisor.session.opening import shipped
from tests.reasoning.small import expect_of, library_of, rule_text
from tests.rulework.little import CROWD, little


def changes(library: Library, name: str = "tested") -> list[tuple[str, str, str]]:
    """Kind, before and after of every small change of a rule, a preference or a definition."""
    thing = library.rules.get(name) or library.prefers.get(name) or library.defines[name]
    user = "tested" if isinstance(thing, Define) else name
    rule = rule_of(user, library)
    assert rule is not None
    ops = ops_of(compile_rule(rule, library), library)
    return [(each.kind, each.before, each.after) for each in mutants_of(thing, ops, library)]


def of_expect(expect: str, more: str = "", binders: str = "animal a") -> list[tuple[str, str]]:
    """Kind and after of every change of a requirement."""
    return [
        (kind, after) for kind, _, after in changes(library_of(more + rule_text(expect, binders=binders)))
    ]


def test_a_limit_is_moved_by_a_step_of_what_is_measured_and_turned_round() -> None:
    assert of_expect("light(a.spot) >= 50 PAR") == [
        ("strictness", "light(a.spot) > 50 PAR"),
        ("turned round", "light(a.spot) <= 50 PAR"),
        ("limit a step higher", "light(a.spot) >= 55 PAR"),
        ("limit a step lower", "light(a.spot) >= 45 PAR"),
    ]


def test_a_named_limit_becomes_a_number_and_a_measured_one_a_sum() -> None:
    named = 'let dim = 40 PAR because "so" source "us" kind guess\n'
    assert ("limit a step lower", "light(a.spot) >= 35 PAR") in of_expect("light(a.spot) >= dim", named)
    assert ("limit a step higher", "gap(a, b) >= reach(a) + 1 cm") in of_expect(
        "gap(a, b) >= reach(a)", binders="animal a, neighbour b of a"
    )
    assert ("limit a step higher", "size(a) <= 20.5 mm") not in of_expect("size(a) <= 20 mm")
    assert ("limit a step higher", "size(a) <= 25 mm") in of_expect("size(a) <= 20 mm")  # half a centimetre


def test_both_ends_of_a_band_and_a_temperature_are_moved() -> None:
    found = of_expect("warmth(tank) between 24 °C and 28 °C", binders="tank")
    assert found == [
        ("low end a step higher", "warmth(tank) between 24.5 °C and 28 °C"),
        ("low end a step lower", "warmth(tank) between 23.5 °C and 28 °C"),
        ("high end a step higher", "warmth(tank) between 24 °C and 28.5 °C"),
        ("high end a step lower", "warmth(tank) between 24 °C and 27.5 °C"),
    ]


def test_conditions_are_left_out_and_denied() -> None:
    found = changes(library_of(rule_text("fenced(a)", when="group(a) is soft and ground(a.spot) is rock")))
    assert ("left out", "group(a) is soft", "") in found
    assert ("left out", "group(a) is soft and ground(a.spot) is rock", "") in found
    assert ("denied", "ground(a.spot) is rock", "ground(a.spot) is not rock") in found
    assert ("denied", "fenced(a)", "not fenced(a)") in found


def test_exceptions_are_left_out_one_by_one_and_all() -> None:
    found = [each for each in changes(little()) if each[0] == "left out"]
    assert found == [
        ("left out", "potency(a) >= 2", ""),
        ("left out", "divider(a, b)", ""),
        ("left out", "fenced(b)", ""),
        ("left out", "divider(a, b) or fenced(b)", ""),
    ]


def test_words_of_a_list_are_left_out() -> None:
    assert of_expect("group(a) is one of soft, stony") == [
        ("denied", "group(a) is not one of soft, stony"),
        ("a word left out", "group(a) is one of stony"),
        ("a word left out", "group(a) is one of soft"),
    ]


@pytest.mark.parametrize(
    ("expect", "kind", "after"),
    [
        ("any animal b where fenced(b)", "every for any", "every animal b where fenced(b)"),
        ("every animal b where fenced(b)", "any for every", "any animal b where fenced(b)"),
        (
            "gap(a, b) >= larger of reach(a), 2 cm",
            "larger for smaller",
            "smaller of reach(a), 2 cm",
        ),
        ("gap(a, b) >= larger of reach(a), 2 cm", "number a step higher", "3 cm"),
        ("gap(a, b) >= reach(a) * 2 + 5 cm", "number a step lower", "4 cm"),
    ],
)
def test_swaps_and_numbers_inside(expect: str, kind: str, after: str) -> None:
    assert (kind, after) in of_expect(expect, binders="animal a, neighbour b of a")


def test_the_condition_of_a_count_is_left_out() -> None:
    found = [each for each in changes(little(rules=CROWD), "roomy") if each[0] == "condition left out"]
    assert [after for _, _, after in found] == ["count of neighbour b of a"]


def test_cases_of_a_definition_are_left_out_and_changed() -> None:
    found = changes(little(), "room")
    assert ("case left out", "least", "") in found
    assert ("number a step higher", "least", "6 cm") in found
    assert ("denied", "group(a) is soft", "group(a) is not soft") in found
    assert sum(kind == "case left out" for kind, _, _ in found) == 1  # the last one stands for what is left


def test_a_preference_is_changed_too() -> None:
    text = (
        "prefer calm for animal a want light(a.spot) <= 90 PAR weight 3 fade 10 steps\n"
        '  because "{a} sits in {light(a.spot)}" source "us" kind guess\n'
    )
    assert ("strictness", "light(a.spot) <= 90 PAR", "light(a.spot) < 90 PAR") in changes(
        library_of(text), "calm"
    )


def test_a_child_is_put_in_its_place_whatever_the_node() -> None:
    library = shipped()
    items: list[Rule | Prefer] = [*library.rules.values(), *library.prefers.values()]
    todo = [
        part
        for item in items
        for part in (item.when, item.expect if isinstance(item, Rule) else item.want)
        if part is not None
    ]
    kinds = set()
    fresh = expect_of(little())
    while todo:
        node = todo.pop()
        below = children(node)
        todo.extend(below)
        for index in range(len(below)):
            changed = with_child(node, index, fresh)
            if changed is not node:
                kinds.add(type(node).__name__)
                assert children(changed) == (*below[:index], fresh, *below[index + 1 :]), written(node)
    assert kinds >= {"Compare", "Between", "And", "Or", "Not", "Aggregate", "Arith"}


def test_every_change_of_a_shipped_rule_says_something_else() -> None:
    library = shipped()
    ops = {}
    for name in (*library.rules, *library.prefers):
        rule = rule_of(name, library)
        assert rule is not None
        ops.update(ops_of(compile_rule(rule, library), library))
    things: list[Rule | Prefer | Define] = [
        *library.rules.values(),
        *library.prefers.values(),
        *library.defines.values(),
    ]
    found = [each for thing in things for each in mutants_of(thing, ops, library)]
    assert len(found) > 1000
    assert [each.before for each in found if each.before == each.after] == []
    assert [each.thing.name for each in found if each.changed == each.thing] == []
