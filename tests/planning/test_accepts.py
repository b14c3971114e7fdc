"""What a keeper has accepted: in force where the animals stand, until its day, and never out of sight."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from advisor import api
from advisor.model.results import AuditAnswer, Value, Verdict, Word
from advisor.planning.accepts import (
    accepts_of,
    bound,
    lapse_text,
    most_steps,
    same_things,
    short_now,
    short_text,
    shortfall,
    shortfall_steps,
    still_standing,
    things_of,
    told,
    told_lapsed,
    with_accepts,
)
from tests.language.house_lines import edit as line
from tests.planning.reasons import reason as made
from tests.planning.tanks import STANDING, WATER, coral, opened, spot
from tests.planning.test_where import at

RULE = "keep-clear-of-stingers"
WHY = "glass rod between them"
CORALS = coral("torch-1", "torch", f"spot: here, {STANDING}") + coral(
    "candy-1", "candy cane", f"spot: there, {STANDING}"
)


def spots(gap: str) -> str:
    """Return two spots that are taken and two that are free."""
    return (
        spot("here", f"gaps: {{candy-1: {gap}}}")
        + spot("there")
        + spot("near", "gaps: {candy-1: 12 cm}")
        + spot("far", "gaps: {candy-1: 120 cm}")
    )


def accepting(
    entities: str = "torch-1 at here, candy-1 at there",
    *,
    until: str = "2027-11-02",
    rule: str = RULE,
    short: str = "15 cm",
    on: str = "2026-11-02",
) -> str:
    """Return a house file that accepts a finding."""
    return f'house\n  accept {rule} for {entities} short by {short} on {on} because "{WHY}" until {until}\n'


def audited(folder: Path, house: str, gap: str = "15 cm") -> AuditAnswer:
    """Return the audit of a tank whose torch reaches its neighbour."""
    return opened(folder, spots=spots(gap), corals=CORALS, house=house).audit(months=0)


def stung(answer: AuditAnswer) -> list[str]:
    """Return in which part of an audit the two are found."""
    parts = {
        "now": [finding.reason for finding in answer.now],
        "later": [finding.reason for finding in answer.later],
        "open": list(answer.open),
        "accepted": list(answer.accepted),
    }
    return [part for part, found in parts.items() if any(reason.rule == RULE for reason in found)]


def test_an_accepted_danger_is_listed_as_accepted_with_its_ground_and_both_numbers(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting())
    assert stung(answer) == ["accepted"]
    (accepted,) = [reason for reason in answer.accepted if reason.rule == RULE]
    assert accepted.verdict is Verdict.ACCEPTED
    assert any(WHY in text for text in accepted.house)
    assert accepted.here is not None
    assert accepted.wanted_low is not None


def test_nothing_accepted_is_a_finding(tmp_path: Path) -> None:
    assert stung(audited(tmp_path, "")) == ["now"]


def test_it_binds_the_two_in_the_order_of_the_rule(tmp_path: Path) -> None:
    """That the torch stings the candy cane is accepted, and not what this would do to the torch."""
    answer = audited(tmp_path, accepting("candy-1 at there, torch-1 at here"))
    assert stung(answer) == ["now"]
    assert any("matches nothing now" in note for note in answer.notes)


def test_it_covers_what_is_open_too(tmp_path: Path) -> None:
    assert stung(audited(tmp_path, accepting(short="0 cm"), gap="30.2 cm")) == ["accepted"]


def test_an_accepted_animal_is_harmed_by_nothing_and_moved_for_nothing(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting())
    assert answer.harmed_now == 0
    assert answer.move_first == ()


@pytest.mark.parametrize(("until", "part"), [
    ("2026-11-03", "accepted"), ("2026-11-02", "accepted"), ("2026-11-01", "now"),
])  # fmt: skip
def test_its_last_day_counts_and_the_day_after_does_not(tmp_path: Path, until: str, part: str) -> None:
    answer = audited(tmp_path, accepting(until=until, on="2026-10-01"))
    assert stung(answer) == [part]
    if part == "now":
        assert any("ran out on 1 Nov 2026" in note for note in answer.notes)
    else:
        days = "1 day left" if until == "2026-11-03" else "its last day"
        assert any(days in text for reason in answer.accepted for text in reason.house)


def test_what_no_longer_occurs_is_said_to(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting(), gap="120 cm")
    assert stung(answer) == []
    assert any("torch-1 and candy-1" in note for note in answer.notes)


def test_it_lapses_for_a_place_the_animal_would_move_to(tmp_path: Path) -> None:
    """The rod stands where the torch stands now; at the next spot it is judged afresh."""
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    assert at(session.where("torch-1"), "near").word is Word.NO


def test_it_covers_no_other_pair_and_no_other_rule(tmp_path: Path) -> None:
    more = coral("candy-2", "candy cane", f"spot: near, {STANDING}")
    close = spots("15 cm").replace("gaps: {candy-1: 15 cm}", "gaps: {candy-1: 15 cm, candy-2: 15 cm}")
    session = opened(tmp_path, spots=close, corals=CORALS + more, house=accepting())
    found = [
        finding.reason.subjects for finding in session.audit(months=0).now if finding.reason.rule == RULE
    ]
    assert found == [("torch-1", "candy-2")]


# --- it lapses --------------------------------------------------------------------------


@pytest.mark.parametrize(("gap", "part"), [
    ("15 cm", "accepted"), ("14.1 cm", "accepted"), ("13.9 cm", "now"), ("15.9 cm", "accepted"),
])  # fmt: skip
def test_it_lapses_when_the_shortfall_grows_by_more_than_a_step(tmp_path: Path, gap: str, part: str) -> None:
    answer = audited(tmp_path, accepting(), gap=gap)
    assert stung(answer) == [part]
    lapsed = [note for note in answer.notes if "has lapsed" in note]
    assert bool(lapsed) is (part == "now")
    if lapsed:
        assert "accepted at 15 cm short, and it is 16.1 cm short" in lapsed[0]


def test_it_lapses_when_a_command_moves_one_of_them(tmp_path: Path) -> None:
    opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    api.move(tmp_path, "candy-1", "near", on=date(2026, 11, 3))
    api.move(tmp_path, "candy-1", "there", on=date(2026, 11, 4))
    (told,) = api.lapsed_accepts(tmp_path, "candy-1", on=date(2026, 11, 4))
    assert "torch-1 and candy-1 has lapsed: candy-1 was moved on 4 Nov 2026" in told
    answer = api.open_tank(tmp_path, on=date(2026, 11, 5)).audit(months=0)
    assert "accepted" not in stung(answer)
    assert any("candy-1 was moved on 4 Nov 2026" in note for note in answer.notes)


def test_it_lapses_when_the_file_says_another_spot_or_a_later_day(tmp_path: Path) -> None:
    for case, corals, why in (
        ("day", CORALS.replace("2025-05-10", "2026-11-03", 1), "was moved on 3 Nov 2026"),
        ("spot", CORALS, "stands there now, not ledge"),
    ):
        folder = tmp_path / case
        folder.mkdir()
        named = "torch-1 at here, candy-1 at ledge" if case == "spot" else "torch-1 at here, candy-1 at there"
        answer = opened(folder, spots=spots("15 cm"), corals=corals, house=accepting(named)).audit(months=0)
        assert stung(answer) == ["now"]
        assert any(why in note for note in answer.notes), answer.notes


@pytest.mark.parametrize(("place", "stays"), [
    ("26, 13, 9 cm", True), ("26 cm,13 cm,  9 cm", True), ("26 CM, 13, 9", True),
    ("26, 13, 8 cm", False), ("126, 13, 9 cm", False), ("left, back", False),
])  # fmt: skip
def test_a_position_is_the_same_however_its_units_are_written(
    tmp_path: Path, place: str, stays: bool
) -> None:
    corals = coral("torch-1", "torch", f"spot: here, {STANDING}")
    corals += coral("candy-1", "candy cane", f'at: "26, 13, 9 cm", {STANDING}')
    session = opened(tmp_path, spots=spots("15 cm"), corals=corals)
    edit = line(f'accept {RULE} for torch-1 at here, candy-1 at "{place}" on 2026-11-02')
    library = replace(session._desk.library, house=(edit,))
    assert bool(still_standing(library, session._desk.tank).house) is stays


def test_a_place_it_would_move_to_is_judged_afresh_and_says_so(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    answer = session.why("torch-1", "near")
    assert any(
        "does not cover it" in text
        for reason in answer.place.reasons
        if reason.rule == RULE
        for text in reason.house
    )


def test_an_accepted_danger_that_would_never_lapse_does_not_count_and_is_written_out_whole(
    tmp_path: Path,
) -> None:
    bare = f'house\n  accept {RULE} for torch-1, candy-1 because "{WHY}"\n'
    answer = audited(tmp_path, bare)
    assert stung(answer) == ["now"]
    (note,) = [note for note in answer.notes if "does not count" in note]
    assert "--level 2" in note
    deep = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=bare).audit(months=0, level=2)
    found = [item.reason for item in deep.now if item.reason.rule == RULE]
    (whole,) = [reason.accept for reason in found if reason.subjects == ("torch-1", "candy-1")]
    start = f"accept {RULE} for torch-1 at here, candy-1 at there short by 15 cm on 2026-11-02"
    assert " ".join(whole.split()).startswith(start)
    assert WHY in whole
    second = tmp_path / "second"
    second.mkdir()
    assert stung(audited(second, f"house\n  {whole}\n")) == ["accepted"]


def test_growth_ends_what_was_accepted_and_the_month_is_told(tmp_path: Path) -> None:
    rule = "room-for-reach-and-growth"
    open_ended = accepting() + f"  accept {rule} for torch-1, candy-1 short by 17 cm on 2026-11-02\n"
    answer = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=open_ended).audit(months=240)
    (accepted,) = [reason for reason in answer.accepted if reason.rule == rule]
    assert accepted.until is None
    (later,) = [finding.reason for finding in answer.later if finding.reason.rule == rule]
    assert later.until is not None
    assert any("does not cover it" in text for text in later.house)


# --- it says what there is ---------------------------------------------------------------


@pytest.mark.parametrize(("short", "gap"), [("500 cm", "15 cm"), ("15 cm", "20 cm"), ("17 cm", "15 cm")])
def test_a_danger_accepted_at_more_than_it_is_does_not_count_and_the_real_one_is_told(
    tmp_path: Path, short: str, gap: str
) -> None:
    session = opened(tmp_path, spots=spots(gap), corals=CORALS, house=accepting(short=short))
    answer = session.audit(months=0)
    assert stung(answer) == ["now"]
    real = "10 cm" if gap == "20 cm" else "15 cm"
    assert any(f"at {short} short, and is {real} short" in note for note in answer.notes), answer.notes
    assert [problem.code for problem in session.idle_house_lines()] == ["house-513"]
    (reason,) = [each.reason for each in answer.now if each.reason.rule == RULE]
    assert any(f"it is {real} short" in text for text in reason.house)


def test_something_lesser_accepted_at_more_than_it_is_counts_and_is_told(tmp_path: Path) -> None:
    rule = "room-for-reach-and-growth"
    house = accepting(rule=rule, short="90 cm")
    answer = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=house).audit(months=0)
    assert [reason.rule for reason in answer.accepted] == [rule]
    assert any("would not lapse when it gets worse: it says at 90 cm short" in note for note in answer.notes)


def test_what_nobody_has_measured_is_accepted_as_unknown_until_it_is_measured(tmp_path: Path) -> None:
    unknown = accepting(short="unknown")
    for case, gap, part in (("open", "", "accepted"), ("near", "15 cm", "now"), ("close", "30.2 cm", "open")):
        folder = tmp_path / case
        folder.mkdir()
        where = spots(gap) if gap else spots("15 cm").replace("gaps: {candy-1: 15 cm}", "islet: no")
        answer = opened(folder, spots=where, corals=CORALS, house=unknown).audit(months=0)
        assert stung(answer) == [part], case
        lapsed = [note for note in answer.notes if "has lapsed" in note]
        assert bool(lapsed) is bool(gap)
        if gap:
            assert "accepted while it was not measured, and it is measured now" in lapsed[0]


def test_a_shortfall_that_nobody_knows_is_covered_by_no_number(tmp_path: Path) -> None:
    where = spots("15 cm").replace("gaps: {candy-1: 15 cm}", "islet: no")
    answer = opened(tmp_path, spots=where, corals=CORALS, house=accepting(short="500 cm")).audit(months=0)
    assert stung(answer) == ["open"]
    assert any("nobody knows how far short it is now" in note for note in answer.notes)


def test_a_shortfall_is_rounded_up_to_a_tenth_of_a_step() -> None:
    def short(best: float, steps: float, unit: str) -> str:
        reason = made("a", margin=steps).model_copy(update={"margin": Value(best=best, unit=unit)})
        return short_now(reason)

    assert short(-0.034, -3.4, "mg/L") == "0.034 mg/L"
    assert short(-3.141, -3.141, "cm") == "3.2 cm"
    assert short(-1234.5, -12.345, "L/h") == "1235 L/h"


# --- its parts ----------------------------------------------------------------------------


def test_a_shortfall_is_told_in_a_unit_of_the_rule_or_in_steps(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    (compiled,) = [item for item in session._desk.bench.rules if item.rule.name == RULE]
    found = [
        most_steps(line(f"accept {RULE} for a, b {short}"), compiled)
        for short in ("short by 8 cm", "short by 80 mm", "short by 8 steps", "", "short by 8 PAR")
    ]
    assert found[:3] == [pytest.approx(9.0, abs=1e-6)] * 3
    assert found[3] == float("inf")
    assert found[4] is None
    other = tmp_path / "other"
    other.mkdir()
    assert audited(other, accepting(short="8 PAR")).accepted == ()


def test_the_rows_and_verdicts_of_an_accept_are_those_of_the_two(tmp_path: Path) -> None:
    desk = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())._desk
    (compiled,) = [item for item in desk.bench.rules if item.rule.name == RULE]
    sitting = desk.sit(desk.survey())
    (plane,) = sitting.judge([compiled], ahead=False)
    (edit,) = accepts_of(desk.library)
    here = bound(plane.now, compiled, sitting.tables, edit)
    assert here.sum() == 1
    assert np.nanmax(shortfall_steps(plane.now)[here]) == pytest.approx(15.0)
    assert (with_accepts(plane.now, compiled, sitting.tables).verdict == plane.now.verdict).all()
    assert still_standing(desk.library, desk.tank) is desk.library


def test_what_is_said_of_an_accept(tmp_path: Path) -> None:
    desk = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())._desk
    (accepted,) = [reason for reason in audited(tmp_path, accepting()).accepted if reason.rule == RULE]
    (edit,) = accepts_of(desk.library, RULE)
    assert same_things(edit, accepted, desk.library)
    assert things_of(accepted, desk.library) == ("torch-1", "candy-1")
    assert short_text(edit) == " at 15 cm short"
    assert short_now(accepted) == "15 cm"
    found = shortfall(accepted)
    assert found is not None
    assert (found.value, found.unit) == (15.0, "cm")
    assert "you accepted this at 15 cm short" in told(accepted, desk.library).house[-1]
    assert told_lapsed(accepted, desk.library) is accepted
    aside = still_standing(
        desk.library,
        desk.tank.model_copy(
            update={
                "animals": tuple(
                    animal.model_copy(update={"moved_on": date(2026, 11, 9)}) for animal in desk.tank.animals
                )
            }
        ),
    ).aside
    assert lapse_text(aside[0]) == "has lapsed: torch-1 was moved on 9 Nov 2026"


def test_what_is_found_of_a_pump_can_be_accepted(tmp_path: Path) -> None:
    water = WATER + "pumps: [{id: left-pump, cleaned: 2026-01-01}, {id: right-pump, cleaned: 2026-01-01}]\n"
    house = accepting("left-pump", rule="pumps-are-cleaned", short="185 days")
    answer = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=house, water=water).audit(months=0)
    named = {reason.subjects for reason in answer.accepted if reason.rule == "pumps-are-cleaned"}
    assert named == {("left-pump",)}
    still = {finding.reason.subjects for finding in answer.now if finding.reason.rule == "pumps-are-cleaned"}
    assert still == {("right-pump",)}


def test_an_accept_of_a_pump_that_is_not_there_is_told(tmp_path: Path) -> None:
    water = WATER + "pumps: [{id: right-pump, cleaned: 2026-01-01}]\n"
    house = accepting("left-pump", rule="pumps-are-cleaned", short="185 days")
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=house, water=water)
    assert any("no pump called left-pump" in note for note in session.audit(months=0).notes)
