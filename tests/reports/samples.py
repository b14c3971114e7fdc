"""Hand-built answers to print: invented tanks, invented numbers, every shape an answer can take."""

from __future__ import annotations

from datetime import date

from advisor.errors import Problem, Related, Severity, Span
from advisor.model.results import (
    AuditAnswer,
    CardAnswer,
    CardLine,
    Caution,
    Comfort,
    CoralSummary,
    Cure,
    ExampleResult,
    Finding,
    Ground,
    Months,
    Need,
    PlaceAnswer,
    Reason,
    Step,
    Value,
    Verdict,
    WhereAnswer,
    WhyAnswer,
    Word,
)

TODAY = date(2026, 11, 2)
METER = Ground(text="your meter", on=date(2026, 10, 24), age_days=9)
CRUMB = Ground(text="crumb timed 5 times", on=date(2026, 10, 24), age_days=9)
TAPE = Ground(text="tape", on=date(2026, 10, 21), age_days=12)
REACH = Ground(text="reach: card torch", grade="experience", source="keepers' reports, no study")


def about(best: float, error: float, unit: str, kind: str = "measured") -> Value:
    """Return a value with an even error."""
    return Value(low=best - error, best=best, high=best + error, unit=unit, kind=kind)


def exact(number: float, unit: str) -> Value:
    """Return a planning number without error."""
    return Value(low=number, best=number, high=number, unit=unit, kind="card")


def span(low: float, high: float, unit: str, *words: str, kind: str = "stated") -> Value:
    """Return a range nothing singles a number out of."""
    return Value(low=low, high=high, unit=unit, words=words, kind=kind)


def unmeasured(unit: str, high: float = 150.0) -> Value:
    """Return a value nobody knows."""
    return Value(low=0.0, high=high, unit=unit, known=False, kind="unknown")


def numbered(*reasons: Reason, mark: str = "") -> tuple[Reason, ...]:
    """Return reasons with the numbers they are printed under."""
    return tuple(
        each.model_copy(update={"number": f"{mark}{number}"}) for number, each in enumerate(reasons, 1)
    )


def renamed(step: Step, before: str, after: str) -> Step:
    """Return a step of one reason as if it were of another."""
    inputs = tuple(renamed(each, before, after) for each in step.inputs)
    return step.model_copy(update={"id": after + step.id.removeprefix(before), "inputs": inputs})


