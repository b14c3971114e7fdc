"""A pasted list of corals."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.changes import add_coral
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.pasted import PastedCoral, parse_coral_line, parse_coral_list
from tests.tankfiles.conftest import Folder


@pytest.mark.parametrize(
    ("line", "coral"),
    [
        ("torch, 8 cm, 110 PAR", PastedCoral("torch", "8 cm", "110 PAR")),
        ("torch 8 cm", PastedCoral("torch", "8 cm")),
        ("torch 8cm 110 PAR", PastedCoral("torch", "8cm", "110 PAR")),
        ("* a torch 3-4 cm, 110 PAR", PastedCoral("torch", "3-4 cm", "110 PAR")),
        ("the elegance", PastedCoral("elegance")),
        ("2x torch 8 cm", PastedCoral("torch", "8 cm", copies=2)),
        ("torch; 110 PAR; 8 cm", PastedCoral("torch", "8 cm", "110 PAR")),
        ("torch\t8cm", PastedCoral("torch", "8cm")),
        ("- torch", PastedCoral("torch")),
        ("3. candy cane, 3-4 cm", PastedCoral("candy cane", "3-4 cm")),
        ("2x zoanthid", PastedCoral("zoanthid", copies=2)),
        ("zoanthid x 3, 2 in", PastedCoral("zoanthid", "2 in", copies=3)),
        ("torch, medium light, low flow", PastedCoral("torch", light_word="medium", flow_word="low")),
        ("torch, ?, unknown", PastedCoral("torch")),
        ("torch, green, 8 cm", PastedCoral("torch", "8 cm", note="green")),
        ("torch, 8 cm, medium", PastedCoral("torch", "8 cm", light_word="medium")),
        ("Duncan; 5 cm; medium", PastedCoral("Duncan", "5 cm", light_word="medium")),
        ("zoas (5 cm) medium", PastedCoral("zoas", "5 cm", light_word="medium")),
        ("torch, green, very high", PastedCoral("torch", light_word="very high", note="green")),
        ("torch, medium", PastedCoral("torch", note="medium")),
        ("torch, 8 cm, medium, low", PastedCoral("torch", "8 cm", light_word="medium", note="low")),
        (
            "torch, 5 cm, shop says medium light medium flow",
            PastedCoral("torch", "5 cm", light_word="medium", flow_word="medium"),
        ),
        ("frogspawn: 3 heads", PastedCoral("frogspawn", note="3 heads")),
        ("bounce mushroom, 1 1/2 inch", PastedCoral("bounce mushroom", "1.5 inch")),
        ("GSP 8,5 cm", PastedCoral("GSP", "8.5 cm", remarks=("'8,5' is read as 8.5",))),
        (
            "torch,8 cm,~110 PAR",
            PastedCoral("torch", "8 cm", "110 PAR", remarks=("'~110' is read as 110, with its usual error",)),
        ),
        ("Fimbriaphyllia ancora, 100-120 PAR", PastedCoral("Fimbriaphyllia ancora", "", "100-120 PAR")),
    ],
)
def test_one_line(line: str, coral: PastedCoral) -> None:
    assert parse_coral_line(line) == coral


def test_blank_lines_and_remarks_are_skipped_and_nameless_ones_shown() -> None:
    ledger = Ledger()
    corals = parse_coral_list(
        "torch\ndon't know\n- \n* \n1.\n\n# from the shop\n8 cm, 110 PAR\nduncan\n", ledger
    )
    assert [c.called for c in corals] == ["torch", "duncan"]
    (problem,) = ledger.problems
    assert problem.span is not None
    assert (problem.code, problem.span.line) == ("key-123", 8)


def test_an_id_holds_neither_size_nor_article(tmp_path: Path, vocabulary: Vocabulary) -> None:
    folder = Folder(tmp_path, vocabulary).write("tank.yaml", "name: t\n")
    add_coral(tmp_path, vocabulary, "a torch 8 cm", on=date(2026, 11, 2))
    (animal,) = folder.tank.animals
    assert (animal.id, animal.taxon) == ("torch-1", "torch")
    assert folder.said("size", "torch-1")[0].said.best == 8.0


@given(st.text(max_size=80))
def test_any_line_is_read(text: str) -> None:
    coral = parse_coral_line(text)
    assert 1 <= coral.copies <= 99
