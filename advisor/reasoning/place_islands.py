"""Which rocks of a tank touch, and the floor between them, by their shapes and scans; once for a tank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from advisor.model.tank import Rock
from advisor.reasoning.place_numbers import PlaceNumbers

Pair = frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class Islands:
    """Every two rocks with a body: whether they touch, and how wide the floor is between them."""

    touching: Mapping[Pair, bool | None]
    """None where they are so near that the shapes do not tell."""
    moats_cm: Mapping[Pair, float]

    def neighbours(self, rock: str) -> dict[str, bool | None]:
        """Return whether a rock touches each of the others."""
        return {next(iter(pair - {rock})): met for pair, met in self.touching.items() if rock in pair}

    def island(self, rock: str) -> frozenset[str]:
        """Return the rocks that hang together with one, itself among them; those that may touch, too."""
        found, ahead = {rock}, [rock]
        while ahead:
            near = [other for other, met in self.neighbours(ahead.pop()).items() if met is not False]
            ahead += [other for other in near if other not in found]
            found |= {*near}
        return frozenset(found)

    def moat_cm(self, rock: str) -> float | None:
        """Return how wide the floor around the island of a rock is, None where nothing lies beyond it."""
        own = self.island(rock)
        across = [wide for pair, wide in self.moats_cm.items() if len(pair & own) == 1]
        return min(across, default=None)


def islands_of(rocks: Sequence[Rock], numbers: PlaceNumbers) -> Islands | None:
    """Return what is known of the rocks that have a body, None where fewer than two have one."""
    told = tuple(rock for rock in rocks if rock.body is not None)
    return _islands(told, numbers) if len(told) > 1 else None


@lru_cache(maxsize=4)
def _islands(rocks: tuple[Rock, ...], numbers: PlaceNumbers) -> Islands:
    """How some rocks lie to each other."""
    from advisor.fields.islands import moats_cm, near_cm  # brings a mesh library, which most tanks never need
    from advisor.fields.rock_bodies import body_of

    bodies = {rock.id: body for rock in rocks if (body := body_of(rock.body)) is not None}
    near = near_cm(bodies, numbers.apart_cm)
    met = {
        frozenset(pair): (True if near[pair] <= numbers.touch_cm else None) if pair in near else False
        for pair in combinations(bodies, 2)
    }
    return Islands(met, {frozenset(pair): wide for pair, wide in moats_cm(bodies).items()})