LIGHT_OK = Reason(
    id="light-within-its-range(torch-2,right-terrace)",
    rule="light-within-its-range",
    level="warning",
    stage="settled",
    verdict=Verdict.HOLDS,
    subjects=("torch-2",),
    quantity="light",
    here=about(118, 12, "PAR"),
    wanted_low=exact(80, "PAR"),
    wanted_high=exact(150, "PAR"),
    margin=about(32, 12, "PAR"),
    margin_steps=6.4,
    sentence="torch-2 stands in 118 PAR",
    matters="too much light bleaches it, too little starves it",
    source="three growers' guides",
    grade="experience",
    grounds=(METER,),
)
FLOW_OK = Reason(
    id="flow-within-its-range(torch-2,right-terrace)",
    rule="flow-within-its-range",
    level="warning",
    stage="settled",
    verdict=Verdict.HOLDS,
    subjects=("torch-2",),
    quantity="flow",
    here=about(10, 2, "cm/s"),
    wanted_low=exact(6, "cm/s"),
    wanted_high=exact(15, "cm/s"),
    margin=about(4, 2, "cm/s"),
    margin_steps=4.0,
    sentence="torch-2 stands in 10 cm/s",
    source="common practice, no source",
    grade="experience",
    grounds=(CRUMB,),
)
GAP_STEP = Step(
    id="keep-clear-of-stingers(torch-2,hammer-1)/expect",
    op="compare",
    text="gap between torch-2 and hammer-1 is at least reach toward hammer-1",
    value=Value(truth=True),
    margin=about(11, 1, "cm"),
    margin_steps=11.0,
    inputs=(
        Step(
            id="keep-clear-of-stingers(torch-2,hammer-1)/expect/1",
            op="measure",
            text="gap between torch-2 and hammer-1",
            value=about(36, 1, "cm"),
            grounds=(TAPE,),
            decides=True,
        ),
        Step(
            id="keep-clear-of-stingers(torch-2,hammer-1)/expect/2",
            op="define",
            text="reach toward hammer-1",
            value=exact(25, "cm"),
            inputs=(
                Step(
                    id="keep-clear-of-stingers(torch-2,hammer-1)/expect/2/1",
                    op="measure",
                    text="longest reach of torch-2",
                    value=exact(25, "cm"),
                    grounds=(REACH,),
                    decides=True,
                ),
                Step(
                    id="keep-clear-of-stingers(torch-2,hammer-1)/expect/2/2",
                    op="relation",
                    text="hammer-1 lies down-flow of torch-2",
                    value=Value(known=False, kind="unknown"),
                    cause="missing",
                ),
            ),
        ),
    ),
)
GAP_RULE = Step(
    id="keep-clear-of-stingers(torch-2,hammer-1)",
    op="rule",
    text="keep-clear-of-stingers",
    value=Value(words=("holds",)),
    inputs=(GAP_STEP,),
)
GAP_OK = Reason(
    id="keep-clear-of-stingers(torch-2,hammer-1)",
    rule="keep-clear-of-stingers",
    level="danger",
    stage="tonight",
    verdict=Verdict.HOLDS,
    subjects=("torch-2", "hammer-1"),
    quantity="gap to hammer-1",
    here=about(36, 1, "cm"),
    wanted_low=exact(25, "cm"),
    margin=about(11, 1, "cm"),
    margin_steps=11.0,
    sentence="torch-2 can reach 25 cm and hammer-1 is 36 cm away",
    matters="stinging tentacles damage tissue they touch",
    source="common practice, no source",
    grade="experience",
    weakest="the 25 cm: keepers' word",
    grounds=(TAPE, REACH),
    decides=(GAP_STEP.inputs[0], GAP_STEP.inputs[1].inputs[0]),
    step=GAP_RULE,
)
GAP_LATER = GAP_OK.model_copy(
    update={
        "id": "keeps-its-room(torch-2,hammer-1)",
        "rule": "keeps-its-room",
        "level": "warning",
        "here": about(34, 1, "cm"),
        "wanted_low": exact(27, "cm"),
        "margin": about(7, 1, "cm"),
        "months_ahead": 12,
        "grounds": (Ground(text="both grow 1 mm a month", grade="experience"),),
        "step": None,
        "decides": (),
    }
)
LIGHT_HIGH = LIGHT_OK.model_copy(
    update={
        "id": "light-within-its-range(torch-2,left-ledge)",
        "here": Value(low=167, best=187, high=209, unit="PAR", kind="measured"),
        "verdict": Verdict.HOLDS,
        "wanted_high": exact(250, "PAR"),
    }
)
FLOW_MISSING = FLOW_OK.model_copy(
    update={
        "id": "flow-within-its-range(torch-2,arch-foot)",
        "verdict": Verdict.UNDECIDED,
        "cause": "missing",
        "here": unmeasured("cm/s"),
        "wanted_low": exact(4, "cm/s"),
        "wanted_high": exact(22, "cm/s"),
        "margin": None,
        "margin_steps": None,
        "sentence": "nobody has measured the flow at arch-foot",
        "grounds": (),
        "needs": (
            Need(
                measure="flow", subjects=("arch-foot",), ask="Time a crumb over 20 cm at arch-foot: 5 minutes"
            ),
        ),
    }
)
TORCH = CoralSummary(
    id="torch-2",
    title="torch coral",
    card="torch",
    size=about(8, 0.8, "cm"),
    origin_light=about(110, 16, "PAR"),
    origin_note="seller, corrected meter",
)
RIGHT_TERRACE = PlaceAnswer(
    place="right-terrace",
    name="",
    word=Word.YES,
    rank=1,
    reasons=numbered(LIGHT_OK, FLOW_OK, GAP_OK, GAP_LATER),
    comforts=(
        Comfort(
            preference="gentle-light",
            low=2.4,
            best=2.7,
            high=3.0,
            weight=3.0,
            sentence="it likes 100 to 130 PAR best",
        ),
    ),
    duties=("wedge it, no glue for 7-14 days", "lights off tonight"),
    holds=14,
    light_steps="light there is 1.1 times what it is used to: no steps needed",
)
LEFT_LEDGE = PlaceAnswer(
    place="left-ledge",
    name="",
    word=Word.YES_SLOWLY,
    rank=2,
    reasons=numbered(LIGHT_HIGH),
    holds=14,
    light_steps="1.7 times what it knows: 2-3 weeks in 2-3 steps",
)
ARCH_FOOT = PlaceAnswer(
    place="arch-foot", name="", word=Word.NOT_KNOWN, rank=3, reasons=numbered(FLOW_MISSING), holds=9
)
CAUTION = Caution(
    text="Mild sting to thin skin: gloves. At night it reaches up to 25 cm",
    source="common practice, no source",
    grade="experience",
)


