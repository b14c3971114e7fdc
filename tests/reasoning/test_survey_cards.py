from __future__ import annotations

from advisor.language.library import Library
from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, WordCell
from advisor.model.changes import NO_CARD, CardChoice
from advisor.model.vocabulary import Grade
from advisor.reasoning.survey_cards import CardReader
from tests.reasoning.survey_samples import library

STINGER, MAT, PLATE = (CardChoice((name,)) for name in ("stinger", "mat", "plate"))
EITHER = CardChoice(("stinger", "plate"), "a name for two")


def cell(name: str, choice: CardChoice, animal_id: str = "", of: Library | None = None) -> Cell:
    rules = of or library()
    return CardReader(rules).cell(rules.vocabulary.measures[name], choice, animal_id)


def number(name: str, choice: CardChoice, animal_id: str = "", of: Library | None = None) -> NumberCell:
    found = cell(name, choice, animal_id, of)
    assert isinstance(found, NumberCell)
    return found


def read_words(name: str, choice: CardChoice, animal_id: str, of: Library) -> WordCell:
    found = cell(name, choice, animal_id, of)
    assert isinstance(found, WordCell)
    return found


def test_a_card_number_is_a_planning_value_and_enters_as_a_point() -> None:
    found = number("light-min", STINGER)
    assert (found.low, found.best, found.high, found.kind, found.cause) == (
        50.0,
        50.0,
        50.0,
        CellKind.CARD,
        None,
    )


def test_a_card_names_itself_its_source_and_grade() -> None:
    (support,) = number("light-min", STINGER).supports
    assert (support.text, support.source, support.grade) == (
        "card stinger",
        "three growers' guides",
        Grade.EXPERIENCE,
    )
    assert support.span is not None
    assert support.span.file == "cards.rules"


def test_a_line_without_a_source_has_that_of_its_card() -> None:
    (support,) = number("flow-min", STINGER).supports
    assert (support.source, support.grade) == ("trade knowledge", Grade.GUESS)


def test_of_several_weapons_the_largest_value_counts() -> None:
    assert number("reach-usual", STINGER).best == 10.0
    assert number("reach-most", STINGER).best == 25.0
    assert number("potency", STINGER).best == 4.0


def test_an_animal_without_weapons_has_no_reach() -> None:
    found = number("reach-most", MAT)
    assert (found.low, found.high, found.kind) == (0.0, 0.0, CellKind.CARD)
    assert found.supports[0].source == "no weapon"


def test_where_two_lines_disagree_the_stricter_governs_and_both_are_kept() -> None:
    found = number("light-max", MAT)
    assert (found.low, found.best, found.high) == (200.0, 200.0, 200.0)
    assert [each.text for each in found.supports] == ["card mat, disputed", "card mat, disputed"]
    assert [each.source for each in found.supports] == ["200 PAR: trade knowledge", "300 PAR: one keeper"]


def test_where_nothing_tells_which_is_stricter_both_ends_stay_possible() -> None:
    rules = library('card twofold "two"\n  light best 60 to 90 PAR\n  light best 80 to 90 PAR\n')
    found = number("light-low", CardChoice(("twofold",)), of=rules)
    assert (found.low, found.best, found.high) == (60.0, None, 80.0)


def test_what_a_card_does_not_say_is_not_known() -> None:
    found = number("mature-height", MAT)
    assert (found.low, found.best, found.high) == (0.0, None, 200.0)
    assert (found.kind, found.cause) == (CellKind.UNKNOWN, Cause.MISSING)
    assert (found.supports[0].text, found.supports[0].source) == ("card mat", "does not say")


def test_without_a_card_nothing_is_known() -> None:
    for choice in (NO_CARD, CardChoice(("no-such-card",))):
        found = number("light-min", choice)
        assert found.cause is Cause.MISSING
        assert found.supports[0].text == "no card"


def test_words_and_sets_of_words() -> None:
    group, genus, footing, weapons = (
        cell(name, STINGER) for name in ("group", "genus", "footing", "weapons")
    )
    assert isinstance(group, WordCell)
    assert group.possible == frozenset({"large-polyp"})
    assert isinstance(genus, WordCell)
    assert genus.possible == frozenset({"examplea"})
    assert isinstance(footing, SetCell)
    assert footing.surely == footing.possibly == frozenset({"rock", "rack"})
    assert isinstance(weapons, SetCell)
    assert weapons.surely == frozenset({"sweeper-tentacles", "filaments"})


