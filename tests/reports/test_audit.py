"""The answer to "what is wrong in my tank?"."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from rich.cells import cell_len

from advisor.api import open_tank
from advisor.model.results import AuditAnswer, Finding, Reason, Value, Verdict
from advisor.reports.audit import audit_page
from advisor.reports.figures import value_text
from advisor.reports.printer import Look, render
from tests.properties.demo import FOLDER, ON
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"
ANSWERS = {"lagoon": samples.audit_lagoon(), "quiet": samples.audit_quiet(), "many": samples.audit_many()}


@pytest.mark.parametrize("name", ANSWERS)
def test_it_reads_as_it_was_approved(name: str) -> None:
    approved = (GOLDEN / f"audit-{name}.txt").read_text(encoding="utf-8")
    assert render(audit_page(ANSWERS[name])) == approved


@pytest.mark.parametrize("name", ANSWERS)
@pytest.mark.parametrize("level", range(5))
@pytest.mark.parametrize("width", [44, 80])
def test_nothing_is_wider_than_the_screen(name: str, level: int, width: int) -> None:
    shown = render(audit_page(ANSWERS[name], level), Look(width=width))
    assert max(map(cell_len, shown.splitlines())) <= width


def test_level_zero_is_the_headline() -> None:
    shown = render(audit_page(samples.audit_lagoon(), 0))
    assert "2 animals are being harmed now. 2 more will be by Nov 2027." in shown
    assert "NOW" not in shown


def test_every_finding_it_was_given_is_told_from_level_two() -> None:
    assert render(audit_page(samples.audit_many(), 2)).count("fails by 8 ±1 cm") == 100


def test_from_level_two_findings_carry_what_decides_and_what_stands_behind_them() -> None:
    lagoon = samples.audit_lagoon()
    more = lagoon.now[0].model_copy(update={"others": 4})
    shown = render(audit_page(lagoon.model_copy(update={"now": (more,)}), 2))
    assert shown.index("\nNOW\n") < shown.index("\nLATER\n") < shown.index("\nOPEN\n")
    assert "rests on  gap between torch-2 and hammer-1 = 36 ±1 cm [expect/1]: tape" in shown
    assert "do        move galaxy-1 to right-islet" in shown
    assert "and 4 more like it, 2 to 5: --open 2" in shown


def headline(**update: object) -> str:
    answer: AuditAnswer = samples.audit_quiet().model_copy(update=update)
    return render(audit_page(answer, 0)).splitlines()[1]


def test_the_headline_counts_in_words() -> None:
    finding = samples.audit_lagoon().now[:1]
    assert headline() == "Nothing is known to be wrong now."
    assert headline(now=finding) == "No animal is being harmed now; 1 thing to put right."
    assert headline(now=finding, harmed_now=1) == "1 animal is being harmed now."
    assert headline(harmed_later=1) == "Nothing is known to be wrong now. 1 will be by May 2027."
    assert headline(open=(samples.FLOW_STALE,)).endswith("1 question is open.")
    named = headline(now=finding, harmed_now=2, harmed=("zoa-1", "zoa-2"), harmed_later=1, harmed_then=("a",))
    assert named == ("2 animals are being harmed now: zoa-1, zoa-2. 1 more will be by May 2027: a.")


def gate(verdict: Verdict, level: str = "danger") -> Reason:
    """What is asked of the water of the whole tank."""
    return samples.ALKALINITY.model_copy(update={"verdict": verdict, "level": level})


def test_the_headline_counts_what_is_wrong_with_the_whole_tank() -> None:
    finding = samples.audit_lagoon().now[:1]
    fails, untested = gate(Verdict.FAILS), gate(Verdict.UNDECIDED)
    assert headline(gates=(fails,)) == "1 thing in the whole tank must be fixed first."
    assert headline(gates=(fails, gate(Verdict.FAILS, "warning"), untested), now=finding) == (
        "2 things in the whole tank must be fixed first. 1 more thing to put right."
    )
    assert headline(gates=(untested,)) == "Nothing is known to be wrong now, but a test is missing."
    assert headline(gates=(gate(Verdict.HOLDS),)) == "Nothing is known to be wrong now."
    quiet = samples.audit_quiet().model_copy(update={"gates": (untested,)})
    assert "TEST FIRST Test it before moving any." in render(audit_page(quiet, 0))


def test_advice_that_is_open_is_no_question_and_told_below_the_questions() -> None:
    advice = samples.FLOW_STALE.model_copy(update={"level": "advice", "id": "look(x)", "number": "o2"})
    answer = samples.audit_quiet().model_copy(
        update={"open": (samples.FLOW_STALE,), "open_advice": (advice,)}
    )
    for level in range(5):
        assert "1 question is open." in render(audit_page(answer, level))
    shown = render(audit_page(answer, 2))
    assert shown.index("\nOPEN\n") < shown.index("\nOPEN, SMALLER ADVICE\n")


def test_the_end_of_the_time_looked_at_is_a_month() -> None:
    late = samples.audit_quiet().model_copy(update={"on": date(2026, 12, 31), "horizon_months": 14})
    assert "looking to Feb 2028" in render(audit_page(late, 0))


def test_findings_behind_one_line_are_counted() -> None:
    finding = samples.audit_lagoon().now[0].model_copy(update={"others": 4})
    answer = samples.audit_lagoon().model_copy(update={"now": (finding,)})
    assert "and 4 more like it, 2 to 5: --open 2" in render(audit_page(answer))


def test_what_is_accepted_is_named_with_its_rule_from_level_two() -> None:
    assert "ACCEPTED    torch-2 and hammer-1: gap " in render(audit_page(samples.audit_lagoon()))
    assert "keep-clear-of-stingers(torch-2, hammer-1)" in render(audit_page(samples.audit_lagoon(), 2))


def finding(number: int, level: str, rule: str = "", others: int = 0) -> Finding:
    update = {"level": level, "rule": rule or f"{level}-rule", "id": f"{level}-{number}"}
    return Finding(number=number, reason=samples.STUNG.model_copy(update=update), others=others)


def test_harm_comes_first_then_what_is_not_good_and_advice_is_counted() -> None:
    now = (finding(1, "danger"), finding(2, "warning"), finding(3, "advice", others=2), finding(4, "advice"))
    shown = render(audit_page(samples.audit_lagoon().model_copy(update={"now": now, "later": ()})))
    assert (
        shown.index(" NOW ")
        < shown.index(" NOT GOOD EITHER ")
        < shown.index("and 4 pieces of smaller advice")
    )


def test_of_one_warning_the_first_is_shown_and_the_rest_counted() -> None:
    now = (*(finding(number, "warning") for number in (1, 2)), finding(3, "warning", others=5))
    shown = render(audit_page(samples.audit_lagoon().model_copy(update={"now": now, "later": ()})))
    assert shown.count("8 cm short") == 1
    assert "and 7 more like it, 2 to 8: --open 2" in shown


def test_a_yes_or_no_is_left_to_the_sentence() -> None:
    told = {"here": Value(words=("yes",)), "wanted_low": Value(words=("no",)), "sentence": "disc-1 may roll"}
    loose = Finding(number=1, reason=samples.STUNG.model_copy(update={**told, "margin": None}))
    shown = render(audit_page(samples.audit_lagoon().model_copy(update={"now": (loose,), "later": ()})))
    assert "1  disc-1 may roll.\n" in shown


def test_an_open_cause_names_each_thing_once_and_small_advice_its_rules() -> None:
    lagoon = samples.audit_lagoon()
    doubled = lagoon.model_copy(update={"open": (lagoon.open[0], lagoon.open[0])})
    small = lagoon.now[0].reason.model_copy(update={"level": "advice"})
    advised = doubled.model_copy(update={"now": (lagoon.now[0].model_copy(update={"reason": small}),)})
    shown = render(audit_page(advised), Look(80, False, True))
    (open_line,) = [each for each in shown.splitlines() if each.startswith("OPEN")]
    assert " and " not in open_line
    assert f"smaller advice ({small.rule}" in shown


def test_the_second_level_of_the_lagoon_can_be_read_and_tells_every_number_that_decides() -> None:
    answer = open_tank(FOLDER, on=ON).audit(level=2)
    shown = render(audit_page(answer, 2))
    assert shown.count("\n") < 500
    flat = " ".join(shown.split())
    told = [finding.reason for finding in (*answer.now, *answer.later)] + list(answer.open)
    for reason in told:
        assert reason.id in "".join(shown.split()), "a long id is broken over lines"
        here = value_text(reason.here) if reason.here is not None and reason.here.unit else ""
        assert here in flat
