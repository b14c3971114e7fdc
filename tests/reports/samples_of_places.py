"""Hand-built answers to where: invented tanks, invented numbers."""

from __future__ import annotations

from advisor.model.results import (
    Caution,
    Comfort,
    CoralSummary,
    Ground,
    Need,
    PlaceAnswer,
    Reason,
    Step,
    Value,
    Verdict,
    WhereAnswer,
    Word,
)
from tests.reports.samples_of_values import (
    CRUMB,
    METER,
    REACH,
    TAPE,
    TODAY,
    about,
    exact,
    numbered,
    span,
    unmeasured,
)

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