def test_an_uncertain_species_is_the_hull_of_its_cards() -> None:
    found = number("light-min", EITHER)
    assert (found.low, found.best, found.high, found.kind, found.cause) == (
        50.0,
        None,
        100.0,
        CellKind.CARD,
        None,
    )
    assert found.supports[0].text == "species not certain"
    assert found.supports[0].source == "a name for two: stinger or plate"
    group, weapons = cell("group", EITHER), cell("weapons", EITHER)
    assert isinstance(group, WordCell)
    assert group.possible == frozenset({"large-polyp", "small-polyp"})
    assert isinstance(weapons, SetCell)
    assert (weapons.surely, weapons.possibly) == (
        frozenset({"filaments"}),
        frozenset({"filaments", "sweeper-tentacles"}),
    )


def test_cards_that_agree_are_a_point_whichever_is_meant() -> None:
    genus, up = cell("genus", EITHER), number("grows-up", CardChoice(("mat", "plate")))
    assert isinstance(genus, WordCell)
    assert genus.possible == frozenset({"examplea"})
    assert (up.low, up.best, up.high) == (1.0, 1.0, 1.0)


def test_if_one_possible_card_is_silent_nothing_is_known() -> None:
    found = number("mature-height", CardChoice(("stinger", "plate")))
    assert (found.low, found.high, found.cause) == (0.0, 200.0, Cause.MISSING)


ALONE = library(
    house='house\n  change stinger light max from 250 PAR to 180 PAR for torch-1 because "it bleached"\n'
)


def test_a_house_change_for_one_animal_is_for_that_animal_alone() -> None:
    assert number("light-max", STINGER, "torch-1", ALONE).best == 180.0
    assert number("light-max", STINGER, "torch-2", ALONE).best == 250.0


def test_a_house_change_names_the_house_and_its_reason() -> None:
    (support,) = number("light-max", STINGER, "torch-1", ALONE).supports
    assert support.text == "your house file"
    assert support.source == "instead of 250 PAR of card stinger: it bleached"
    assert support.span is not None
    assert support.span.file == "house.rules"


def test_a_house_change_of_one_weapon_leaves_the_others() -> None:
    rules = library(house="house\n  change stinger weapon at-most from 3 cm to 40 cm for torch-1\n")
    assert number("reach-most", STINGER, "torch-1", rules).best == 40.0
    lower = library(house="house\n  change stinger weapon at-most from 25 cm to 12 cm for torch-1\n")
    assert number("reach-most", STINGER, "torch-1", lower).best == 12.0


def test_a_weapon_the_house_lowered_below_another_is_still_told() -> None:
    rules = library(
        house="house\n  change stinger weapon sweeper-tentacles at-most from 25 cm to 10 cm\n"
        "  change stinger weapon filaments at-most from 3 cm to 12 cm\n"
    )
    found = number("reach-most", STINGER, "torch-2", rules)
    assert found.best == 12.0
    assert [support.text for support in found.supports] == ["your house file"] * 2


def test_a_reader_knows_whose_card_is_changed() -> None:
    assert CardReader(ALONE).changes_alone("torch-1")
    assert not CardReader(ALONE).changes_alone("torch-2")


def test_a_house_change_of_words_is_for_whom_it_is_meant() -> None:
    """Nothing but the words moves, and the ground names the house."""
    general = library(
        house='house\n  change stinger growth form from phaceloid to branching because "seen"\n'
    )
    cell = read_words("form", STINGER, "torch-2", general)
    assert cell.possible == frozenset({"branching"})
    assert cell.supports[0].source == "instead of phaceloid of card stinger: seen"
    alone = library(house="house\n  change stinger growth form from phaceloid to branching for torch-1\n")
    assert read_words("form", STINGER, "torch-1", alone).possible == frozenset({"branching"})
    assert read_words("form", STINGER, "torch-2", alone).possible == frozenset({"phaceloid"})


def test_a_value_the_house_did_not_touch_does_not_name_it() -> None:
    rules = library(house="house\n  change stinger weapon at-most from 3 cm to 2 cm\n")
    (support,) = number("reach-most", STINGER, "torch-2", rules).supports
    assert support.text == "card stinger"


def test_a_house_change_of_a_named_weapon_leaves_one_of_equal_number() -> None:
    twins = library(house="house\n  change stinger weapon filaments at-most from 3 cm to 9 cm for torch-1\n")
    edits = [edit for edit in twins.house if edit.animal == "torch-1"]
    assert [edit.of for edit in edits] == ["filaments"]
    assert number("reach-most", STINGER, "torch-1", twins).best == 25.0
