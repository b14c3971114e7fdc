"""What was mended, as data."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from advisor.model.fixes import FileFix, FixedPlace


def test_a_fix_is_read_back_from_its_own_json() -> None:
    place = FixedPlace(line=4, column=9, code="paste-111", was="≥", now=">=")
    fix = FileFix(file="house.rules", places=(place,))
    assert FileFix.model_validate_json(fix.model_dump_json()) == fix
    assert fix.refused == ""


def test_a_place_never_changes() -> None:
    place = FixedPlace(line=4, column=9, code="", was="", now=" ")
    with pytest.raises(ValidationError):
        place.line = 5