def where_torch() -> WhereAnswer:
    """Return an answer where all is well known."""
    return WhereAnswer(
        question="where torch-2",
        tank="demo lagoon",
        on=TODAY,
        horizon_months=12,
        cautions=(CAUTION,),
        weakest="the 25 cm. Look at night in week 1 and again in weeks 4-5",
        coral=TORCH,
        tonight=RIGHT_TERRACE,
        places=(RIGHT_TERRACE, LEFT_LEDGE, ARCH_FOOT),
        no_counts=((14, "in reach of a stinger"), (5, "too bright"), (2, "on loose sand")),
    )


CANDY_GAP = Reason(
    id="keep-clear-of-stingers(hammer-1,candy-1)",
    rule="keep-clear-of-stingers",
    level="danger",
    stage="tonight",
    verdict=Verdict.UNDECIDED,
    cause="too close",
    lean="yes",
    subjects=("hammer-1", "candy-1"),
    quantity="gap to hammer-1",
    here=span(20, 35, "cm"),
    wanted_low=exact(24, "cm"),
    sentence="hammer-1 can reach 24 cm and candy-1 is 20-35 cm away",
    grounds=(Ground(text="place words mid-left and right, back"),),
    needs=(
        Need(
            measure="gap",
            subjects=("hammer-1", "candy-1"),
            ask="Measure from mid-left to hammer-1 with a tape",
        ),
    ),
    source="common practice, no source",
    grade="experience",
)
CANDY_LIGHT = Reason(
    id="light-enough(candy-1,mid-left)",
    rule="light-enough",
    level="danger",
    stage="settled",
    verdict=Verdict.HOLDS,
    subjects=("candy-1",),
    quantity="light",
    here=span(50, 200, "PAR", "medium"),
    wanted_low=exact(50, "PAR"),
    wanted_high=exact(250, "PAR"),
    sentence="the light at mid-left is medium",
    grounds=(Ground(text="your word, no meter"),),
)
CANDY_FLOW = Reason(
    id="flow-enough(candy-1,mid-left)",
    rule="flow-enough",
    level="warning",
    stage="settled",
    verdict=Verdict.HOLDS,
    subjects=("candy-1",),
    quantity="flow",
    here=span(6, 15, "cm/s", "sways"),
    wanted_low=exact(4, "cm/s"),
    wanted_high=exact(22, "cm/s"),
    sentence="the polyps sway at mid-left",
    grounds=(Ground(text="by looks"),),
)
CANDY_DIM = CANDY_LIGHT.model_copy(
    update={
        "id": "light-enough(candy-1,shelf-low)",
        "verdict": Verdict.UNDECIDED,
        "cause": "too close",
        "lean": "yes",
        "here": span(20, 125, "PAR", "dim"),
        "sentence": "the light at shelf-low is dim, 20 to 125 PAR",
        "needs": (Need(measure="light", subjects=("shelf-low",), ask="Borrow a meter for a day", settles=9),),
    }
)
MID_LEFT = PlaceAnswer(
    place="mid-left",
    name="",
    word=Word.LIKELY,
    rank=1,
    reasons=numbered(CANDY_GAP, CANDY_LIGHT, CANDY_FLOW),
    holds=11,
)
SHELF_LOW = PlaceAnswer(
    place="shelf-low",
    name="",
    word=Word.NOT_KNOWN,
    rank=2,
    reasons=numbered(CANDY_DIM),
    duties=("wedge it, no glue", "lights off"),
    holds=10,
)


