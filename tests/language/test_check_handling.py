"""Handling sheets: what they may speak of, and that nothing forbidden is told as safe."""

from __future__ import annotations

from itertools import permutations

from advisor.language.nodes import HandlingKind
from tests.language.texts import checked, codes

BOIL = 'action boil "boiling it"\n'
NEVER = (
    BOIL + 'handling zoas "zoanthids"\n  about hazard palytoxin\n  about unknown\n'
    '  never boil "Never." source "A" kind study\n'
)
GENERAL = 'handling all "any"\n  about anything\n  safe boil "Gently." source "B" kind guess\n'


def test_sound_sheets_come_into_the_library() -> None:
    library, problems = checked(NEVER, GENERAL)
    assert problems == ()
    assert set(library.handlings) == {"zoas", "all"}
    assert set(library.actions) == {"boil"}


def test_a_safe_way_of_another_file_that_is_forbidden_is_left_out_wherever_it_stands() -> None:
    mine = 'handling mine "mine"\n  about hazard palytoxin\n  safe boil "Outdoors." source "C" kind guess\n'
    for texts in permutations((NEVER, GENERAL, mine)):
        library, problems = checked(*texts)
        assert codes(problems) == ["handling-954"]
        assert library.handlings["mine"].lines == ()
        assert [line.kind for line in library.handlings["zoas"].lines] == [HandlingKind.NEVER]


def test_what_is_forbidden_for_anything_is_forbidden_for_all() -> None:
    general = BOIL + 'handling all "any"\n  about anything\n  never boil "No." source "B" kind guess\n'
    mine = 'handling mine "m"\n  about group soft\n  safe boil "Yes." source "C" kind guess\n'
    assert codes(checked(general, mine)[1]) == ["handling-954"]


def test_a_safe_way_for_other_animals_stays() -> None:
    mine = 'handling mine "m"\n  about group soft\n  safe boil "Yes." source "C" kind guess\n'
    library, problems = checked(NEVER, GENERAL, mine)
    assert problems == ()
    assert len(library.handlings["mine"].lines) == 1


def test_a_second_sheet_of_a_name_is_an_error() -> None:
    again = NEVER.replace(BOIL, "").replace("never boil", "safe boil")
    assert "word-126" in codes(checked(NEVER, GENERAL, again)[1])


def test_a_faulty_line_does_not_take_the_sheet_along() -> None:
    more = NEVER + '  never biol "Never." source "A" kind study\n'
    library, problems = checked(more, GENERAL)
    assert codes(problems) == ["handling-951"]
    assert [line.actions for line in library.handlings["zoas"].lines] == [("boil",)]


def test_another_word_for_what_is_forbidden_is_forbidden_too() -> None:
    mine = (
        'action simmer "simmering it"\n  also "boil gently"\n'
        'handling mine "mine"\n  about hazard palytoxin\n  safe simmer "Outdoors." source "C" kind guess\n'
    )
    library, problems = checked(NEVER, GENERAL, mine)
    assert "handling-954" in codes(problems)
    assert library.handlings["mine"].lines == ()
