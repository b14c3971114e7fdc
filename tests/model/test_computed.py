"""What stands behind a measure that is worked out."""

from __future__ import annotations

from advisor.model.computed import LIGHT_LETS, METER_LETS, PLACE_LETS, RESTS_ON, behind
from advisor.model.vocabulary import Measure, Relation, Vocabulary
from tests.reasoning.survey_samples import library


def test_what_is_worked_out_leads_to_the_lines_of_cards_behind_it() -> None:
    vocabulary = library().vocabulary
    assert {"swells", "edge", "mature-width", "grows-out"} <= behind(["gap"], vocabulary)
    assert "grows-out" not in behind(["gap"], vocabulary, ahead=False)
    assert {"mature-height", "grows-up"} <= behind(["clear-height"], vocabulary)
    assert {"light-min", "vouch-after"} <= behind(["light"], vocabulary)
    assert "swells" not in behind(["light", "size"], vocabulary)


def test_measures_read_from_one_line_of_a_card_stand_for_each_other() -> None:
    found = behind(["weapon-reach"], library().vocabulary)
    assert {"weapon-reach", "reach-usual"} <= found
    assert "reach-most" not in found


def test_a_name_of_a_number_or_of_nothing_stays_alone() -> None:
    assert behind(["room-allowance", "nothing"], Vocabulary()) == {"room-allowance", "nothing"}


def test_all_that_is_declared_is_computed_and_named_in_the_shipped_vocabulary() -> None:
    vocabulary = library().vocabulary
    words: list[Measure | Relation] = [*vocabulary.measures.values(), *vocabulary.relations.values()]
    assert set(RESTS_ON) <= {word.computed_by for word in words}
    named = {name for rests in RESTS_ON.values() for name in rests.now | rests.ahead}
    assert named - vocabulary.measures.keys() == {"vouch-after"} | LIGHT_LETS | METER_LETS | PLACE_LETS
