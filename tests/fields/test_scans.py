from __future__ import annotations

import numpy as np
import pytest
import trimesh

from advisor.fields.scan_files import ScanKind
from advisor.fields.scans import MOST_KEPT, Scan, ScanError, ScanFault, open_at_foot, read_scan


def written(body: trimesh.Trimesh, kind: ScanKind = ScanKind.STL) -> bytes:
    data = body.export(file_type=kind.value)
    return data if isinstance(data, bytes) else str(data).encode()


def scan_of(body: trimesh.Trimesh, kind: ScanKind = ScanKind.STL) -> Scan:
    return read_scan(written(body, kind), kind)


def block() -> trimesh.Trimesh:
    body: trimesh.Trimesh = trimesh.creation.box((3.0, 2.0, 1.0))
    return body


def without(body: trimesh.Trimesh, left_out: np.ndarray) -> trimesh.Trimesh:
    return trimesh.Trimesh(body.vertices, body.faces[~left_out], process=False)


@pytest.mark.parametrize("kind", ScanKind)
def test_every_kind_of_file_gives_the_same_body(kind: ScanKind) -> None:
    scan = scan_of(block(), kind)
    assert (len(scan.body.faces), len(scan.body.vertices), scan.faces_read) == (12, 8, 12)
    assert scan.body.extents == pytest.approx([3.0, 2.0, 1.0])
    assert scan.body.volume == pytest.approx(6.0)
    assert (scan.holes, scan.filled, scan.turned_percent, scan.off) == (0, 0, 0.0, None)


def test_a_body_that_is_inside_out_is_turned() -> None:
    body = block()
    body.invert()
    scan = scan_of(body)
    assert scan.turned_percent == 100.0
    assert scan.body.volume == pytest.approx(6.0)


def test_some_faces_inside_out_are_turned_as_their_neighbours_are() -> None:
    body = trimesh.creation.icosphere(3, 10.0)
    body.faces[:64] = body.faces[:64, ::-1]
    scan = scan_of(trimesh.Trimesh(body.vertices, body.faces, process=False))
    assert scan.turned_percent == pytest.approx(100.0 * 64 / len(body.faces))
    assert (np.einsum("ij,ij->i", scan.body.face_normals, scan.body.triangles_center) > 0.0).all()


def test_two_pieces_are_turned_each_for_itself() -> None:
    one, other = block(), block()
    other.apply_translation([10.0, 0.0, 0.0])
    other.invert()
    both = trimesh.util.concatenate([one, other])
    assert isinstance(both, trimesh.Trimesh)
    scan = scan_of(both)
    assert scan.turned_percent == 50.0
    assert scan.body.volume == pytest.approx(12.0)


def test_a_hole_of_one_face_is_closed() -> None:
    body = trimesh.creation.icosphere(2, 10.0)
    missing = np.arange(len(body.faces)) == 7
    scan = scan_of(without(body, missing))
    assert (scan.filled, scan.holes) == (1, 0)
    assert scan.body.volume == pytest.approx(body.volume)


def test_a_wide_hole_is_counted_and_measured_and_the_rest_still_looks_outward() -> None:
    body = trimesh.creation.icosphere(4, 10.0)
    open_top = body.triangles_center[:, 2] > 8.0
    scan = scan_of(without(body, open_top))
    assert (scan.holes, scan.filled) == (1, 0)
    assert scan.widest_hole == pytest.approx(np.sqrt(2.0) * 12.0, rel=0.1)  # a circle at 8 of 10
    assert not open_at_foot(scan.body)
    assert (np.einsum("ij,ij->i", scan.body.face_normals, scan.body.triangles_center) > 0.0).all()


def test_a_rock_scanned_from_above_only_is_open_at_its_foot() -> None:
    body = trimesh.creation.icosphere(4, 10.0)
    below = body.triangles_center[:, 2] < 0.0
    for turned in (False, True):
        dome = without(body, below)
        if turned:
            dome.invert()
        scan = scan_of(dome)
        assert scan.holes == 1
        assert scan.turned_percent == (100.0 if turned else 0.0)
        assert open_at_foot(scan.body)
        scan.body.vertices[:, 2] *= -1.0
        assert not open_at_foot(scan.body)


def test_a_body_without_holes_is_open_nowhere() -> None:
    assert not open_at_foot(scan_of(block()).body)


