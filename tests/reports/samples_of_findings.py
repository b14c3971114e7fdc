"""Hand-built answers to why not and to an audit: invented tanks, invented numbers."""

from __future__ import annotations

from datetime import date

from advisor.model.results import (
    AuditAnswer,
    Cure,
    Finding,
    Ground,
    Months,
    Need,
    PlaceAnswer,
    Reason,
    Value,
    Verdict,
    WhyAnswer,
    Word,
)
from tests.reports.samples_of_places import CANDY_GAP, CAUTION, GAP_OK, GAP_RULE, LIGHT_OK, TORCH
from tests.reports.samples_of_values import REACH, TAPE, TODAY, about, exact, numbered, renamed

STUNG_ID = "keep-clear-of-stingers(torch-1,zoa-2)"
STUNG = Reason(
    id=STUNG_ID,
    rule="keep-clear-of-stingers",
    level="danger",
    stage="tonight",
    verdict=Verdict.FAILS,
    subjects=("torch-1", "zoa-2"),
    quantity="gap to zoa-2",
    here=about(12, 1, "cm"),
    wanted_low=exact(20, "cm"),
    margin=about(-8, 1, "cm"),
    margin_steps=-8.0,
    sentence="torch-1 can reach 20 cm and zoa-2 is 12 cm away",
    matters="stinging tentacles damage tissue they touch",
    remedy="move torch-1 or zoa-2 apart, or put a divider between them",
    source="club handout 2024",
    grade="experience",
    grounds=(TAPE, REACH),
    house=("your house file changed sweeper-allowance from 5 cm to 8 cm: lost a colony in March",),
    decides=tuple(renamed(each, GAP_OK.id, STUNG_ID) for each in GAP_OK.decides),
    step=renamed(GAP_RULE, GAP_OK.id, STUNG_ID),
)
FLOW_STALE = Reason(
    id="flow-for-big-polyps(torch-1,A3)",
    rule="flow-for-big-polyps",
    level="warning",
    stage="settled",
    verdict=Verdict.UNDECIDED,
    cause="stale",
    subjects=("torch-1",),
    quantity="flow",
    here=Value(low=0, best=10, high=150, unit="cm/s", known=False, kind="unknown"),
    wanted_low=exact(6, "cm/s"),
    wanted_high=exact(18, "cm/s"),
    sentence="the last reading at A3 was 10 cm/s, 143 days ago; it is good for 60",
    source="common practice, no source",
    grade="experience",
    grounds=(Ground(text="your flow meter", on=date(2026, 6, 12), age_days=143),),
    needs=(Need(measure="flow", subjects=("A3",), ask="Hold the probe at A3, pumps as at noon", settles=4),),
)


def why_not_torch() -> WhyAnswer:
    """Return a no with one danger, one open question and three cures."""
    place = PlaceAnswer(
        place="A3",
        name="",
        word=Word.NO,
        rank=0,
        reasons=numbered(STUNG, FLOW_STALE, LIGHT_OK, GAP_OK),
        holds=14,
        changes=("zoa-5 would be crowded",),
    )
    return WhyAnswer(
        question="why-not torch-1 A3",
        tank="demo lagoon",
        on=TODAY,
        horizon_months=12,
        cautions=(CAUTION,),
        coral=TORCH.model_copy(update={"id": "torch-1", "place": "A5"}),
        place=place,
        cures=(
            Cure(text="torch-1 goes to A5", makes=Word.YES),
            Cure(text="zoa-2 goes 9 cm further", changes=("then zoa-5 is crowded",), makes=Word.LIKELY),
            Cure(
                text="a divider between them", changes=("flow still needs its reading",), makes=Word.NOT_KNOWN
            ),
        ),
        by_eye=("polyps are open by noon",),
        weakest="the 20 cm: keepers' word",
    )


