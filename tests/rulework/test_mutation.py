"""Which small changes the examples notice, counted."""

from __future__ import annotations

from advisor.rulework.mutation import mutate
from tests.reasoning.small import library_of, rule_text
from tests.rulework.little import FAR, NEAR, PARTED, little

EDGE = """example "at the limit" for tested
  given x is coral with potency = 3, group = stony, reach = 20 cm
        y is coral
        gap(x, y) = 21 cm
  then  x, y holds by 1 cm
"""


def test_every_change_is_noticed_or_not_and_better_examples_notice_more() -> None:
    few, more = mutate(little(FAR)), mutate(little(FAR, NEAR, PARTED, EDGE))
    assert few.tried == more.tried == few.noticed + len(few.survivors)
    assert few.noticed < more.noticed < more.tried
    strict = ("gap(a, b) >= room(a)", "strictness")
    assert strict in [(each.change.before, each.change.kind) for each in few.survivors]
    assert strict not in [(each.change.before, each.change.kind) for each in more.survivors]


def test_only_what_is_asked_for_is_changed_and_only_so_often() -> None:
    library = little(FAR, NEAR)
    assert mutate(library, ["room"]).tried < mutate(library).tried
    assert {each.change.thing for each in mutate(library, ["room"]).survivors} <= {"room"}
    assert mutate(library, most=2).tried == 4
    assert mutate(library, ["tested"], most=1).tried == 1


def test_progress_is_told() -> None:
    heard: list[tuple[int, int]] = []
    found = mutate(little(FAR), told=lambda done, of: heard.append((done, of)))
    assert heard == [(count, found.tried) for count in range(1, found.tried + 1)]


def test_what_changes_nothing_is_listed_apart_and_not_counted() -> None:
    example = 'example "t" for tested\n  given x is coral\n  light(x.spot) = 70 PAR\n  then  x holds\n'
    found = mutate(library_of(rule_text("light(a.spot) <= 3000 PAR") + example))
    assert len(found.same) == 3
    assert found.tried == found.noticed == 1


def test_what_cannot_be_tried_is_told_with_the_reason() -> None:
    eye = (
        'rule looks-well for animal a expect-by-eye "{a} is open" level advice\n'
        '  because "so" matters "so" remedy "so" source "us" kind guess\n'
    )
    unused = "define shy(animal a) as fenced(a)\n"
    assert mutate(library_of(eye + unused)).left_out == (
        "looks-well: it is checked by eye",
        "shy: no rule that is judged uses it",
    )
