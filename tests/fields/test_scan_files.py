"""What the bytes of a scan are, told by the heads that the open formats prescribe."""

from __future__ import annotations

import pytest
import trimesh

from advisor.fields.scan_files import MOST_READ, ScanKind, breaks_off, kind_of

BALL = trimesh.creation.icosphere(3, 10.0)


def written(kind: str) -> bytes:
    data = BALL.export(file_type=kind)
    return data if isinstance(data, bytes) else str(data).encode()


@pytest.mark.parametrize("kind", ScanKind)
def test_a_file_is_known_by_what_is_in_it(kind: ScanKind) -> None:
    assert kind_of(written(kind.value)) is kind
    assert breaks_off(written(kind.value), kind) == ""


def test_an_stl_in_letters_is_one_too() -> None:
    assert kind_of(written("stl_ascii")) is ScanKind.STL
    assert breaks_off(written("stl_ascii"), ScanKind.STL) == ""


@pytest.mark.parametrize(
    "data", [b"", b"my shopping list\n" * 9, bytes(range(256)) * 9, b"play it again", b"v 1 2"]
)
def test_anything_else_is_none(data: bytes) -> None:
    assert kind_of(data) is None
    assert [breaks_off(data, kind) for kind in ScanKind] == [""] * 4


def test_a_binary_file_says_how_much_of_it_is_missing() -> None:
    assert breaks_off(written("stl")[: 84 + 50 * 400 + 9], ScanKind.STL) == "400 of 1280 faces"
    assert breaks_off(written("stl")[:82], ScanKind.STL) == ""
    whole = written("glb")
    assert breaks_off(whole[:5000], ScanKind.GLB) == f"5000 of {len(whole)} bytes"


def test_more_faces_than_are_read_are_no_count_to_trust() -> None:
    head = bytes(80) + (MOST_READ + 1).to_bytes(4, "little")
    assert breaks_off(head, ScanKind.STL) == ""
