"""Verdicts against an SMT solver that tries every completion of what is not known.

Source of truth: Z3 (de Moura and Bjorner, TACAS 2008). What we call sure must
be so in every completion; what we leave open and the solver decides is counted:
strong Kleene logic is known to be cautious (S. C. Kleene, Introduction to
Metamathematics, 1952, section 64), never wrong.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.knowledge.load import read_rules, shipped_rules
from advisor.language.library import Library
from advisor.language.nodes import Level
from advisor.model.changes import Change
from advisor.model.results import Verdict
from advisor.model.tank import Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.judge import VERDICTS, judge
from advisor.reasoning.tables import Tables
from tests.outside.solver import Claims, claims_of, translation_of
from tests.properties.demo import bench, sitting
from tests.properties.test_survey_properties import changes, tanks
from tests.reasoning import survey_samples
from tests.reasoning.grids import random_grid
from tests.reasoning.small import VOCABULARY, library_of, rule_text
from tests.reasoning.survey_samples import survey

MOST = 6
"""Bindings of one rule and verdict that are put to the solver."""


def contradiction(verdict: Verdict, claims: Claims) -> str:
    """Return what is wrong with a sure verdict, empty if nothing is."""
    match verdict:
        case Verdict.HOLDS if claims.unmet:
            return "holds, but some completion does not meet it"
        case Verdict.FAILS if claims.kept:
            return "fails, but some completion does not"
        case Verdict.EXCUSED | Verdict.NOT_COVERED if claims.broken:
            return f"{verdict.value}, but some completion breaks it"
    return ""


def judged(
    compiled: CompiledRule, tables: Tables, most: int
) -> Iterator[tuple[Verdict, Claims, dict[str, int]]]:
    """Yield our verdict and the solver's claims for some bindings of every verdict."""
    plane = judge(compiled, tables, population_of(tables), everywhere=True)
    seen: Counter[int] = Counter()
    told = translation_of(tables, assume=compiled.rule.level is not Level.DANGER)
    for at, code in enumerate(plane.verdict.tolist()):
        if plane.bindings.worlds[at] or seen[code] >= most or VERDICTS[code] is Verdict.BY_EYE:
            continue
        seen[code] += 1
        rows = {name: int(found[at]) for name, found in plane.bindings.rows.items()}
        kinds = {
            binder.name: Kind.ANIMAL if binder.kind is Kind.CORAL else binder.kind
            for binder in compiled.binders
        }
        env: dict[str, tuple[Kind, int]] = {name: (kinds[name], row) for name, row in rows.items()}
        yield VERDICTS[code], claims_of(compiled.rule, env, told), rows


# --- formulas made at random -----------------------------------------------------

NUMBERS = (
    "gap(a, b)",
    "reach(a)",
    "reach(b)",
    "size(a)",
    "12 cm",
    "4 cm",
    "most of gap(a, n) for neighbour n of a where potency(n) > 2",
    "least of reach(n) for animal n where above(n, b)",
    "sum of size(n) for neighbour n of b where fenced(n)",
    "room(a, b)",
    "reach(b) / potency(a)",
    "size(a) * (gap(a, b) / reach(b))",
    "most of length(w) for weapon w of a",
    "least of length(w) for weapon w of b where sting(w) >= 3",
    "sum of wide(r) for rock r where wide(r) > 4 cm",
)
ATOMS = (
    "potency(a) >= 2",
    "potency(a) >= potency(b)",
    "divider(a, b)",
    "above(a, b)",
    "above(b, a)",
    "fenced(a)",
    "group(a) is group(b)",
    "group(a) is not clam",
    "genus(a) is genus(b)",
    "group(b) is one of soft, clam",
    "weapons(a) has mucus",
    "weapons(b) has not filaments",
    "light(a.spot) between 20 PAR and 45 PAR",
    "ground(b.spot) is rock",
    "warmth(tank) >= 3 °C",
    "origin(a) <= light(a.spot)",
    "strong(a)",
    "count of neighbour n of a where gap(a, n) < 6 cm >= 2",
    "any neighbour n of a where above(n, a) and potency(n) > 2",
    "every animal n where fenced(n) or reach(n) <= 8 cm",
    "b is within 2 steps of a over above",
    "a is not within 3 steps of b over near",
    "any animal n within 2 steps of a over above where potency(n) > 2",
    "every animal n within 2 steps of b over near where fenced(n)",
    "days since trimmed of a >= 6 days",
    "days since trimmed of a < days since trimmed of b",
    "any weapon w of a where sting(w) >= 3",
    "every weapon w of b where length(w) <= size(b)",
    "count of weapon w of a where sting(w) > 1 >= 2",
    "any weapon w of a where every weapon v of b where sting(v) < sting(w)",
    "any rock r where wide(r) > size(a)",
    "count of lamp l where watts(l) >= 3 <= 1",
    "every pump p where thrust(p) <= 4 or fenced(a)",
    "any fish f where bites(f) is yes",
)
LISTED = (Kind.WEAPON, Kind.ROCK, Kind.LAMP, Kind.PUMP, Kind.FISH)
WORDS = f"""{VOCABULARY}
measure sting(weapon w) in rank between 0 and 5 step 1 from card weapon-potency ask "sting of {{w}}?"
measure length(weapon w) in cm between 0 and 60 cm step 1 cm from card weapon-reach ask "length of {{w}}?"
measure wide(rock r) in cm between 0 and 90 cm step 1 cm from keeper ask "width of {{r}}?"
measure watts(lamp l) in rank between 0 and 5 step 1 from keeper ask "watts of {{l}}?"
measure thrust(pump p) in rank between 0 and 5 step 1 from keeper ask "thrust of {{p}}?"
measure bites(fish f) one of yes, no from keeper ask "does {{f}} bite?"
"""
DEFINES = """
let allowance = 3 cm because "room to swell" source "a test" kind guess
define strong(animal a) as potency(a) > 3 or weapons(a) has sweepers say "{a} is strong"
define near(animal a, animal b) as gap(a, b) < 5 cm or divider(a, b) say "{a} is near {b}"
define room(animal a, animal b) in cm as
    0 cm                             when not strong(a)
    reach(a) + allowance             when above(b, a)
    larger of reach(a), reach(b)     otherwise
  say "room"
"""