def test_a_fine_scan_is_thinned_and_says_by_how_much() -> None:
    body = trimesh.creation.icosphere(6, 10.0)
    assert len(body.faces) > 4 * MOST_KEPT - 1
    scan = scan_of(body)
    assert scan.faces_read == len(body.faces)
    assert len(scan.body.faces) <= MOST_KEPT
    assert scan.off is not None
    assert 0.0 < scan.off < 0.05
    assert scan.body.volume == pytest.approx(4.0 / 3.0 * np.pi * 1000.0, rel=2e-3)


@pytest.mark.parametrize("kind", ScanKind)
@pytest.mark.parametrize("data", [b"hello, reef", b"\x00" * 200, b"solid x\n"])
def test_a_file_that_is_no_mesh_says_so(kind: ScanKind, data: bytes) -> None:
    with pytest.raises(ScanError) as met:
        read_scan(data, kind)
    assert met.value.fault is ScanFault.NO_MESH
    assert kind.value.upper() in str(met.value)


@pytest.mark.parametrize(
    ("written_as", "named", "fault", "words"),
    [
        (ScanKind.STL, ScanKind.OBJ, ScanFault.OTHER_KIND, "it is STL, not OBJ"),
        (ScanKind.OBJ, ScanKind.STL, ScanFault.OTHER_KIND, "it is OBJ, not STL"),
        (ScanKind.PLY, ScanKind.GLB, ScanFault.OTHER_KIND, "it is PLY, not GLB"),
        (ScanKind.GLB, ScanKind.PLY, ScanFault.OTHER_KIND, "it is GLB, not PLY"),
        (ScanKind.STL, ScanKind.STL, ScanFault.CUT_OFF, "it breaks off, 639 of 1280 faces are there"),
        (ScanKind.PLY, ScanKind.PLY, ScanFault.CUT_OFF, "it begins as PLY and cannot be read to its end"),
        (ScanKind.GLB, ScanKind.GLB, ScanFault.CUT_OFF, "it breaks off, "),
    ],
)
def test_a_file_of_another_kind_or_cut_off_is_told_as_what_it_is(
    written_as: ScanKind, named: ScanKind, fault: ScanFault, words: str
) -> None:
    data = written(trimesh.creation.icosphere(3, 10.0), written_as)
    with pytest.raises(ScanError, match=words) as met:
        read_scan(data if fault is ScanFault.OTHER_KIND else data[: len(data) // 2], named)
    assert met.value.fault is fault


@pytest.mark.parametrize(
    ("text", "fault", "words"),
    [
        ("", ScanFault.EMPTY, "there is nothing in it"),
        ("v 0 0 0\nv 1 0 0\nv 0 1 0\n", ScanFault.EMPTY, "3 points and no face"),
        ("v 0 0 0\nv 1 0 0\nv 0 1 0\nv 1 1 0\nf 1 2 3\nf 2 3 4\n", ScanFault.EMPTY, "have an area"),
        ("v 0 0 nan\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", ScanFault.NOT_FINITE, "1 of 3"),
        ("v 0 0 inf\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", ScanFault.NOT_FINITE, "1 of 3"),
        ("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", ScanFault.CUT_OFF, "begins as OBJ"),
    ],
)  # fmt: skip
def test_a_mesh_of_which_no_body_can_be_made_says_why(text: str, fault: ScanFault, words: str) -> None:
    with pytest.raises(ScanError) as met:
        read_scan(text.encode(), ScanKind.OBJ)
    assert met.value.fault is fault
    assert words in str(met.value)


def test_a_sheet_of_no_thickness_is_refused() -> None:
    x, y = np.meshgrid(np.arange(4.0), np.arange(4.0))
    corners = np.column_stack([x.ravel(), y.ravel(), np.zeros(16)])
    faces = [(a, a + 1, a + 5) for a in (0, 1, 2, 4, 5, 6)]
    with pytest.raises(ScanError, match="flat as a sheet"):
        scan_of(trimesh.Trimesh(corners, faces, process=False), ScanKind.PLY)


def test_a_scene_that_repeats_one_part_too_often_is_not_worked_on(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = trimesh.Scene()
    for at in range(5):
        place = np.eye(4)
        place[0, 3] = at * 5.0
        scene.add_geometry(block(), geom_name="same", transform=place)
    data = scene.export(file_type="glb")  # type: ignore[no-untyped-call]  # untyped there
    assert isinstance(data, bytes)
    assert read_scan(data, ScanKind.GLB).faces_read == 60
    monkeypatch.setattr("advisor.fields.scans.MOST_READ", 59)
    with pytest.raises(ScanError, match="60 faces"):
        read_scan(data, ScanKind.GLB)
