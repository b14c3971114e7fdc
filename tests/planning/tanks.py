"""Small tank folders written on the spot. Invented, every one."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor import api
from advisor.api import Session

ON = date(2026, 11, 2)

WATER = """name: a small tank
invented: yes
started: 2023-01-01
glass: 150 x 60 x 50 cm
flow: {direction: left to right, pattern: random}
pump guards: yes
carbon: yes
photoperiod: 9 hours
sand: fine
water:
  - {on: 2026-11-01, temperature: 25.4 °C, salinity: 35 ppt, alkalinity: 8.4 dKH, calcium: 425 mg/L,
     magnesium: 1330 mg/L, nitrate: 8 mg/L, phosphate: 0.06 mg/L, ammonia: 0 mg/L}
"""

GOOD = (
    "light: {value: 115 PAR, error: 6 PAR, on: 2026-10-28, by: instrument}, "
    "flow: {value: 10 cm/s, error: 1 cm/s, on: 2026-10-28}, ground: rock, faces: up, shelter: open, "
    "ledge: no, in jet: no, hand reach: easy, headroom: 40 cm"
)
"""A spot that suits most large-polyp corals."""

STANDING = "size: 10 cm, placed: 2025-05-10, doing: well since 2025-07-01, fixing: glued"
WAITING = "size: 6 cm, comes from: 110 PAR"


def spot(name: str, more: str = "", what: str = GOOD) -> str:
    """Return the line of a spot."""
    return f"  - {{id: {name}, {what}{', ' if more else ''}{more}}}\n"


def coral(name: str, card: str, more: str = "") -> str:
    """Return the line of a coral."""
    return f"  - {{id: {name}, is: {card}{', ' if more else ''}{more}}}\n"


TORCH = coral("torch-1", "torch", WAITING)


def two_spots(gap: str) -> str:
    """Return a free spot beside one that is taken."""
    return spot("here", gap) + spot("there")


def opened(
    folder: Path,
    *,
    spots: str = "",
    corals: str = "",
    water: str = WATER,
    house: str = "",
    months: int | None = None,
    rules: Path | None = None,
) -> Session:
    """Return a tank of these lines, opened; a mistake in them fails the test."""
    text = water + (f"spots:\n{spots}" if spots else "") + (f"corals:\n{corals}" if corals else "")
    (folder / "tank.yaml").write_text(text, encoding="utf-8")
    if house:
        (folder / "house.rules").write_text("edition 1\n" + house, encoding="utf-8")
    return api.open_tank(folder, on=ON, horizon_months=months, rules=rules)