SINCE = 'define lately(animal a) as days since trimmed of a <= 6 days say "{a} was trimmed lately"\n'
"""Makes the measure of the days since a trim, wherever a random rule asks for it."""


@st.composite
def quantities(draw: st.DrawFn) -> str:
    """Draw a length."""
    one, other = draw(st.sampled_from(NUMBERS)), draw(st.sampled_from(NUMBERS))
    form = draw(st.sampled_from(("{0}", "({0}) + ({1})", "({0}) - ({1})", "larger of ({0}), ({1})",
                                 "smaller of ({0}), ({1})", "2 * ({0})")))  # fmt: skip
    return form.format(one, other)


@st.composite
def formulas(draw: st.DrawFn, depth: int = 2) -> str:
    """Draw a truth: atoms, comparisons of lengths, and what connects them."""
    kind = draw(st.sampled_from(("atom", "compare", "not", "and", "or", "and"))) if depth else "atom"
    match kind:
        case "compare":
            sign = draw(st.sampled_from((">=", ">", "<=", "<")))
            return f"({draw(quantities())}) {sign} ({draw(quantities())})"
        case "not":
            return f"not ({draw(formulas(depth - 1))})"
        case "and" | "or":
            return f"({draw(formulas(depth - 1))}) {kind} ({draw(formulas(depth - 1))})"
        case _:
            return f"({draw(st.sampled_from(ATOMS))})"


@cache
def base() -> Library:
    """Return the vocabulary and the definitions of the random rules, read once."""
    return library_of(DEFINES + SINCE, WORDS)


def made(expect: str, when: str, unless: str, level: str) -> tuple[Library, CompiledRule]:
    """Return a library with one rule for two animals, and that rule compiled."""
    text = rule_text(expect, binders="animal a, neighbour b of a", when=when, unless=unless, level=level)
    library = replace(base(), rules=library_of(text, "edition 1\n").rules)
    return library, compile_rule(library.rules["tested"], library)


@settings(max_examples=90, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    formulas(), st.just("") | formulas(1), st.just("") | formulas(1),
    st.sampled_from(("warning", "danger")), st.integers(0, 10_000),
)  # fmt: skip
def test_no_sure_verdict_of_a_random_rule_is_contradicted(
    expect: str, when: str, unless: str, level: str, seed: int
) -> None:
    library, compiled = made(expect, when, unless, level)
    grid = random_grid(library, seed, animals=3, worlds=0, known=0.4, listed=LISTED)
    for verdict, claims, rows in judged(compiled, grid, 3):
        assert not contradiction(verdict, claims), (expect, when, unless, rows, verdict)


# --- exact where every unknown is one comparison, however often it stands -----------

APART = (
    "potency(a) >= 2",
    "size(b) >= 3 cm",
    "gap(a, b) < 5 cm",
    "above(a, b)",
    "above(b, a)",
    "group(a) is clam",
    "weapons(b) has mucus",
    "light(a.spot) > 20 PAR",
)
"""Comparisons none of which shares a cell with another."""


