"""Cautions of every animal that an answer sends a hand to."""

from __future__ import annotations

from pathlib import Path

from advisor.planning.cautions import cautions_with
from advisor.planning.desk import subject_named
from tests.planning.tanks import STANDING, WATER, coral, opened, spot

ZOA = coral("zoa-1", "zoanthus", f"spot: there, {STANDING}")
CANDY = coral("candy-1", "candy cane", f"spot: here, {STANDING}")
LOOK = "look every month how far zoa-1 has crept toward candy-1"


def test_an_animal_that_a_duty_names_has_its_caution_told(tmp_path: Path) -> None:
    desk = opened(tmp_path, spots=spot("here") + spot("there"), corals=ZOA + CANDY)._desk
    subject = subject_named(desk, "candy-1")
    (caution,) = cautions_with(desk, subject, (LOOK,))
    assert "palytoxin" in caution.text
    assert caution.about == ("zoa-1",)
    assert cautions_with(desk, subject, ("look at zoa-12 every month",)) == ()


def test_the_one_asked_about_alone_is_not_named_and_others_stand_beside_it(tmp_path: Path) -> None:
    more = ZOA + coral("zoa-2", "zoanthus", f"spot: here, {STANDING}")
    desk = opened(tmp_path, spots=spot("here") + spot("there"), corals=more)._desk
    subject = subject_named(desk, "zoa-2")
    (alone,) = cautions_with(desk, subject, ())
    (both,) = cautions_with(desk, subject, (LOOK,))
    assert alone.about == ()
    assert both.about == ("zoa-2", "zoa-1")


def test_where_and_why_tell_it_where_their_duties_name_it(tmp_path: Path) -> None:
    spots = spot("here", "rock: pile") + spot("there", "rock: pile")
    water = f"{WATER}rocks:\n  - {{id: pile}}\n"
    folder = opened(tmp_path, spots=spots, corals=ZOA, water=water)
    why, where = folder.why("candy cane", "here"), folder.where("candy cane")
    for place, cautions in ((why.place, why.cautions), (where.places[0], where.cautions)):
        assert any("zoa-1" in duty for duty in place.duties)
        assert any("palytoxin" in each.text and "zoa-1" in each.about for each in cautions)
