"""Actions and handling sheets out of their text."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Action, Handling, HandlingKind
from advisor.model.vocabulary import Grade, Source
from tests.language.texts import codes, faults, read


def sheet(body: str) -> Handling:
    """One sheet."""
    (item,) = read(f'handling mine "my corals"\n  about anything\n  {body}').declarations
    assert isinstance(item, Handling)
    return item


def test_an_action_has_a_title_and_words() -> None:
    (item,) = read('action boil "boiling it"\n  also "cook", "hot water"').declarations
    assert isinstance(item, Action)
    assert (item.name, item.title, item.also) == ("boil", "boiling it", ("cook", "hot water"))
    (bare,) = read('action boil "boiling it"').declarations
    assert isinstance(bare, Action)
    assert bare.also == ()


def test_a_sheet_is_about_hazards_groups_anything_and_the_unknown() -> None:
    text = (
        'handling mine "my corals"\n  about hazard palytoxin, rash\n  about group soft\n'
        '  about hazard rash\n  about unknown\n  sign "sore" source "x" kind guess'
    )
    (item,) = read(text).declarations
    assert isinstance(item, Handling)
    assert (item.hazards, item.groups) == (("palytoxin", "rash"), ("soft",))
    assert (item.anything, item.unknown) == (False, True)


def test_a_line_tells_actions_text_instead_and_source() -> None:
    (line,) = sheet(
        'never boil, steam "Never boil it" "or steam it." instead touch "Leave it."'
        ' source "A" kind study dated 2015'
    ).lines
    assert line.kind is HandlingKind.NEVER
    assert line.actions == ("boil", "steam")
    assert (line.text, line.instead) == ("Never boil it or steam it.", "Leave it.")
    assert line.instead_by == ("touch",)
    assert line.source == Source("A", Grade.STUDY, "2015")


@pytest.mark.parametrize("kind", [kind.value for kind in HandlingKind])
def test_every_kind_of_line_can_be_written(kind: str) -> None:
    acts = "boil " if kind in ("never", "safe", "wait") else ""
    (line,) = sheet(f'{kind} {acts}"x" source "A" kind guess').lines
    assert line.kind.value == kind
    assert line.actions == (("boil",) if acts else ())


def test_signs_and_help_may_be_told_of_some_actions_only() -> None:
    (line,) = sheet('help glue "Soak it." source "A" kind maker').lines
    assert (line.actions, line.text) == (("glue",), "Soak it.")


def test_a_sheet_without_a_subject_or_without_lines_is_left_out() -> None:
    assert codes(faults('handling mine "x"\n  sign "y" source "z" kind guess')) == ["word-114"]
    assert codes(faults('handling mine "x"\n  about anything')) == ["word-114"]


def test_instead_belongs_to_what_is_forbidden() -> None:
    problems = faults(
        'handling mine "x"\n  about anything\n  safe boil "y" instead "z" source "s" kind guess'
    )
    assert codes(problems) == ["word-119"]