def where_candy() -> WhereAnswer:
    """Return an answer where no light was ever measured."""
    return WhereAnswer(
        question="where candy-1",
        tank="kitchen cube",
        on=TODAY,
        horizon_months=12,
        coral=CoralSummary(
            id="candy-1",
            title="candy cane",
            card="candy-cane",
            known_as="",
            size=about(5, 0.5, "cm"),
            origin_light=Value(low=40, best=None, high=110, unit="PAR", kind="assumed"),
            origin_note="most shops keep it dim: a guess for its group. Ask the seller",
        ),
        tonight=SHELF_LOW,
        tonight_note="No stinger within 25 cm; your zoa-3 has done well there since March",
        places=(MID_LEFT, SHELF_LOW),
        needs=(*CANDY_GAP.needs, *CANDY_DIM.needs),
        weakest="your own word for the light; no meter in the house",
    )


def where_many(count: int = 100) -> WhereAnswer:
    """Return an answer over a hundred places, most of them good."""
    words = (Word.YES, Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL, Word.LIKELY, Word.NOT_KNOWN, Word.NO)
    places = tuple(
        PlaceAnswer(
            place=f"ledge-{index:03d}",
            name="",
            word=words[index * len(words) // count],
            rank=index + 1,
            reasons=numbered(LIGHT_OK, FLOW_OK, GAP_OK),
            holds=20,
        )
        for index in range(count)
    )
    return where_torch().model_copy(update={"places": places, "tonight": places[0]})


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


def card_torch() -> CardAnswer:
    """Return a card with a disagreement and a caution."""
    return CardAnswer(
        card="torch",
        title="torch coral",
        known_as="'gold torch' is a colour form of it",
        also=("torch", "Euphyllia glabrescens"),
        cautions=(CAUTION,),
        lines=(
            CardLine(
                label="light",
                text="80-150 PAR best, 50-250 PAR",
                grade="experience",
                source="growers' guides",
            ),
            CardLine(label="flow", text="6-15 cm/s best, never a direct jet", grade="experience"),
            CardLine(
                label="reach at night",
                text="25 cm at most",
                grade="guess",
                source="club handout",
                disputed=True,
            ),
            CardLine(label="growth", text="3 mm a month out", grade="study", source="Author 2005, table 2"),
        ),
    )


def examples() -> tuple[ExampleResult, ...]:
    """Return three examples of a rule file, one of them not as expected."""
    return (
        ExampleResult(title="far", rule="keep-clear", ok=True, expected="holds by 3 cm", got="holds by 3 cm"),
        ExampleResult(
            title="near", rule="keep-clear", ok=True, expected="fails by 8 cm", got="fails by 8 cm"
        ),
        ExampleResult(
            title="no tape",
            rule="keep-clear",
            ok=False,
            expected="undecided needs gap(torch-1, zoa-2)",
            got="fails by 8 cm",
            file="rules/spacing.rules",
            line=31,
            reason=STUNG,
        ),
    )


def problems() -> tuple[Problem, ...]:
    """Return problems of every shape."""
    line = "  expect  gap(c, n) >= mushroom-light-low"
    wide = '  because "珊瑚が近い" and expct'
    return (
        Problem(
            code="units-201",
            what="a length is compared with an amount of light",
            span=Span("house.rules", 14, 11, 14, 20, line),
            label="cm, length",
            mend="did you mean crowd-distance (10 cm)?",
            related=(
                Related(Span("house.rules", 14, 24, 14, 42, line), "50 PAR, light"),
                Related(Span("corals.rules", 31), "set here"),
            ),
        ),
        Problem(
            code="word-101",
            what='"expct" is not a word I know here',
            span=Span("house.rules", 3, wide.index("expct") + 1, 3, wide.index("expct") + 6, wide),
            label="a rule goes on with: when, expect",
            mend="expect",
        ),
        Problem(code="tank-301", what="there is no tank.yaml here", mend="advisor tank new DIR"),
        Problem(
            code="house-503",
            what="the change matches nothing",
            span=Span("house.rules"),
            severity=Severity.WARNING,
        ),
    )
