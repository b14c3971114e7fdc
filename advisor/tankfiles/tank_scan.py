"""A tank told by a scan of its inside: its file read, set to the sizes told, and cut into outlines."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from advisor.errors import Severity, Span
from advisor.fields.scan_files import ScanKind
from advisor.fields.scan_place import CM_PER_UNIT, Standing, likely_unit, set_down, upright
from advisor.fields.scan_room import RoomError, RoomFault, cuts
from advisor.fields.scans import Scan
from advisor.model.lighting import Scanned, Upward, Walls
from advisor.model.tank import Glass, Section
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.scans import STRETCH, ScanFile, sides_text
from advisor.tankfiles.standing import OUT_CM
from advisor.units import format_number

_AXES = {"length": 0, "width": 1, "height": 2}
_MENDS = {
    RoomFault.OPEN: ("scan-216", "close it in a mesh editor; or say which axis points up: up: y"),
    RoomFault.NOT_LEVEL: ("scan-223", "say which axis points up: up: y; tell shelves and slopes as rocks"),
    RoomFault.NOT_ONE: ("scan-224", "save the inside alone, one surface around the water"),
}


def scanned_glass(
    told: Scanned, sizes: Mapping[str, float], walls: Walls, folder: Path, ledger: Ledger
) -> Glass | None:
    """Return the tank in a scan, None where something about it is faulty, which is noted.

    Parameters
    ----------
    sizes
        Inside measures told beside the scan, by the field of the glass, none or more. [cm]
    folder
        Where the file of the scan lies.
    """
    assert told.span is not None  # it has a file, and that has a place
    return _TankScan(told, told.span, sizes, ledger).read(folder, walls)


class _TankScan:
    """One scan on its way to be the tank."""

    def __init__(self, told: Scanned, span: Span, sizes: Mapping[str, float], ledger: Ledger) -> None:
        self._told, self._file = told, ScanFile(told.mesh, span, ledger)
        self._sides = {name: sizes[f"{name}_cm"] for name in _AXES if f"{name}_cm" in sizes}
        self._water = sizes.get("water_cm")

    def read(self, folder: Path, walls: Walls) -> Glass | None:
        """Return the tank."""
        found = self._file.read(folder)
        if found is None:
            return None
        scan, kind = found
        standing = self._fitted(scan) if self._told.pins else self._set_up(scan, kind)
        if standing is None or not self._agrees(standing):
            return None
        standing = self._as_told(standing)
        length, width, height = (float(each) for each in standing.body.bounds[1])
        try:
            sections = cuts(standing.body, self._water)
        except RoomError as fault:
            code, mend = _MENDS[fault.fault]
            self._file.note(code, f"{self._told.mesh} is no inside of a tank: {fault}", mend=mend)
            return None
        self._file.tell_mends(scan, standing, of_tank=True)
        return Glass(
            length_cm=length,
            width_cm=width,
            height_cm=height,
            water_cm=self._water,
            walls=walls,
            outline_cm=sections[0][1],
            sections=tuple(Section(height_cm=at, outline_cm=outline) for at, outline in sections),
        )

    def _fitted(self, scan: Scan) -> Standing | None:
        """The scan fitted by its points, its floor brought to height 0."""
        standing = self._file.fitted("the tank", scan, self._told.pins)
        if standing is None:
            return None
        low = [float(each) for each in standing.body.bounds[0]]
        if min(low[:2]) < -OUT_CM or abs(low[2]) > OUT_CM:
            x, y, z = (format_number(round(each, 1)) for each in low)
            what = f"by its points the tank begins at {x}, {y}, {z} cm, not at 0, 0, 0 cm"
            self._file.note("scan-219", what, mend="measure from the inside front left bottom corner")
            return None
        standing.body.apply_translation((0.0, 0.0, -low[2]))
        return standing

    def _set_up(self, scan: Scan, kind: ScanKind) -> Standing | None:
        """The scan turned, and scaled alike in all directions by the longest side that is told."""
        up = self._told.up or (Upward.Y if kind is ScanKind.GLB else Upward.Z)
        body = upright(scan.body, up)
        own = [float(each) for each in body.extents]
        turned = set_down(body, own, (0.0, 0.0), 0.0, self._told.turned_deg).body
        extent = [float(each) for each in turned.extents]
        if self._sides:
            longest = max(self._sides, key=lambda name: extent[_AXES[name]])
            scale = self._sides[longest] / extent[_AXES[longest]]
        else:
            known = self._by_unit(extent, kind)
            if known is None:
                return None
            scale = known
        length, width, height = (each * scale for each in extent)
        return set_down(turned, (length, width, height), (length / 2.0, width / 2.0), 0.0, 0.0)

    def _by_unit(self, extent: list[float], kind: ScanKind) -> float | None:
        """Centimetres in the unit of a scan of which no side is told; None, noted, where not clear."""
        own = "metres" if kind is ScanKind.GLB else "centimetres"
        likely = likely_unit(extent, None)
        as_it_is = [each * CM_PER_UNIT[own] for each in extent]
        if likely == own:
            what = f"no side of the tank is told, so its scan is taken to be in {own}: {sides_text(as_it_is)}"
            self._file.note("scan-220", what, mend=f"length: {_cm(as_it_is[0])}", severity=Severity.NOTE)
            return CM_PER_UNIT[own]
        looks = f"; it looks to be in {likely}" if likely else ""
        what = f"in {own} the tank in {self._told.mesh} would be {sides_text(as_it_is)}{looks}"
        far = extent[0] * CM_PER_UNIT[likely or own]
        self._file.note("scan-215", what, mend=f"tell how long it is inside, such as length: {_cm(far)}")
        return None

    def _agrees(self, standing: Standing) -> bool:
        """Whether the sides of the scan are those that are told; noted where they are not."""
        high = standing.body.bounds[1]
        for name, told in self._sides.items():
            found = float(high[_AXES[name]])
            if not 1.0 / STRETCH <= found / told <= STRETCH:
                how = "bigger" if found > told else "smaller"
                by = "by its points" if self._told.pins else "with the longest side told"
                what = f"the {name} is told as {_cm(told)}, and the scan is {how}: {by} it is {_cm(found)}"
                self._file.note("scan-214", what, mend=f"{name}: {_cm(found)}; or say which axis points up")
                return False
        return True

    def _as_told(self, standing: Standing) -> Standing:
        """The scan stretched by next to nothing, so that every side is as told."""
        found = {name: float(standing.body.bounds[1][axis]) for name, axis in _AXES.items()}
        by = [self._sides.get(name, side) / side for name, side in found.items()]
        standing.body.apply_scale(by)  # type: ignore[no-untyped-call]  # untyped there
        return standing


def _cm(value: float) -> str:
    return f"{format_number(round(value, 1))} cm"
