"""House lines for the tests of what they come to."""

from __future__ import annotations

from advisor.language.house_state import House
from advisor.language.nodes import HouseEdit
from tests.language.texts import base_library, read


def fresh() -> House:
    """The base, not yet changed."""
    return House.of(base_library())


def edits(*lines: str) -> list[HouseEdit]:
    """House lines as read."""
    text = "house\n" + "\n".join(f"  {line}" for line in lines)
    return [item for item in read(text).declarations if isinstance(item, HouseEdit)]


def edit(line: str) -> HouseEdit:
    """One house line."""
    (item,) = edits(line)
    return item
