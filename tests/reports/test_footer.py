"""What stands around the rows: cautions, gates, readings to take, the weakest point."""

from __future__ import annotations

import pytest

from advisor.model.results import Caution, CoralSummary, Need, Value, Verdict
from advisor.reports.footer import (
    about_blocks,
    caution_blocks,
    coral_head,
    footer_blocks,
    gate_blocks,
    more_blocks,
    need_blocks,
    parted,
)
from advisor.reports.page import Blank, Block, Labelled, line
from advisor.reports.printer import render
from tests.reports import samples
from tests.reports.samples import about


def text(*blocks: Block) -> str:
    return render(blocks)


@pytest.mark.parametrize("level", range(5))
def test_a_caution_is_printed_at_every_level(level: int) -> None:
    shown = text(*caution_blocks((samples.CAUTION,), level))
    assert shown.startswith("CAUTION   Mild sting to thin skin: gloves.")
    assert ("common practice" in shown) is (level >= 2)
    assert ("advisor handle CORAL" in shown) is (level >= 1)


def test_a_caution_names_whom_it_is_about() -> None:
    shown = text(*caution_blocks((samples.CAUTION.model_copy(update={"about": ("torch-1", "zoa-2")}),), 0))
    assert shown.startswith("CAUTION   torch-1, zoa-2: Mild sting to thin skin")


def test_a_caution_leads_to_the_handling_sheet_of_its_coral() -> None:
    shown = text(*caution_blocks((samples.CAUTION,), 1, "torch-2"))
    assert shown.endswith("\n          Before you touch it: advisor handle torch-2\n")
    assert caution_blocks((), 1, "torch-2") == []


def test_commands_to_go_on_with_carry_what_was_given() -> None:
    more = ("why torch-2 A3", "where torch-2", "--level 2", "--json")
    assert text(*more_blocks(more, "--tank t --on 2026-11-02")) == (
        "More: why torch-2 A3 --tank t --on 2026-11-02\n"
        "      where torch-2 --tank t --on 2026-11-02\n"
        "      --level 2 | --json\n"
    )
    assert text(*more_blocks(more, "")) == "More: why torch-2 A3 | where torch-2 | --level 2 | --json\n"
    assert more_blocks((), "--tank t") == []
    shown = text(*caution_blocks((samples.CAUTION,), 1, "torch-2", "--tank t"))
    assert shown.endswith("Before you touch it: advisor handle torch-2 --tank t\n")


def test_a_gate_that_fails_is_to_be_fixed_and_an_open_one_tested() -> None:
    fails = samples.ALKALINITY.model_copy(
        update={"verdict": Verdict.FAILS, "here": about(5, 0.5, "dKH"), "sentence": "alkalinity is 5 dKH"}
    )
    shown = text(*gate_blocks((fails, samples.ALKALINITY), 1))
    assert "FIX FIRST  Alkalinity is 5 dKH. (alkalinity 5.0 ±0.5 dKH, wanted 7-11 dKH)" in shown
    assert "TEST FIRST Alkalinity was last tested 40 days ago. Test it before moving any." in shown


def test_what_was_never_measured_is_one_sentence() -> None:
    never = tuple(
        samples.ALKALINITY.model_copy(update={"quantity": name, "here": samples.unmeasured("mg/L")})
        for name in ("calcium", "nitrate", "ammonia")
    )
    shown = " ".join(text(*gate_blocks((*never, samples.ALKALINITY), 1)).split())
    assert "Never told or measured: calcium (7-11 dKH), nitrate (7-11 dKH), ammonia (7-11 dKH)." in shown
    assert shown.count("before moving any") == 1
    assert text(*gate_blocks(never, 2)).count("before moving any") == 3


def test_water_that_is_only_advised_to_be_tested_waits_for_level_two() -> None:
    advice = samples.ALKALINITY.model_copy(update={"level": "advice"})
    assert gate_blocks((advice,), 1) == []
    assert len(gate_blocks((advice,), 2)) == 2