SHADED = Reason(
    id="not-shaded-out(meteor-1)",
    rule="not-shaded-out",
    level="warning",
    stage="settled",
    verdict=Verdict.HOLDS,
    subjects=("plate-1", "meteor-1"),
    quantity="light",
    here=about(38, 6, "PAR", "computed"),
    wanted_low=exact(40, "PAR"),
    sentence="plate-1 shades meteor-1 below its 40 PAR",
    remedy="trim plate-1 by February, or move meteor-1 to the light side",
    until=Months(earliest=date(2027, 3, 1), expected=date(2027, 5, 1), latest=date(2027, 7, 1)),
)
UP_FLOW = Reason(
    id="poisoners-down-flow(leather-1,stag-1)",
    rule="poisoners-down-flow",
    level="danger",
    stage="settled",
    verdict=Verdict.FAILS,
    subjects=("leather-1", "stag-1"),
    quantity="side of the flow",
    here=Value(truth=True),
    sentence="leather-1 stands up-flow of stag-1",
    remedy="move leather-1 near the overflow; until then fresh carbon, part dose",
)
ALKALINITY = Reason(
    id="alkalinity-known",
    rule="alkalinity-known",
    level="danger",
    stage="gate",
    verdict=Verdict.UNDECIDED,
    cause="stale",
    subjects=("tank",),
    quantity="alkalinity",
    here=Value(low=0, best=8.1, high=30, unit="dKH", known=False),
    wanted_low=exact(7, "dKH"),
    wanted_high=exact(11, "dKH"),
    sentence="alkalinity was last tested 40 days ago",
    needs=(Need(measure="alkalinity", subjects=("tank",), ask="test it before moving any"),),
)


def audit_lagoon() -> AuditAnswer:
    """Return an audit with something in every section."""
    galaxy = STUNG.model_copy(
        update={
            "id": "keep-clear-of-stingers(galaxy-1,crust-2)",
            "decides": tuple(
                renamed(each, STUNG_ID, "keep-clear-of-stingers(galaxy-1,crust-2)") for each in STUNG.decides
            ),
            "step": None,
            "subjects": ("galaxy-1", "crust-2"),
            "quantity": "gap to crust-2",
            "here": about(11, 1, "cm"),
            "wanted_low": exact(30, "cm"),
            "margin": about(-19, 1, "cm"),
            "sentence": "galaxy-1 can sting crust-2 at night",
        }
    )
    bridge = SHADED.model_copy(
        update={
            "id": "mat-keeps-off-glass(mat-1)",
            "rule": "mat-keeps-off-glass",
            "subjects": ("mat-1",),
            "here": None,
            "wanted_low": None,
            "sentence": "mat-1 crosses the rock bridge to the glass",
            "remedy": "break the bridge: 8-10 cm of bare sand",
            "until": Months(earliest=date(2027, 9, 1), expected=None, latest=None),
        }
    )
    return AuditAnswer(
        question="audit --months 12",
        tank="demo lagoon",
        on=TODAY,
        horizon_months=12,
        animals=22,
        harmed_now=2,
        harmed_later=2,
        gates=numbered(ALKALINITY, mark="g"),
        now=(
            Finding(
                number=1, reason=galaxy, do="move galaxy-1 to right-islet, 41 cm clear; starts nothing new"
            ),
            Finding(number=2, reason=UP_FLOW),
        ),
        later=(Finding(number=3, reason=SHADED), Finding(number=4, reason=bridge)),
        open=numbered(
            FLOW_STALE,
            FLOW_STALE.model_copy(update={"subjects": ("zoa-1",)}),
            FLOW_STALE.model_copy(update={"subjects": ("zoa-4",), "quantity": "light"}),
            CANDY_GAP,
            mark="o",
        ),
        accepted=numbered(GAP_OK.model_copy(update={"verdict": Verdict.ACCEPTED}), mark="a"),
        by_eye=("polyps are open by noon",),
        silent=("flower-1",),
        move_first=("galaxy-1", "leather-1"),
        needs=(
            Need(measure="flow", subjects=("A3",), ask="Hold the probe at A3, pumps as at noon", settles=4),
        ),
        weakest="the reach of galaxy-1: keepers' word",
    )


def audit_many(count: int = 100) -> AuditAnswer:
    """Return an audit where one rule fails a hundred times."""
    findings = tuple(
        Finding(
            number=index,
            reason=STUNG.model_copy(update={"id": f"{STUNG.rule}(torch-{index},zoa-2)"}),
            do="move one of them",
        )
        for index in range(1, count + 1)
    )
    return audit_lagoon().model_copy(update={"now": findings, "later": (), "harmed_now": count})


def audit_quiet() -> AuditAnswer:
    """Return an audit that found nothing."""
    return AuditAnswer(
        question="audit",
        tank="kitchen cube",
        on=TODAY,
        horizon_months=6,
        animals=1,
        harmed_now=0,
        harmed_later=0,
        now=(),
        later=(),
        open=(),
    )
