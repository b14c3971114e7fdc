"""Every open name a rule or definition speaks of is known to the tables."""

from __future__ import annotations

from advisor.reasoning.open_names import open_words
from tests.reasoning.small import library_of, rule_text


def test_words_that_open_names_are_compared_with_are_collected() -> None:
    library = library_of(
        rule_text("genus(a) is one of acropora, porites", unless="genus(a) is not fungia")
        + "define kin(animal a) as genus(a) is montipora\n"
        + rule_text("kin(a)", name="other", when="group(a) is soft")
    )
    found = open_words(library)
    assert set(found) == {"genus"}
    assert set(found["genus"]) == {"acropora", "porites", "fungia", "montipora"}


def test_words_of_a_closed_list_need_no_place_made_for_them() -> None:
    assert open_words(library_of(rule_text("group(a) is soft or group(a) is not one of clam, stony"))) == {}


def test_names_stand_wherever_a_comparison_may_stand() -> None:
    library = library_of(
        rule_text("count of neighbour n of a where genus(n) is one of favia, mussa <= 2")
        + rule_text("reach(a) >= 2 cm", name="other", unless="not (fenced(a) or genus(a) is plerogyra)")
    )
    assert set(open_words(library)["genus"]) == {"favia", "mussa", "plerogyra"}