def test_what_can_be_borne_is_not_told_beside_what_is_wanted_but_stands_alone_at_level_zero() -> None:
    borne = samples.ALKALINITY.model_copy(
        update={"level": "danger", "wanted_low": about(5, 0, "dKH"), "wanted_high": about(14, 0, "dKH")}
    )
    wanted = samples.ALKALINITY.model_copy(update={"level": "warning"})
    gates = (borne, wanted)
    assert text(*gate_blocks(gates, 1)) == text(*gate_blocks((wanted,), 1))
    assert text(*gate_blocks(gates, 2)).count("TEST FIRST") == 1
    assert "5-14 dKH" in text(*gate_blocks(gates, 2))
    shown = text(*gate_blocks(gates, 0))
    assert shown.startswith("TEST FIRST")
    assert "dKH" not in shown


def test_a_gate_that_holds_is_not_worth_a_line() -> None:
    holds = samples.ALKALINITY.model_copy(update={"verdict": Verdict.HOLDS})
    assert gate_blocks((holds,), 4) == []


def test_the_light_it_comes_from_stays_in_the_first_line_if_it_fits() -> None:
    coral = samples.TORCH.model_copy(update={"origin_note": "seller"})
    assert text(coral_head(coral)) == "torch-2   torch coral, 8.0 ±0.8 cm, comes from 110 ±16 PAR (seller)\n"
    assert about_blocks(coral) == []


def test_a_long_first_line_is_split_so_that_a_caution_can_stand_second() -> None:
    coral = samples.TORCH.model_copy(update={"origin_note": "seller, corrected meter, read in September"})
    assert text(coral_head(coral)) == "torch-2   torch coral, 8.0 ±0.8 cm\n"
    assert "Comes from 110 ±16 PAR (seller, corrected meter, read in September)." in text(
        *about_blocks(coral)
    )


def test_what_is_reckoned_with_is_said() -> None:
    coral = samples.where_candy().coral
    assert "light it comes from: not told" in text(coral_head(coral))
    assert "I reckon with 40-110 PAR, most shops keep it dim" in text(*about_blocks(coral))


def test_a_coral_of_which_nothing_is_told() -> None:
    unknown = Value(low=0, high=2500, unit="PAR", known=False, kind="unknown")
    coral = CoralSummary(id="x-1", title="", card="torch", origin_light=unknown, not_in_tank=True)
    assert text(coral_head(coral)) == "x-1       torch, not in this tank yet, light it comes from: not told\n"
    assert about_blocks(coral) == []


def test_readings_are_counted_and_from_level_two_all_shown() -> None:
    needs = samples.FLOW_STALE.needs * 5
    assert len(need_blocks(needs, 1)) == 3
    assert len(need_blocks(needs, 2)) == 5
    assert text(*need_blocks(needs[:1], 2)) == (
        "DO NEXT   Hold the probe at A3, pumps as at noon. Settles 4 open questions.\n          [flow(A3)]\n"
    )


def test_the_footer_names_the_weakest_point_and_where_to_go_on() -> None:
    answer = samples.where_torch().model_copy(update={"notes": ("the glass was not told",)})
    assert text(*footer_blocks(answer, 1, ("--level 2", "--json"))).splitlines() == [
        "NOTE      The glass was not told.",
        "Weakest point: The 25 cm. Look at night in week 1 and again in weeks 4-5.",
        "More: --level 2 | --json",
    ]
    told = answer.model_copy(update={"more": ("why 1",)})
    assert text(*footer_blocks(told, 1, ("--level 2",))).endswith("More: why 1\n")


def test_groups_are_parted_and_empty_ones_leave_no_gap() -> None:
    one = line("one")
    assert parted([one], [], [one]) == [one, Blank(), one]


def test_what_to_type_stands_below_the_question() -> None:
    command = 'advisor tank add reading a,b gap "…"'
    need = Need(measure="gap", subjects=("a", "b"), ask="Measure from a to b", command=command)
    blocks = [block for block in need_blocks([need], 1) if isinstance(block, Labelled)]
    assert "".join(part.text for part in blocks[-1].parts) == f"then type: {command}"


def test_the_sheet_to_read_is_that_of_the_animal_a_caution_is_about() -> None:
    of_others = (Caution(text="may hold palytoxin", about=("zoa-3", "zoa-4")),)
    both = (Caution(text="may hold palytoxin", about=("zoa-3", "candy-1")), *of_others)
    assert text(*caution_blocks(of_others, 1, "candy-1")).rstrip().endswith("handle zoa-3")
    sheets = [
        row.split()[-1] for row in text(*caution_blocks(both, 1, "candy-1")).splitlines() if "handle" in row
    ]
    assert sheets == ["candy-1", "zoa-3"]
