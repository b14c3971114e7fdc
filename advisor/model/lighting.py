"""What a tank file says of the bodies that make and stop light: lamps, rocks, walls."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field

from advisor.errors import Span


class _Body(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class LampForm(StrEnum):
    """What a lamp shines from."""

    PANEL = "panel"
    TUBE = "tube"
    POINT = "point"


class Colour(StrEnum):
    """What the light of a lamp is made of, as far as water and meters mind."""

    BLUE = "blue"
    WHITE = "white"
    DAYLIGHT = "daylight"


class WaterLook(StrEnum):
    """How clear the water is to the eye."""

    CLEAR = "clear"
    YELLOWED = "yellowed"
    CLOUDY = "cloudy"


class WallState(StrEnum):
    """What the inside of a wall is like."""

    CLEAN = "clean"
    FILMED = "filmed"
    OVERGROWN = "overgrown"
    PAINTED = "painted"


class RockShape(StrEnum):
    """Bodies a keeper can name for a rock."""

    BLOCK = "block"
    BOULDER = "boulder"
    SHELF = "shelf"
    ARCH = "arch"
    PILLAR = "pillar"
    PLATE = "plate"
    HEAP = "heap"


class Upward(StrEnum):
    """Which axis of a scan points up."""

    X = "x"
    Y = "y"
    Z = "z"
    MINUS_X = "-x"
    MINUS_Y = "-y"
    MINUS_Z = "-z"


@dataclass(frozen=True, slots=True)
class Pin:
    """A point of a rock that is known both in its scan and in the tank."""

    name: str
    scan: tuple[float, float, float]
    """In the unit and axes of the scan."""
    tank_cm: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """A scanned surface as it stands in the tank, packed so that it can be kept and compared."""

    corners_cm: bytes
    """Positions x, y, z, one after another, as 8-byte numbers. [cm]"""
    faces: bytes
    """Three corners each, as 4-byte whole numbers."""
    off_cm: float = 0.0
    """How far the surface may lie from the scan, where it was made of fewer faces. [cm]"""


class LampBody(_Body):
    """Where a lamp hangs and how it shines; what is not told is None or empty."""

    form: LampForm = LampForm.PANEL
    middle_cm: tuple[float, float] | None = None
    """Its middle seen from above, x and y. [cm]"""
    over_water_cm: float | None = None
    """Its lower face above the water. [cm]"""
    length_cm: float = 0.0
    width_cm: float = 0.0
    turned_deg: float = 0.0
    """About the vertical, against the clock seen from above. [degrees]"""
    photons_umol_per_s: float | None = None
    """All it sends from 400 to 700 nm at full output. [µmol/s]"""
    watts: float | None = None
    """What it draws at full output. [W]"""
    beam_deg: float | None = None
    """Full angle between the directions of half intensity. [degrees]"""
    angles: tuple[tuple[float, float], ...] = ()
    """A table of its lobe: angle from straight down [degrees] and intensity in any one unit."""
    output_percent: float = 100.0
    """What it is set to. [%]"""
    colour: Colour | None = None
    spectrum: tuple[tuple[float, float], ...] = ()
    """A table of its colours: wavelength [nm], rising, and radiant power there in any one unit."""
    programme: tuple[tuple[float, float], ...] = ()
    """Hour of the day and share of its output then, straight in between. [h], [%]"""

    @property
    def hangs(self) -> bool:
        """Whether it is told where it hangs, so that its light can be reckoned."""
        return self.middle_cm is not None and self.over_water_cm is not None


class Scanned(_Body):
    """A scan in a file of the tank folder, and how it is turned."""

    mesh: str = ""
    """Name of a file in the tank folder: OBJ, STL, PLY or GLB."""
    turned_deg: float = 0.0
    """About the vertical, against the clock seen from above. [degrees]"""
    up: Upward | None = None
    """Which axis of a scan points up; None where not told."""
    pins: tuple[Pin, ...] = ()
    """Points that fit a scan into the tank, instead of size, middle and foot."""
    span: Span | None = None
    """Where its scan is named."""


class RockBody(Scanned):
    """The body of a rock: one of a few shapes, or a scanned surface."""

    shape: RockShape | None = None
    middle_cm: tuple[float, float] | None = None
    foot_cm: float = 0.0
    """Height of its lowest point over the bare glass. [cm]"""
    size_cm: tuple[float, float, float] | None = None
    """Extent along x, y and z before it is turned; a scan is stretched to it. [cm]"""
    surface: Surface | None = Field(default=None, repr=False, exclude=True)
    """What was found in the file of a scan."""


class Walls(_Body):
    """The inside of the four walls; None where not told."""

    left: WallState | None = None
    right: WallState | None = None
    front: WallState | None = None
    back: WallState | None = None