@st.composite
def repeating(draw: st.DrawFn, depth: int = 4) -> str:
    """Draw a truth of the comparisons of `APART`, each as often as it comes."""
    kind = draw(st.sampled_from(("not", "and", "or", "and", "or"))) if depth else "atom"
    if kind == "not":
        return f"not ({draw(repeating(depth - 1))})"
    if kind == "atom":
        return f"({draw(st.sampled_from(APART))})"
    return f"({draw(repeating(depth - 1))}) {kind} ({draw(repeating(depth - 1))})"


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(repeating(), st.integers(0, 10_000))
def test_up_to_eight_repeated_unknowns_are_decided_exactly_when_logic_decides(expect: str, seed: int) -> None:
    library, compiled = made(expect, "", "", "warning")
    grid = random_grid(library, seed, animals=2, worlds=0, known=0.1)
    for verdict, claims, rows in judged(compiled, grid, 3):
        assert not contradiction(verdict, claims), (expect, rows, verdict)
        assert (verdict is Verdict.UNDECIDED) == (claims.broken and claims.kept), (expect, rows, verdict)


# --- the shipped rules -------------------------------------------------------------

SHIPPED = sorted(rule.rule.name for rule in bench().rules)


NEVER_ASKED = frozenset({"nights-are-dark"})
"""To be looked at by eye whatever is known, so that nothing is ever claimed."""


@cache
def with_sample_cards() -> Library:
    """Return the shipped rules with the invented cards of the sample tanks."""
    texts, problems = read_rules(shipped_rules())
    assert problems == ()
    rules = [(name, text) for name, text in texts if not name.startswith("corals/")]
    return survey_samples.library_of([*rules, ("cards.rules", survey_samples.CARDS)])


def counted_over(compiled: CompiledRule, tables: Tables, most: int) -> Counter[str]:
    """Put some bindings of a shipped rule to the solver; returns how many were open, and decided by it."""
    counts: Counter[str] = Counter()
    for verdict, claims, rows in judged(compiled, tables, most):
        counts["asked"] += 1
        assert not contradiction(verdict, claims), (compiled.rule.name, rows, verdict)
        if verdict is Verdict.UNDECIDED:
            counts["open"] += 1
            counts["decided by the solver"] += not (claims.broken and claims.kept)
    return counts


@cache
def in_the_demonstration(name: str) -> Counter[str]:
    """Put some bindings of a shipped rule in the demonstration tank to the solver."""
    whole = sitting()
    compiled = next(rule for rule in whole.bench.rules if rule.rule.name == name)
    return counted_over(compiled, whole.tables, MOST)


@pytest.mark.parametrize("name", SHIPPED)
def test_no_sure_verdict_in_the_demonstration_tank_is_contradicted(name: str) -> None:
    """A rule the translation does not know, or the solver gives up, fails here."""
    assert (in_the_demonstration(name)["asked"] == 0) == (name in NEVER_ASKED)


@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(tanks(), changes())
def test_no_sure_verdict_in_a_small_random_tank_is_contradicted(base: Tank, change: Change) -> None:
    tables = survey(base, [change], rules=with_sample_cards())
    for compiled in bench().rules:
        counted_over(compiled, tables, 1)


def test_how_cautious_the_shipped_rules_are(record_property: Callable[[str, object], None]) -> None:
    counts: Counter[str] = Counter()
    for name in SHIPPED:
        counts += in_the_demonstration(name)
    report(counts, "shipped rules", record_property)
    assert counts["open"] > 40  # otherwise nothing was put to the solver


def test_how_cautious_random_rules_are(record_property: Callable[[str, object], None]) -> None:
    counts: Counter[str] = Counter()

    @settings(max_examples=110, deadline=None, derandomize=True, database=None)
    @given(formulas(), st.just("") | formulas(1), st.integers(0, 10_000))
    def count(expect: str, when: str, seed: int) -> None:
        library, compiled = made(expect, when, "", "warning")
        grid = random_grid(library, seed, animals=3, worlds=0, known=0.4, listed=LISTED)
        for verdict, claims, rows in judged(compiled, grid, 3):
            assert not contradiction(verdict, claims), (expect, when, rows, verdict)
            counts["open"] += verdict is Verdict.UNDECIDED
            counts["decided by the solver"] += verdict is Verdict.UNDECIDED and not (
                claims.broken and claims.kept
            )

    count()
    report(counts, "random rules", record_property)
    assert counts["open"] > 100  # otherwise the figure says nothing


def report(counts: Counter[str], of: str, record_property: Callable[[str, object], None]) -> None:
    """Print how many open verdicts there were, and how many the solver decides."""
    for what, number in counts.items():
        record_property(f"{of}: {what}", number)
    print(f"{of}: {counts['open']} open, {counts['decided by the solver']} of them decided by the solver")
