"""Which lamps the light is reckoned from; what is said where that is none or not all."""

from __future__ import annotations

from advisor.model.lighting import LampBody
from advisor.model.tank import Lamp
from advisor.reasoning.light_hanging import STRAINED, hanging, strain, untold
from advisor.reasoning.light_world import light_world
from tests.reasoning.lit import lamp, lit, lit_library, read
from tests.reasoning.survey_samples import TODAY

NOWHERE = Lamp(id="spare", body=LampBody(photons_umol_per_s=100.0))


def test_lamps_that_hang_count_and_one_that_is_off_with_them() -> None:
    both = (lamp("left"), lamp("right", output_percent=0.0))
    found = hanging(both)
    assert (found.lamps, found.notes, found.dark) == (both, (), "")


def test_one_that_shines_from_nobody_knows_where_leaves_readings_alone() -> None:
    found = hanging((lamp(), NOWHERE))
    assert found.lamps == ()
    assert found.notes == (
        "where spare hangs is not told, so the light is reckoned from readings alone:"
        ' tell at: "35, 30 cm", over water: 20 cm',
    )
    off = NOWHERE.model_copy(update={"body": LampBody(output_percent=0.0)})
    assert [each.id for each in hanging((lamp(), off)).lamps] == ["lamp"]
    many = hanging((lamp(), NOWHERE, NOWHERE.model_copy(update={"id": "old"})))
    assert many.notes[0].startswith("where spare and old hang is")


def test_a_tank_whose_lamps_are_all_off_has_no_light_to_reckon() -> None:
    off = lamp(output_percent=0.0)
    assert "as told all are off" in hanging((off,)).dark
    found = light_world(lit(read("under", 200.0), lamps=(off,)), lit_library(), TODAY)
    assert (found.field, found.everywhere()) == (None, {})
    assert found.missing == (hanging((off,)).dark,)


def test_a_lamp_of_unknown_place_leaves_the_field_to_readings_and_says_so() -> None:
    found = light_world(lit(read("under", 200.0), lamps=(lamp(), NOWHERE)), lit_library(), TODAY)
    assert found.field is not None
    assert found.field.lamps == ()
    assert "where spare hangs is not told" in found.notes[0]


def test_what_to_tell_can_be_typed_as_it_stands() -> None:
    assert untold(())[0].startswith("the lamps, and where a lamp hangs: lamps: [{id: lamp-1, at:")
    assert untold((NOWHERE,))[0].startswith("where a lamp hangs: lamps: [{")


def test_errors_made_wider_by_readings_are_told_of() -> None:
    assert strain(STRAINED - 0.1) == ()
    assert "every error is 2.2 times as wide" in strain(2.24)[0]
    spots = [read(name, par) for name, par in (("under", 200.0), ("beside", 3.0), ("far", 900.0))]
    found = light_world(lit(*spots), lit_library(), TODAY)
    assert found.field is not None
    assert found.field.widened > STRAINED
    assert strain(found.field.widened)[0] in found.notes
