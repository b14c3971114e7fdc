"""Where an animal stays for its first night: the calmest place, judged without what only matters later."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from advisor.language.nodes import Level
from advisor.model.results import PlaceAnswer, Reason, Verdict, Word
from advisor.model.tank import RockPart
from advisor.planning.desk import Desk, Subject
from advisor.planning.fold import Standing
from advisor.planning.pick import (
    reasons_by_world,
)
from advisor.planning.place import place_answer
from advisor.planning.rounds import Round, judged_tonight
from advisor.reasoning.judge import UNDECIDED

BOX = "leave it in a breeding box or on a rack of its own, dim, in moving tank water, and look again tomorrow"
NO_PLACE_TONIGHT = f"no place here is safe tonight: {BOX}"
NO_SPOT = f'no spot of this tank is told yet (advisor tank add spot NAME --at "left, back, high"): {BOX}'


def tonight(
    desk: Desk, for_good: Round, subject: Subject, level: int, places: Sequence[PlaceAnswer]
) -> tuple[PlaceAnswer | None, str]:
    """Return the safest place for the first night, or what to do without one.

    Parameters
    ----------
    places
        Places for good, the best first.
    """
    if not for_good.order:
        return None, NO_SPOT if not desk.tank.spots else f"no spot is free: {BOX}"
    found = judged_tonight(desk, for_good)
    unfit = (for_good.spot(item) for _, item in for_good.order if item.word is Word.NO)
    shunned = {spot.id for spot in unfit if not spot.temporary}
    best = next((place.place for place in places if place.word is not Word.NO), "")
    rank, item = _calmest(found, best, shunned)
    reasons = reasons_by_world(
        [item.world], found.table, found.planes, found.sitting, subject.animal.id, level
    )[item.world]
    answer = place_answer(desk, found, rank, item, subject, reasons, level)
    if item.word is Word.NO:
        return None, NO_PLACE_TONIGHT
    return answer, _note_for_tonight(answer)


def _note_for_tonight(answer: PlaceAnswer) -> str:
    """What must be said of a place for a first night: what fails there, or that something is not known."""
    against = [each for each in answer.reasons if speaks_against(each)]
    if against:
        perhaps = "" if against[0].verdict is Verdict.FAILS else "perhaps "
        more = f" (and {len(against) - 1} more)" if len(against) > 1 else ""
        return f"but {perhaps}{against[0].sentence}{more}; look at it in the morning"
    if answer.word is Word.NOT_KNOWN:
        return "nothing known speaks against it; look at it in the morning"
    return ""


def speaks_against(reason: Reason) -> bool:
    """Return whether a danger or a warning fails, or is open and leans to failing."""
    leans_no = reason.verdict is Verdict.UNDECIDED and reason.lean == "no"
    now = reason.until is None and reason.level != Level.ADVICE.value
    return now and (reason.verdict is Verdict.FAILS or leans_no)


def _calmest(found: Round, for_good: str, shunned: Collection[str]) -> tuple[int, Standing]:
    """The best place of a first night: of those that rank alike, the one with least open, then the dimmest.

    The place that is meant for good wins where it is no worse. Nothing hangs
    from a side or an underside of the grid that is not meant to stay there,
    and where an animal could not live it spends no night either, if any other
    place is as safe: nobody would have to move it tomorrow.
    """
    tables = found.sitting.tables
    fit = [pair for pair in found.order if found.spot(pair[1]).id not in shunned]
    safe = [pair for pair in fit if pair[1].word is not Word.NO]
    order_of = safe or found.order
    best = order_of[0][1].key
    alike = [pair for pair in order_of if pair[1].key == best]
    own = {int(world): row for row, world in enumerate(tables.animal_world) if world >= 0}
    rows = np.array([own[item.world] for _, item in alike], np.int64)
    brightest = tables.numbers("light", (tables.animal_place[rows],), None, True).high
    open_here = (found.table.verdict == UNDECIDED) & (found.table.level == 1)

    def order(index: int) -> tuple[bool, int, bool, float]:
        item = alike[index][1]
        spot = found.spot(item)
        still_open = int(np.count_nonzero(open_here & (found.table.world == item.world)))
        stays = spot.id == for_good
        hangs = spot.part is not RockPart.TOP and not stays
        return hangs, still_open, not stays, float(brightest[index])

    return alike[min(range(len(alike)), key=order)]
