"""Scanned rocks of a tank folder: their files read, judged against the tank, and set into it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path, PurePath

from advisor.errors import QuantityError, Severity, Span
from advisor.fields.scan_files import MOST_READ, ScanKind
from advisor.fields.scan_place import (
    CM_PER_UNIT,
    Standing,
    beyond_glass_cm,
    likely_unit,
    packed,
    pinned,
    set_down,
    upright,
)
from advisor.fields.scans import Scan, ScanError, ScanFault, open_at_foot, read_scan
from advisor.model.lighting import Pin, RockBody, Upward
from advisor.model.tank import Glass, Rock
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.sources import MAX_SCAN_BYTES, read_bytes
from advisor.tankfiles.standing import OUT_CM
from advisor.units import format_number

STRETCH = 1.1
"""A size whose proportions differ from those of the scan by more than this is told."""
PINS_AGREE_CM = 1.0
"""Points that agree better than this are measured as well as a hand can."""

_FAULTS = {
    ScanFault.NO_MESH: ("scan-211", "save it as OBJ, STL, PLY or GLB"),
    ScanFault.CUT_OFF: ("scan-211", "copy the whole file here again, or save it again"),
    ScanFault.OTHER_KIND: ("scan-211", "name the file by what it is, here and in the folder"),
    ScanFault.EMPTY: ("scan-212", "save the scan as a surface of triangles"),
    ScanFault.NOT_FINITE: ("scan-213", "export the scan again, or repair it in a mesh editor"),
    ScanFault.TOO_MANY: ("scan-222", f"save it with fewer than {MOST_READ // 1_000_000} million faces"),
}


def with_scans(rocks: Sequence[Rock], glass: Glass | None, folder: Path, ledger: Ledger) -> tuple[Rock, ...]:
    """Return the rocks, each that has a scan with its surface in the tank; faults are noted.

    Parameters
    ----------
    glass
        Inside measures; without them nothing can be bigger than the tank.
    folder
        Where the files of scans lie.
    """
    return tuple(_with_scan(rock, glass, folder, ledger) for rock in rocks)


def _with_scan(rock: Rock, glass: Glass | None, folder: Path, ledger: Ledger) -> Rock:
    """One rock, its scan read where it has one."""
    body = rock.body
    if body is None or not body.mesh or body.span is None:
        return rock
    found = _Scanning(rock.id, body, body.span, glass, ledger).read(folder)
    return rock if found is None else rock.model_copy(update={"body": found})


class ScanFile:
    """A file of a tank folder that holds a scan, and what is said of it."""

    def __init__(self, name: str, span: Span, ledger: Ledger) -> None:
        self.name, self._span, self._ledger = name, span, ledger

    def note(self, code: str, what: str, *, mend: str = "", severity: Severity = Severity.ERROR) -> None:
        """Note something about the scan where it is named."""
        self._ledger.note(code, what, self._span, mend=mend, severity=severity)

    def read(self, folder: Path) -> tuple[Scan, ScanKind] | None:
        """Return the scan and the kind of its file; None, with the reason noted, where there is none."""
        kind = self._kind()
        if kind is None:
            return None
        data = read_bytes(folder, self.name, self._ledger, MAX_SCAN_BYTES, self._span)
        if data is None:
            return None
        try:
            return read_scan(data, kind), kind
        except ScanError as fault:
            code, mend = _FAULTS[fault.fault]
            self.note(code, f"{self.name}: {fault}", mend=mend)
            return None

    def _kind(self) -> ScanKind | None:
        """What kind of file its name says it is."""
        ending = PurePath(self.name).suffix.lower().lstrip(".")
        try:
            return ScanKind(ending)
        except ValueError:
            what = f"I cannot tell from its name what kind of scan '{self.name}' is"
            self.note("scan-211", what, mend="save it as OBJ, STL, PLY or GLB")
            return None

    def fitted(self, of: str, scan: Scan, pins: Sequence[Pin]) -> Standing | None:
        """Return the scan of a thing fitted by its points; how well they agree is noted."""
        try:
            standing = pinned(scan.body, pins)
        except QuantityError as fault:
            what = f"the points of {of} do not fit it: {fault}"
            self.note("scan-219", what, mend="give three points far apart, such as the top and two ends")
            return None
        fine = standing.residual_cm <= PINS_AGREE_CM
        off = format_number(round(standing.residual_cm, 1))
        what = f"{of} is fitted by {len(pins)} points, which agree to {off} cm"
        mend = "" if fine else "measure the points again, in the scan and in the tank"
        self.note("scan-219", what, mend=mend, severity=Severity.NOTE if fine else Severity.WARNING)
        return standing

    def tell_mends(self, scan: Scan, standing: Standing, *, of_tank: bool = False) -> None:
        """Say what was done to the surface; that of a tank may be open at the top."""
        if scan.turned_percent > 0.0:
            share = format_number(max(round(scan.turned_percent), 1))
            what = f"{share} % of the faces of {self.name} were inside out; I have turned them"
            self.note(
                "scan-217",
                what,
                mend="turn them outward in a mesh editor and save it",
                severity=Severity.WARNING,
            )
        if scan.filled and of_tank:
            what = f"{self.name} had holes of few edges ({scan.filled}), perhaps its top; I have closed them"
            mend = "where it is not its top, scan that side again"
            self.note("scan-216", what, mend=mend, severity=Severity.NOTE)
        elif scan.filled:
            what = f"{self.name} had small holes ({scan.filled}); I have closed them"
            mend = "close them in a mesh editor and save it"
            self.note("scan-216", what, mend=mend, severity=Severity.WARNING)
        if scan.off is not None:
            kept, off = len(standing.body.faces), math.ceil(scan.off * standing.cm_per_unit * 100.0) / 100.0
            fewer = f"I reckon with {kept}, at most {format_number(off)} cm off"
            what = f"{self.name} has {scan.faces_read} faces; {fewer}"
            self.note("scan-218", what, severity=Severity.NOTE)


class _Scanning:
    """One scan on its way into the tank."""

    def __init__(self, rock: str, body: RockBody, span: Span, glass: Glass | None, ledger: Ledger) -> None:
        self._rock, self._body, self._file = rock, body, ScanFile(body.mesh, span, ledger)
        self._room = None if glass is None else (glass.length_cm, glass.width_cm, glass.height_cm)

    def read(self, folder: Path) -> RockBody | None:
        """Return the body with its surface, None where there is none."""
        found = self._file.read(folder)
        if found is None:
            return None
        scan, kind = found
        standing = self._pinned(scan) if self._body.pins else self._set_down(scan, kind)
        if standing is None or not self._in_the_glass(standing):
            return None
        self._file.tell_mends(scan, standing)
        self._tell_holes(scan, standing)
        return self._body.model_copy(update={"surface": packed(standing, scan.off or 0.0)})

    def _pinned(self, scan: Scan) -> Standing | None:
        """The scan fitted by its points."""
        if self._body.size_cm is not None or self._body.middle_cm is not None:
            what = f"{self._rock} is fitted by its points, so its size and place follow from them"
            self._file.note("scan-219", what, mend="take out size and at, or points")
            return None
        return self._file.fitted(self._rock, scan, self._body.pins)

    def _set_down(self, scan: Scan, kind: ScanKind) -> Standing | None:
        """The scan set down by its size and place."""
        up = self._body.up or (Upward.Y if kind is ScanKind.GLB else Upward.Z)
        body = upright(scan.body, up)
        extent = [float(each) for each in body.extents]
        size = self._body.size_cm or self._by_unit(extent, kind)
        if size is None or self._body.middle_cm is None:
            return None
        standing = set_down(body, size, self._body.middle_cm, self._body.foot_cm, self._body.turned_deg)
        if standing.stretched > STRETCH:
            longest = max(range(3), key=lambda axis: extent[axis])
            even = [size[longest] * each / extent[longest] for each in extent]
            times = format_number(round(standing.stretched, 1))
            what = f"this size stretches {self._rock} {times} times as much one way as another"
            self._file.note("scan-221", what, mend=f"size: {sides_text(even)}", severity=Severity.WARNING)
        return standing

    def _by_unit(self, extent: Sequence[float], kind: ScanKind) -> tuple[float, float, float] | None:
        """The size of a scan of which none is told, by the unit it is likely in."""
        unit = likely_unit(extent, self._room)
        own = "metres" if kind is ScanKind.GLB else "centimetres"
        if not unit:
            self._note_no_unit(extent, own)
            return None
        x, y, z = (each * CM_PER_UNIT[unit] for each in extent)
        if unit == own:
            taken = f"its scan is taken to be in {unit}: {sides_text((x, y, z))}"
            what = f"no size is told of {self._rock}, so {taken}"
            self._file.note("scan-220", what, mend=f"size: {sides_text((x, y, z))}", severity=Severity.NOTE)
            return (x, y, z)
        as_it_is = sides_text([each * CM_PER_UNIT[own] for each in extent])
        what = f"the scan of {self._rock} looks to be in {unit}: in {own} it would be {as_it_is}"
        self._file.note("scan-215", what, mend=f"size: {sides_text((x, y, z))}")
        return None

    def _note_no_unit(self, extent: Sequence[float], own: str) -> None:
        """Say that a scan is a rock for this tank in no unit."""
        as_it_is = [each * CM_PER_UNIT[own] for each in extent]
        large = self._room is not None and max(as_it_is) > max(self._room)
        code, how = ("scan-214", "bigger than the tank") if large else ("scan-215", "too small for a rock")
        what = f"the scan of {self._rock} is {sides_text(as_it_is)} in {own}, {how}, and no other unit fits"
        self._file.note(code, what, mend="tell its size: size: 40 x 30 x 25 cm")

    def _in_the_glass(self, standing: Standing) -> bool:
        """Whether a body stands within the glass; noted where it does not."""
        over = {} if self._room is None else beyond_glass_cm(standing.body, self._room)
        out = {side: far for side, far in over.items() if far > OUT_CM}
        if not out or self._room is None:
            return True
        extent = [float(each) for each in standing.body.extents]
        if any(side > room + OUT_CM for side, room in zip(extent, self._room, strict=True)):
            what = f"{self._rock} is {sides_text(extent)} as it stands, bigger than the tank"
            mend = f"the glass holds {sides_text(self._room)}; correct size, or turned"
            self._file.note("scan-214", what, mend=mend)
        else:
            far = ", ".join(f"{format_number(round(cm, 1))} cm at the {side}" for side, cm in out.items())
            what = f"{self._rock} reaches out of the glass: {far}"
            self._file.note("scan-214", what, mend="correct at, foot or turned")
        return False

    def _tell_holes(self, scan: Scan, standing: Standing) -> None:
        """Say which holes are left in the surface."""
        if scan.holes and open_at_foot(standing.body):
            what = f"{self._body.mesh} is open at its foot, which changes no answer"
            self._file.note("scan-216", what, severity=Severity.NOTE)
        elif scan.holes:
            wide = format_number(round(scan.widest_hole * standing.cm_per_unit, 1))
            many = "a hole" if scan.holes == 1 else f"{scan.holes} holes"
            what = f"{self._body.mesh} has {many}, up to {wide} cm across; light passes there"
            self._file.note(
                "scan-216",
                what,
                mend="scan that side again, or close it in a mesh editor",
                severity=Severity.WARNING,
            )


def sides_text(sides: Sequence[float]) -> str:
    """Return sides as a keeper writes them. [cm]"""
    return f"{' x '.join(format_number(round(each, 1)) for each in sides)} cm"
