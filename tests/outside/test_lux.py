"""What the refusal of lux says, against published factors.

Apogee Instruments, Conversion - PPFD to Lux: 54 lux for each µmol/m²/s of
sunlight, 74 under cool white tubes, 71 under metal halide. Computed with
colour-science 0.4.7 from CIE spectra and the CIE 1931 observer: D65 55.5, FL2
76.5, LED-B4 71.7, and narrow blue light 7.3 at 450 nm and 1.0 at 420 nm.
"""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from advisor.api import open_tank
from advisor.errors import UnusableInput

WHITE = (54.0, 55.5, 71.0, 71.7, 74.0, 76.5)
BLUE = (7.35, 0.974)


def test_the_refusal_of_lux_tells_the_published_range(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text("spots:\n  - {id: ledge, light: 8000 lux}\n", encoding="utf-8")
    with pytest.raises(UnusableInput) as refused:
        open_tank(tmp_path, on=date(2026, 11, 2))
    (told,) = [problem for problem in refused.value.problems if problem.code == "value-139"]
    white = re.search(r"white light (\d+) to (\d+)", told.label)
    blue = re.search(r"blue light (\d+) to (\d+)", told.label)
    assert white is not None
    assert blue is not None
    assert (round(min(WHITE)), int(max(WHITE))) == (int(white[1]), int(white[2]))
    assert (round(min(BLUE)), round(max(BLUE))) == (int(blue[1]), int(blue[2]))
