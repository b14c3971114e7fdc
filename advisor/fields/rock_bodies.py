"""The body of a rock, whichever way it is told: by a shape or by a scan."""

from __future__ import annotations

from advisor.fields.rock_shapes import Body, rock_body
from advisor.fields.scan_place import unpacked
from advisor.model.lighting import RockBody


def body_of(told: RockBody | None) -> Body | None:
    """Return the surface of a rock in the tank, None where neither a shape nor a scan is told. [cm]"""
    if told is None:
        return None
    if told.surface is not None:
        return unpacked(told.surface)
    if told.shape is None or told.middle_cm is None or told.size_cm is None:
        return None
    return rock_body(told.shape, told.middle_cm, told.foot_cm, told.size_cm, told.turned_deg)
