"""Several corals in one table."""

from __future__ import annotations

from pathlib import Path

from rich.cells import cell_len

from advisor.reports.batch import batch_page
from advisor.reports.printer import render
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"
ANSWERS = (
    samples.where_torch(),
    samples.where_candy(),
    samples.where_torch().model_copy(
        update={
            "coral": samples.TORCH.model_copy(update={"id": "torch-3"}),
            "places": (),
            "tonight": None,
            "tonight_note": "keep it in a box",
            "gates": (samples.ALKALINITY,),
        }
    ),
)


def test_it_reads_as_it_was_approved() -> None:
    assert render(batch_page(ANSWERS)) == (GOLDEN / "batch.txt").read_text(encoding="utf-8")


def test_a_caution_is_told_once_with_all_it_is_about() -> None:
    shown = render(batch_page(ANSWERS))
    assert shown.count("CAUTION") == 1
    assert shown.startswith("CAUTION   torch-2, torch-3: Mild sting to thin skin")


def test_a_hundred_corals_fit_the_screen() -> None:
    shown = render(batch_page(ANSWERS * 34))
    assert max(map(cell_len, shown.splitlines())) <= 80
    assert shown.count("torch-2 ") >= 34


def test_a_no_tells_what_stands_against_every_place_and_not_what_is_fine_tonight() -> None:
    fine = "nothing known speaks against it; look at it in the morning"
    out = ANSWERS[-1].model_copy(update={"tonight": ANSWERS[0].tonight, "tonight_note": fine})
    shown = " ".join(render(batch_page((out,))).split())
    assert "No place for good: 14 in reach of a stinger" in shown
    assert "speaks against" not in shown
