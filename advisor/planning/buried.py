"""Places that as told lie inside a rock, so that nothing can stand there and no reading be taken."""

from __future__ import annotations

import math

from advisor.errors import Problem, Severity, Span
from advisor.model.tank import Box
from advisor.planning.desk import Desk
from advisor.reasoning.light_places import rock_bodies
from advisor.reasoning.light_world import standing
from advisor.reasoning.survey_facts import collect
from advisor.reasoning.survey_rows import place_of
from advisor.units import format_number


def inside_rocks(desk: Desk) -> tuple[Problem, ...]:
    """Return a warning for every spot and every animal whose position lies inside a rock."""
    bodies = rock_bodies(desk.tank)
    if not bodies:
        return ()
    from advisor.fields.footholds import upward_faces_cm  # brings a mesh library

    told: dict[str, tuple[str, Box | None, Span | None]] = {
        **{spot.id: (spot.id, spot.box, spot.span) for spot in desk.tank.spots},
        **{place_of(each.id): (each.id, each.box, each.span) for each in desk.tank.animals},
    }
    facts = collect(desk.tank, desk.library.vocabulary, desk.on)
    found = []
    for key, rock in standing(desk.tank, desk.library, facts, bodies)[0].buried.items():
        name, box, span = told[key]
        if box is None:
            continue
        x, y = (sum(axis) / 2.0 for axis in (box.x, box.y))
        tops = [top for top in upward_faces_cm([bodies[rock]], x, y) if top < _water_cm(desk)]
        above = f'at: "{_n(x)}, {_n(y)}, {_n(tops[0])} cm" is on top of it, or ' if tops else ""
        what = f"{name} lies inside {rock} as both are told"
        label = "its light is not known, and a reading taken there is left out"
        mend = f"{above}correct the position of {rock}"
        found.append(Problem("place-156", what, span, label, mend, Severity.WARNING))
    return tuple(found)


def _water_cm(desk: Desk) -> float:
    """Height of the water over the bare glass, as far as it is known. [cm]"""
    glass = desk.tank.glass
    if glass is None:
        return math.inf
    return glass.height_cm if glass.water_cm is None else glass.water_cm


def _n(cm: float) -> str:
    """A length as a keeper writes it."""
    return format_number(round(cm, 1))
