"""What examples show, mark by mark."""

from __future__ import annotations

import pytest

from advisor.language.library import Library
from advisor.model.coverage import ThingCover
from advisor.rulework.coverage import cover_define, cover_rule, examples_of, nodes_of, track, users_of
from tests.reasoning.small import library_of, rule_text
from tests.rulework.little import FAR, NEAR, PARTED, little


def covered(library: Library, name: str = "tested") -> ThingCover:
    return cover_rule(library.rules[name], track(library, [name])[0])


def marks(thing: ThingCover, text: str) -> dict[str, int]:
    return {mark.what: mark.seen for each in thing.conditions if each.text == text for mark in each.marks}


def test_verdicts_are_counted_and_only_those_that_can_be_are_needed() -> None:
    found = {mark.what: (mark.seen, mark.needed) for mark in covered(little(FAR, NEAR, PARTED)).verdicts}
    assert found == {
        "holds": (1, True),
        "fails": (1, True),
        "undecided": (0, True),
        "excused": (1, True),
        "not covered": (0, True),
    }
    bare = library_of(rule_text("light(a.spot) >= 50 PAR"))
    assert [mark.needed for mark in covered(bare).verdicts] == [True, True, True, False, False]


def test_a_condition_is_seen_each_way_by_so_many_outcomes() -> None:
    thing = covered(little(FAR, NEAR, PARTED))
    assert marks(thing, "gap(a, b) >= room(a)") == {
        "true": 1,
        "false": 2,
        "unknown": 0,
        "met within a step": 0,
        "missed within a step": 0,
    }
    assert marks(thing, "divider(a, b)") == {"true": 1, "false": 1, "unknown": 0}
    assert [(each.clause, each.joined) for each in thing.conditions] == [
        ("when", ""),
        ("expect", ""),
        ("unless", ""),
        ("unless", "or"),
    ]


@pytest.mark.parametrize(
    ("gap", "mark"),
    [
        ("21 cm", "met"),
        ("22 cm", "met"),
        ("22.1 cm", ""),
        ("19 cm", ""),
        ("18.5 cm", "missed"),
        ("17.9 cm", ""),
    ],
)
def test_a_limit_is_approached_where_the_nearer_end_of_the_reading_is_within_a_step(
    gap: str, mark: str
) -> None:
    text = FAR.replace("30 cm", gap).replace("holds by 10 cm", "holds")
    shown = marks(covered(little(text)), "gap(a, b) >= room(a)")
    assert [what for what in shown if "within" in what and shown[what]] == (
        [f"{mark} within a step"] if mark else []
    )


@pytest.mark.parametrize(
    ("light", "shown"),
    [
        ("56 PAR", ["low end met within a step"]),
        ("45 PAR", ["low end missed within a step"]),
        ("88 PAR", ["high end met within a step"]),
        ("111 PAR", ["high end missed within a step"]),
        ("70 PAR", []),
    ],
)
def test_both_ends_of_a_band_have_two_sides(light: str, shown: list[str]) -> None:
    example = f'example "t" for tested\n  given x is coral\n  light(x.spot) = {light}\n  then  x holds\n'
    thing = covered(library_of(rule_text("light(a.spot) between 50 PAR and 100 PAR") + example))
    (band,) = thing.conditions
    assert [mark.what for mark in band.marks if "end" in mark.what and mark.seen] == shown


def test_cases_of_a_definition_are_pooled_over_its_users() -> None:
    library = little(FAR, NEAR)
    assert users_of("room", library) == ("tested",)
    thing = cover_define(library.defines["room"], track(library, ["tested"])[0])
    assert [(each.text, [mark.seen for mark in each.marks]) for each in thing.conditions] == [
        ("least when group(a) is soft", [0]),
        ("group(a) is soft", [0, 2, 0]),
        ("reach(a) otherwise", [2]),
    ]
    unused = cover_define(library.defines["room"], track(library, [])[0], decides=False)
    assert not any(mark.needed for mark in unused.marks)


def test_a_rule_checked_by_eye_needs_nothing() -> None:
    text = (
        'rule looks-well for animal a when potency(a) >= 2 expect-by-eye "{a} is open" level advice\n'
        '  because "so" matters "so" remedy "so" source "us" kind guess\n'
    )
    thing = covered(library_of(text), "looks-well")
    assert thing.by_eye
    assert not any(mark.needed for mark in thing.marks)


def test_lines_and_nodes_are_in_one_order() -> None:
    library = little(FAR)
    tested, room = library.rules["tested"], library.defines["room"]
    assert len(list(nodes_of(tested))) == len(covered(library).conditions)
    assert [clause for clause, _ in nodes_of(room)] == ["case", "when", "case"]
    assert [example.title for example in examples_of("tested", library)] == ["far"]
