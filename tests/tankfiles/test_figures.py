"""Numbers, rows and words of a body: what is told, where, and a mend that does away with the fault."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import Problem, Severity
from advisor.tankfiles.figures import may_be_of_one
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
LAMP = "lamps:\n  - {{id: a, {}: {}}}\n"


def typed(folder: Folder, problem: Problem) -> str:
    """The file with the mend in place of what is marked."""
    span = problem.span
    assert span is not None
    lines = folder.text().split("\n")
    line = lines[span.line - 1]
    lines[span.line - 1] = line[: span.column - 1] + problem.mend + line[span.end_column - 1 :]
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("key", "value", "what", "mend"),
    [
        ("photons", "-140 umol/s", "photons cannot be -140 umol/s", "140 umol/s"),
        ("photons", "0 umol/s", "photons cannot be 0 umol/s", "unknown"),
        ("photons", "lots", "'lots' is not one number", "unknown"),
        ("photons", "nan", "'nan' is not one number", "unknown"),
        ("photons", "1e999 umol/s", "'1e999 umol/s' is not a finite number", "unknown"),
        ("photons", "140 PAR", "'140 PAR' is light, but photon flux is expected", "unknown"),
        ("photons", "[140, 150]", "one number is expected here", "unknown"),
        ("photons", "120-160 umol/s", "'120-160 umol/s' is not one number", "140 umol/s"),
        ("photons", "140 ±20 umol/s", "'140 ±20 umol/s' is not one number", "140 umol/s"),
        ("photons", "at least 90 umol/s", "'at least 90 umol/s' is not one number", "unknown"),
        ("watts", "-90 W", "watts cannot be -90 W", "90 W"),
        ("beam", "-90 degrees", "beam cannot be -90 degrees", "90 degrees"),
        ("beam", "360 degrees", "beam cannot be 360 degrees", "unknown"),
        ("over water", "-5 cm", "over water cannot be -5 cm: a lamp hangs above the water", "unknown"),
        ("turned", "400 degrees", "turned is 0 to 360 degrees, not 400", "40 degrees"),
        ("turned", "-30", "turned is 0 to 360 degrees, not -30", "330 degrees"),
        ("turned", "round", "'round' is not one number", "unknown"),
        ("output", "-3 %", "output cannot be -3 %", "3 %"),
        ("output", "200 %", "output cannot be 200 %", "100 %"),
        ("output", "0.8", "output: '0.8' may be 0.8 % or 80 %", "80 %"),
        ("output", "1", "output: '1' may be 1 % or 100 %", "100 %"),
        ("size", "-30 x 20 cm", "a side cannot be -30: each is above 0", "30 x 20 cm"),
        ("size", "0 x 20 cm", "a side cannot be 0: each is above 0", "30 x 20 cm"),
        ("size", "20-30 x 20 cm", "'20-30' is not one length", "30 x 20 cm"),
        ("at", "over the middle", "2 or 3 lengths are expected here", '"40, 30 cm"'),
        ("colour", "purple", "'purple' is not one of the words here", "unknown"),
        ("colour", "[blue]", "one word is expected here", "unknown"),
        ("form", "pannel", "'pannel' is not one of the words here", "panel"),
    ],
)
def test_what_cannot_be_names_its_key_and_the_mend_does_away_with_it(
    tank_of: Callable[[str], Folder], key: str, value: str, what: str, mend: str
) -> None:
    folder = tank_of(LAMP.format(key, value))
    (problem,) = folder.problems
    assert (problem.what, problem.mend) == (what, mend)
    assert problem.span is not None
    assert problem.span.line == 2
    left = tank_of(typed(folder, problem)).problems
    assert [each for each in left if each.severity is not Severity.NOTE] == []


def test_positions_may_lie_before_the_corner_and_sides_may_not(tank_of: Make) -> None:
    lamps = tank_of('lamps: [{id: a, at: "-3, 5 cm"}]\n').tank.lamps
    assert lamps[0].body.middle_cm == (-3.0, 5.0)


@pytest.mark.parametrize("text", ["0.8", "1", "1.0", ".5"])
def test_a_bare_number_up_to_one_may_be_a_share_of_one(text: str) -> None:
    assert may_be_of_one(text)


@pytest.mark.parametrize("text", ["0", "80", "0.8 %", "1.5", "a"])
def test_any_other_may_not(text: str) -> None:
    assert not may_be_of_one(text)
