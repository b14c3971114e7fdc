"""The shipped rules as pages are made from them, with a number and a level changed by a house file."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from advisor.rulework.documents import Shelf, shelf_of
from advisor.session.opening import library_in_force, usable

HOUSE = """edition 1

house
  change room-allowance from 2 cm to 4 cm
    because "mine swell"
  level near-kin-keep-their-gap from warning to advice
    because "calm kin"
"""


@cache
def shelf() -> Shelf:
    """Return the shelf, read once."""
    with tempfile.TemporaryDirectory() as folder:
        house = Path(folder) / "house.rules"
        house.write_text(HOUSE, encoding="utf-8")
        return shelf_of(usable(*library_in_force(None, (house,))))
