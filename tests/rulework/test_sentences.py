"""Rules as a keeper would say them."""

from __future__ import annotations

import re

from advisor.rulework.sentences import Speaker
from tests.rulework.shelves import shelf


def test_a_whole_rule_in_words() -> None:
    rule = shelf().library.rules["not-far-too-dim"]
    assert Speaker(shelf().library).rule(rule) == (
        "For every animal a: if what a lives on is light, then light at the place of a must be at least "
        "least light for a, unless the light there is dim for a, but not far too dim or the place of a is "
        "only for a while. Where that is not so, it is a danger. It is asked for a place for good only."
    )


def test_a_rule_that_looks_ahead_and_one_for_the_eye() -> None:
    library, speaker = shelf().library, Speaker(shelf().library)
    assert "today and in every month that is looked ahead" in speaker.rule(
        library.rules["room-for-reach-and-growth"]
    )
    assert "then look by eye: no eggs" in speaker.rule(library.rules["inspected-before-it-goes-in"])


def test_a_preference_tells_its_weight() -> None:
    said = Speaker(shelf().library).preference(shelf().library.prefers["within-easy-reach"])
    assert said.endswith("is easy. It weighs 0.5 and fades to nothing over 10 steps.")


def test_a_definition_is_told_case_by_case() -> None:
    speaker, defines = Speaker(shelf().library), shelf().library.defines
    assert speaker.name_of(defines["reach-toward"]) == "how far a can reach toward b"
    cases = speaker.definition(defines["reach-toward"])
    assert cases[0] == "0 cm, if it is not so that a can hurt b"
    assert cases[-1] == "longest reach of a, otherwise"


def test_a_lever_is_told_as_the_answers_do() -> None:
    assert Speaker(shelf().library).lever(shelf().library.levers["add-divider"]) == (
        "put a divider between a and b"
    )


def test_no_sentence_about_a_shipped_rule_has_a_hole() -> None:
    speaker = Speaker(shelf().library)
    said = [speaker.rule(rule) for rule in shelf().library.rules.values()]
    said += [speaker.preference(prefer) for prefer in shelf().library.prefers.values()]
    said += [case for each in shelf().library.defines.values() for case in speaker.definition(each)]
    assert [text for text in said if re.search(r"[{}\0]|  |None", text)] == []
