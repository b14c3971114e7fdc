"""What kind of file the bytes of a scan are, whatever its name says, and whether they break off."""

from __future__ import annotations

import re
from enum import StrEnum

MOST_READ = 2_000_000
"""A file with more faces than that is not worked on."""
_STL_HEAD, _STL_FACE = 84, 50
"""Bytes before the first face of a binary STL, and of each face."""
_LOOKED_AT = 4096
_CORNER = re.compile(rb"^v(?:\s+[-+.\deE]+){3}", re.MULTILINE)


class ScanKind(StrEnum):
    """Kinds of files a scan may be in."""

    OBJ = "obj"
    STL = "stl"
    PLY = "ply"
    GLB = "glb"


def kind_of(data: bytes) -> ScanKind | None:
    """Return what the bytes of a file are by their first part, None where they are nothing known.

    Examples
    --------
    >>> kind_of(b"ply\\nformat ascii 1.0\\n")
    <ScanKind.PLY: 'ply'>

    References
    ----------
    glTF 2.0 (ISO/IEC 12113:2022), 4.4: the first four bytes of a GLB are ``glTF``, the third word its
    length. G. Turk, The PLY Polygon File Format, 1994: a file begins with ``ply``.
    """
    begin = data[:_LOOKED_AT].lstrip()
    if begin.startswith(b"glTF"):
        return ScanKind.GLB
    if re.match(rb"ply\s", begin):
        return ScanKind.PLY
    if len(data) == _STL_HEAD + _STL_FACE * _stl_faces(data) or (
        begin.startswith(b"solid") and b"facet" in begin
    ):
        return ScanKind.STL
    return ScanKind.OBJ if _CORNER.search(begin) else None


def _stl_faces(data: bytes) -> int:
    """How many faces the bytes announce, were they a binary STL."""
    return int.from_bytes(data[80:84], "little") if len(data) >= _STL_HEAD else -1


def breaks_off(data: bytes, kind: ScanKind) -> str:
    """Return how much of a binary file is there where it is cut off, else an empty text.

    Examples
    --------
    >>> breaks_off(bytes(80) + (12).to_bytes(4, "little") + bytes(3 * 50 + 7), ScanKind.STL)
    '3 of 12 faces'
    """
    if kind is ScanKind.STL and b"\0" in data[:_STL_HEAD]:
        announced, there = _stl_faces(data), (len(data) - _STL_HEAD) // _STL_FACE
        return f"{there} of {announced} faces" if there < announced <= MOST_READ else ""
    if kind is ScanKind.GLB and data.startswith(b"glTF") and len(data) >= 12:
        announced = int.from_bytes(data[8:12], "little")
        return "" if len(data) >= announced else f"{len(data)} of {announced} bytes"
    return ""
