"""Which sheets count for a coral, and what is told of what somebody is about to do."""

from __future__ import annotations

from advisor.model.handling import HandlingAnswer
from advisor.planning.handling import Held, Sheets, handling_answer
from tests.reasoning.small import library_of

LIBRARY = library_of(
    """
card zoas "zoas"
  group zoanthid
  hazard palytoxin "Gloves."
card torch "torch coral"
  group large-polyp
  hazard mild-sting
action touch "touching it"
action boil "boiling it"
  also "cook"
action cut "cutting it"
handling zoanthids "zoanthids"
  about hazard palytoxin
  about unknown
  never boil "Never boil it." instead touch "Leave it." source "A" kind study
  wait cut, boil, touch "Goggles." source "B" kind guess
  safe touch "Under water." source "C" kind guess
  sign "A bitter taste." source "D" kind study
  help "Get help." source "D" kind study
handling all "any coral"
  about anything
  safe touch "Wet hands." source "E" kind guess
  safe boil "Boil gently." source "E" kind guess
  safe cut, touch "A sharp blade." source "E" kind guess
  help cut "Wash the cut." source "E" kind guess
  defer "The label counts." source "F" kind guess
"""
)
KNOWN = Sheets(LIBRARY.handlings, LIBRARY.actions)


def ask(*cards: str, doing: str = "", doubts: tuple[str, ...] = ()) -> HandlingAnswer:
    """The answer for some cards."""
    held = Held(
        "it", tuple(LIBRARY.cards[name] for name in cards), "", tuple(LIBRARY.cards[name] for name in doubts)
    )
    return handling_answer(held, KNOWN, doing)


def texts(answer: HandlingAnswer, part: str) -> list[str]:
    """The texts of one part of an answer."""
    return [step.text for step in getattr(answer, part)]


def test_the_whole_sheet_holds_what_is_of_the_animal_before_what_is_of_any() -> None:
    answer = ask("zoas")
    assert texts(answer, "never") == ["Never boil it."]
    assert answer.refused == ()
    assert texts(answer, "ways") == ["Under water.", "A sharp blade."]
    assert texts(answer, "helps") == ["Get help.", "Wash the cut."]
    assert (answer.title, answer.cards, answer.stricter) == ("zoas", ("zoas",), "")


def test_a_way_of_a_sheet_that_forbids_something_stands_without_that_of_any_animal() -> None:
    assert texts(ask("zoas", doing="touch"), "ways") == ["Under water."]
    assert texts(ask("torch", doing="touch"), "ways") == ["Wet hands.", "A sharp blade."]
    (blade,) = [step for step in ask("zoas").ways if step.text == "A sharp blade."]
    assert blade.actions == ("cutting it",)


def test_what_is_forbidden_is_never_told_as_safe() -> None:
    assert "Boil gently." not in texts(ask("zoas"), "ways")
    assert "Boil gently." not in texts(ask("zoas", doing="boil"), "ways")
    assert "Boil gently." in texts(ask("torch", doing="boil"), "ways")


def test_a_refusal_brings_what_to_do_instead_and_what_that_needs() -> None:
    answer = ask("zoas", doing="cook it")
    assert texts(answer, "refused") == ["Never boil it."]
    assert answer.refused[0].instead == "Leave it."
    assert texts(answer, "first") == ["Goggles."]
    assert answer.first[0].actions == ("touching it",)
    assert "Under water." in texts(answer, "ways")
    assert answer.never == ()


def test_several_things_at_once_are_all_answered() -> None:
    answer = ask("zoas", doing="cut it and boil it")
    assert set(answer.about_to) == {"boiling it", "cutting it"}
    assert texts(answer, "refused") == ["Never boil it."]
    assert "A sharp blade." in texts(answer, "ways")
    assert "Wash the cut." in texts(answer, "helps")


def test_what_is_not_asked_about_stays_forbidden() -> None:
    assert texts(ask("zoas", doing="cut"), "never") == ["Never boil it."]


def test_words_nobody_knows_bring_the_whole_sheet() -> None:
    answer = ask("zoas", doing="frobnicate")
    assert answer.not_recognised
    plain = ask("zoas")
    assert answer.model_copy(update={"doing": "", "not_recognised": False}) == plain


def test_an_unknown_animal_is_handled_as_the_worst() -> None:
    answer = ask()
    assert texts(answer, "never") == ["Never boil it."]
    assert "zoanthids" in answer.stricter


def test_one_that_may_be_a_zoanthid_gets_the_stricter_sheet() -> None:
    for answer in (ask("torch", "zoas"), ask("torch", doubts=("zoas",))):
        assert texts(answer, "never") == ["Never boil it."]
        assert "zoanthids" in answer.stricter
    assert ask("torch").stricter == ""
    assert ask("torch").never == ()


def test_a_line_keeps_its_source_and_grade() -> None:
    (never,) = ask("zoas").never
    assert (never.source, never.grade, never.about, never.own) == ("A", "study", "zoanthids", False)


def test_a_sheet_of_the_keepers_own_is_marked() -> None:
    own = Sheets(KNOWN.sheets, KNOWN.actions, frozenset({"all"}))
    answer = handling_answer(Held("it", (LIBRARY.cards["torch"],)), own)
    assert {step.own for step in answer.ways} == {True}


def test_a_word_that_says_nothing_known_adds_all_that_must_never_be_done() -> None:
    answer = ask("zoas", doing="cut it with a zorkle")
    assert texts(answer, "never") == ["Never boil it."]
    assert answer.not_read == ("zorkle",)
    assert ask("zoas", doing="cut it").not_read == ()


def test_no_safe_way_is_told_of_an_action_that_goes_by_a_forbidden_word() -> None:
    more = library_of(
        """
card zoas "zoas"
  group zoanthid
  hazard palytoxin "Gloves."
action boil "boiling it"
action soup "making soup"
  also "boil slowly", "boiler"
handling zoanthids "zoanthids"
  about hazard palytoxin
  never boil "Never boil it." source "A" kind study
handling mine "mine"
  about anything
  safe soup "Slowly." source "B" kind guess
"""
    )
    known = Sheets(more.handlings, more.actions, frozenset({"mine"}))
    held = Held("it", (more.cards["zoas"],))
    for doing in ("boil slowly", "boiler", ""):
        assert texts(handling_answer(held, known, doing), "ways") == []
    assert texts(handling_answer(held, known, "boil slowly"), "refused") == ["Never boil it."]
