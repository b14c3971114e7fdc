from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor import api
from advisor.errors import UnusableInput

NO_METER = Path(__file__).resolve().parent.parent.parent / "examples" / "no-meter"


def test_the_waiting_are_told_in_the_order_of_the_file() -> None:
    session = api.open_tank(NO_METER, on=date(2026, 11, 2))
    assert session.waiting[:3] == ("candy-1", "torch-1", "duncan-1")


def test_a_batch_sends_no_two_to_one_place() -> None:
    session = api.open_tank(NO_METER, on=date(2026, 11, 2))
    answers = session.where_each(session.waiting)
    tonight = [answer.tonight.place for answer in answers if answer.tonight is not None]
    assert len(tonight) == len(set(tonight)) == 6  # eight bags, six free spots


def test_what_nobody_knows_is_refused_with_a_mend() -> None:
    session = api.open_tank(NO_METER, on=date(2026, 11, 2))
    with pytest.raises(UnusableInput) as refused:
        session.where("purple dragon thingy")
    assert refused.value.problems[0].mend
