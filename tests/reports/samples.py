"""Hand-built answers to print: invented tanks, invented numbers, every shape an answer can take."""

from __future__ import annotations

from advisor.errors import Problem, Related, Severity, Span
from advisor.model.results import CardAnswer, CardLine, ExampleResult
from tests.reports.samples_of_findings import ALKALINITY as ALKALINITY
from tests.reports.samples_of_findings import FLOW_STALE as FLOW_STALE
from tests.reports.samples_of_findings import SHADED as SHADED
from tests.reports.samples_of_findings import STUNG as STUNG
from tests.reports.samples_of_findings import STUNG_ID as STUNG_ID
from tests.reports.samples_of_findings import UP_FLOW as UP_FLOW
from tests.reports.samples_of_findings import audit_lagoon as audit_lagoon
from tests.reports.samples_of_findings import audit_many as audit_many
from tests.reports.samples_of_findings import audit_quiet as audit_quiet
from tests.reports.samples_of_findings import why_not_torch as why_not_torch
from tests.reports.samples_of_places import CANDY_GAP as CANDY_GAP
from tests.reports.samples_of_places import CAUTION as CAUTION
from tests.reports.samples_of_places import FLOW_MISSING as FLOW_MISSING
from tests.reports.samples_of_places import GAP_LATER as GAP_LATER
from tests.reports.samples_of_places import GAP_OK as GAP_OK
from tests.reports.samples_of_places import GAP_RULE as GAP_RULE
from tests.reports.samples_of_places import GAP_STEP as GAP_STEP
from tests.reports.samples_of_places import LEFT_LEDGE as LEFT_LEDGE
from tests.reports.samples_of_places import LIGHT_HIGH as LIGHT_HIGH
from tests.reports.samples_of_places import LIGHT_OK as LIGHT_OK
from tests.reports.samples_of_places import RIGHT_TERRACE as RIGHT_TERRACE
from tests.reports.samples_of_places import SHELF_LOW as SHELF_LOW
from tests.reports.samples_of_places import TORCH as TORCH
from tests.reports.samples_of_places import where_candy as where_candy
from tests.reports.samples_of_places import where_many as where_many
from tests.reports.samples_of_places import where_torch as where_torch
from tests.reports.samples_of_values import REACH as REACH
from tests.reports.samples_of_values import TAPE as TAPE
from tests.reports.samples_of_values import TODAY as TODAY
from tests.reports.samples_of_values import about as about
from tests.reports.samples_of_values import exact as exact
from tests.reports.samples_of_values import numbered as numbered
from tests.reports.samples_of_values import renamed as renamed
from tests.reports.samples_of_values import span as span
from tests.reports.samples_of_values import unmeasured as unmeasured


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
