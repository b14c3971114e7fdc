from __future__ import annotations

from advisor.model.cells import Cause
from advisor.model.vocabulary import Grade
from advisor.reasoning.columns import ASSUMED, MISSING, STALE
from advisor.reasoning.survey_told import cause_of
from tests.reasoning.survey_samples import animal, fact, gap, gap_of, point, row, spot, survey, tank, truth

SPOTS = [spot("ledge", point(0.0, 0.0)), spot("foot", point(40.0, 0.0))]


def texts(of: tuple[object, ...]) -> list[str]:
    return [getattr(each, "text", "") for each in of]


def test_flags_tell_why_something_is_not_known() -> None:
    assert [cause_of(flags) for flags in (0, MISSING, STALE, ASSUMED, STALE | MISSING)] == [
        None,
        Cause.MISSING,
        Cause.STALE,
        Cause.MISSING,
        Cause.STALE,
    ]


def test_a_gap_from_positions_tells_both_widths() -> None:
    of = survey(tank(SPOTS, [animal("a-1", at="ledge"), animal("b-1", at="foot", size_cm=10.0)]))
    cell = gap_of(of, "a-1", "b-1")
    assert texts(cell.supports) == ["positions", "width of a-1", "width of b-1"]
    assert cell.supports[0].source == "ledge and foot: 40 cm between the middles"
    assert cell.supports[2].source == "less 5 cm from the middle of b-1 to its edge"


def test_a_gap_told_by_tape_tells_tape_error_and_growth() -> None:
    of = survey(
        tank(
            SPOTS,
            [animal("a-1", at="ledge"), animal("b-1", "plate", "foot")],
            [gap("a-1", "b-1", 20.0, error=None)],
        )
    )
    cell = gap_of(of, "a-1", "b-1", month=12.0)
    assert texts(cell.supports) == ["tape", "grows 3 + 4 mm a month"]
    assert cell.supports[0].source == "error ±1 cm, the usual one"
    assert cell.supports[1].grade is Grade.GUESS  # the weaker of the two cards


def test_an_untold_width_tells_what_is_reckoned_with() -> None:
    of = survey(tank(SPOTS, [animal("a-1", at="ledge"), animal("b-1", at="foot", size_cm=None)]))
    guess, open_ = gap_of(of, "a-1", "b-1"), gap_of(of, "a-1", "b-1", assume=False)
    assert texts(guess.supports)[-1] == "width of b-1 a guess"
    assert guess.supports[-1].grade is Grade.GUESS
    assert texts(open_.supports)[-1] == "width of b-1 not told"


def test_growth_nobody_knows_is_told_as_a_range() -> None:
    of = survey(tank(SPOTS, [animal("a-1", "oddity", "ledge"), animal("b-1", at="foot")]))
    assert texts(gap_of(of, "a-1", "b-1", month=1.0).supports)[-1] == "grows 0-40 + 3 mm a month"


def test_the_ground_of_a_relation_is_who_says_it() -> None:
    of = survey(
        tank(
            SPOTS,
            [animal("a-1", at="ledge"), animal("b-1", at="foot")],
            [fact("above", "ledge", "b-1", truth=True)],
        )
    )
    assert truth(of, "above", "a-1", "b-1") is True
    assert texts(of.cell("above", (row(of, "a-1"), row(of, "b-1"))).supports) == ["you say so"]
    assert texts(of.cell("above", (row(of, "b-1"), row(of, "a-1"))).supports) == ["you say so"]


def test_what_nobody_told_says_so() -> None:
    of = survey(tank([spot("ledge"), spot("foot")], [animal("a-1", at="ledge"), animal("b-1", at="foot")]))
    pair = (row(of, "a-1"), row(of, "b-1"))
    told = {name: texts(of.cell(name, pair).supports) for name in ("gap", "down-flow", "above", "divider")}
    assert told == {
        "gap": ["not measured"],
        "down-flow": ["not told"],
        "above": ["not told"],
        "divider": ["nobody says so"],
    }
