"""A difference on the screen: rules first, then what matters most to the keeper."""

from __future__ import annotations

from advisor.model.difference import Declared, DeclaredChange, DiffAnswer, Flip, LineChange, Meaning, Side
from advisor.reports.difference import difference_page
from advisor.reports.printer import render

CHANGE = DeclaredChange(
    id="let room",
    kind="let",
    name="room",
    what=Declared.CHANGED,
    file="spacing.rules",
    line=24,
    lines=(
        LineChange(clause="value", old="2 cm", new="8 cm"),
        LineChange(clause="because", old="a", new="b"),
    ),
)


def flip(
    meaning: Meaning = Meaning.REFUSED,
    about: str = "tank",
    subjects: tuple[str, ...] = ("torch-1", "candy-1"),
    causes: tuple[str, ...] = ("let room",),
    told: tuple[str, str] = ("holds by 2 cm", "fails by 4 cm"),
    *,
    traced: bool = True,
) -> Flip:
    sides = [Side(answer=text.split(" ")[0], told=text) for text in told]
    rule = "" if about in ("place", "first") else "keeps-its-room"
    return Flip(
        meaning=meaning,
        about=about,
        tank="small",
        rule=rule,
        level="warning" if rule else "",
        subjects=subjects,
        before=sides[0],
        after=sides[1],
        sentence="torch-1 and candy-1 are close",
        causes=causes,
        traced=traced,
    )


def shown(answer: DiffAnswer, level: int = 1, *, short: bool = False) -> str:
    return render(difference_page(answer, level, short=short))


def answer(*flips: Flip, changes: tuple[DeclaredChange, ...] = (CHANGE,)) -> DiffAnswer:
    return DiffAnswer(
        before="shipped", after="house.rules", changes=changes, flips=flips, tanks=("small",), compared=7
    )


def test_rules_come_first_then_answers_with_their_cause() -> None:
    lines = shown(answer(flip())).splitlines()
    assert lines[:4] == ["shipped -> house.rules", "", "WRITTEN OTHERWISE", "  let room: 2 cm -> 8 cm"]
    assert lines[5:8] == [
        "NOW REFUSED: 1 in the tank",
        "  keeps-its-room (warning), by let room",
        "    torch-1 and candy-1  holds by 2 cm -> fails by 4 cm",
    ]
    assert lines[-2] == "1 edit: 1 answer changed."
    assert lines[-1] == "Compared: 0 outcomes of examples; 7 verdicts and places in small."


def test_few_are_shown_and_the_rest_is_counted() -> None:
    many = [flip(subjects=(f"a-{index}", "b-1")) for index in range(5)]
    text = shown(answer(*many))
    assert "a-2 and b-1" in text
    assert "a-3" not in text
    assert "and 2 more: --level 2" in text
    deep = shown(answer(*many), 2)
    assert "a-4" in deep
    assert "torch-1 and candy-1 are close" in deep
    assert "(spacing.rules:24)" in deep
    assert "because" in deep


def test_causes_that_count_only_together_and_those_nobody_saw() -> None:
    assert "by let a and rule b, only together" in shown(answer(flip(causes=("let a", "rule b"))))
    assert "perhaps by let a; making" in shown(answer(flip(causes=("let a",), traced=False)))
    assert "by no single edit" in shown(answer(flip(causes=(), traced=False)))


def test_each_kind_of_answer_is_told_in_its_own_words() -> None:
    place = flip(about="place", subjects=("torch-1", "ledge"), told=("YES", "NO"))
    moved = flip(Meaning.ELSEWHERE, "first", ("torch-1",), told=("ledge", "shelf"))
    example = flip(Meaning.LESS, "example", ("near", "x-1"), told=("holds by 3 cm", "holds by 2 cm"))
    text = shown(answer(place, moved, example))
    assert "torch-1 at ledge  YES -> NO" in text
    assert "torch-1  ledge -> shelf" in text
    assert '"near": x-1  holds by 3 cm -> holds by 2 cm' in text
    assert "2 answers changed, 1 with less to spare" in text


def test_the_same_word_for_another_reason_names_the_rules() -> None:
    other = flip(Meaning.OTHERWISE, "place", ("torch-1", "ledge"), told=("NO", "NO"))
    sides = [Side(answer="NO", told="NO", reasons=(rule,)) for rule in ("a", "b")]
    other = other.model_copy(update={"before": sides[0], "after": sides[1]})
    assert "NO: now b; no longer a" in shown(answer(other))


def test_graver_as_before() -> None:
    assert "fails by 4 cm as before, a warning now" in shown(
        answer(flip(told=("fails by 4 cm", "fails by 4 cm")))
    )


def test_what_was_added_renamed_or_taken_out() -> None:
    gone = CHANGE.model_copy(update={"id": "rule old", "kind": "rule", "what": Declared.REMOVED})
    fresh = CHANGE.model_copy(
        update={"id": "rule new", "kind": "rule", "what": Declared.RENAMED, "old_name": "older", "lines": ()}
    )
    text = shown(answer(changes=(gone, fresh)))
    assert "rule old: removed" in text
    assert "rule new was called older" in text
    assert "no answer changes" in text


def test_nothing_differs() -> None:
    same = DiffAnswer(before="a", after="a", notes=("house.rules:3 this line is left out",))
    assert "Both say the same." in shown(same)
    assert "NOTE  house.rules:3 this line is left out" in shown(same)


def test_no_line_is_wider_than_the_screen() -> None:
    long = flip(
        about="example", subjects=("a title that goes on and on and says a lot of what is in it", "x-1")
    )
    assert max(map(len, shown(answer(long), 2).splitlines())) <= 80


def test_short_is_a_line_for_each() -> None:
    (told,) = shown(answer(flip()), short=True).splitlines()
    assert told.startswith("now refused: small: torch-1 and candy-1 [keeps-its-room]: ")
    assert told.endswith(": holds by 2 cm -> fails by 4 cm; by let room")


def test_ones_own_tank_comes_before_every_example() -> None:
    example = flip(about="example", subjects=("too close", "a-1"))
    other = flip(subjects=("plate-1", "candy-1"), causes=("let flow",))
    text = shown(answer(flip(), example, other))
    assert (
        text.index("torch-1 and candy-1") < text.index("plate-1 and candy-1") < text.index('"too close": a-1')
    )
