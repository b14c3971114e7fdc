"""Definitions that rest on themselves."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import Define
from advisor.language.strata import loops
from tests.language.texts import read


def defined(*bodies: str) -> dict[str, Define]:
    """Definitions called d0, d1, … with these bodies."""
    text = "".join(f"define d{index}(animal a) as {body}\n" for index, body in enumerate(bodies))
    return {item.name: item for item in read(text).declarations if isinstance(item, Define)}


def test_a_chain_is_no_loop() -> None:
    assert loops(defined("d1(a) and d2(a)", "d2(a)", "fed(a)")) == ([], frozenset())


def test_a_loop_is_told_as_a_sentence() -> None:
    (problem,), names = loops(defined("d1(a)", "d2(a)", "d0(a)"))
    assert problem.what == "d0 needs d1, d1 needs d2, d2 needs d0: a definition cannot rest on itself"
    assert names == {"d0", "d1", "d2"}


def test_a_denial_is_named_where_it_stands() -> None:
    (problem,), _ = loops(defined("not d1(a)", "d0(a)"))
    assert problem.what == "d0 needs not d1, d1 needs d0: a definition cannot rest on its own denial"


def test_a_loop_through_many_is_found() -> None:
    (problem,), _ = loops(defined("(count of neighbour n of a where d1(n)) >= 3", "any animal x where d0(x)"))
    assert "d0 needs d1" in problem.what


def test_what_only_leads_into_a_loop_is_no_part_of_it() -> None:
    (_,), names = loops(defined("d1(a)", "d2(a)", "d1(a)"))
    assert names == {"d1", "d2"}


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), max_size=9))
def test_a_loop_is_found_exactly_where_one_is(edges: list[tuple[int, int]]) -> None:
    needs: dict[int, set[int]] = {index: {b for a, b in edges if a == index} for index in range(6)}
    bodies = [" and ".join(f"d{b}(a)" for b in sorted(needs[a])) or "fed(a)" for a in range(6)]
    found, _ = loops(defined(*bodies))

    def reaches(start: int, goal: int) -> bool:
        seen: set[int] = set()
        todo = list(needs[start])
        while todo:
            at = todo.pop()
            if at == goal:
                return True
            if at not in seen:
                seen.add(at)
                todo.extend(needs[at])
        return False

    assert bool(found) is any(reaches(at, at) for at in range(6))


def looping(text: str) -> str:
    """What is told of a text whose definitions rest on each other; empty if they do not."""
    found, _ = loops({item.name: item for item in read(text).declarations if isinstance(item, Define)})
    return "; ".join(problem.what for problem in found)


def test_loops_through_guards_values_and_all_that_is_made_of_many_are_found() -> None:
    cases = (
        "define far(animal a) in cm as\n  1 cm when near(a)\n  2 cm otherwise\n"
        "define near(animal a) as far(a) >= 1 cm\n"
    )
    assert looping(cases) == "far needs near, near needs far: a definition cannot rest on itself"
    for body in (
        "any neighbour n of a where near(n)",
        "every neighbour n of a where near(n)",
        "(count of neighbour n of a where near(n)) >= 2",
        "(sum of room(n) for neighbour n of a where near(n)) >= 2 cm",
        "any animal n within 2 steps of a over linked where size(n) >= 1 cm and near(n)",
        "larger of (smaller of room(a), 2 cm), 1 cm >= 1 cm and near(a)",
        "size(a) between 1 cm and 2 cm or near(a)",
    ):
        text = f"define near(animal a) as far(a)\ndefine far(animal a) as {body}\n"
        assert looping(text) == "far needs near, near needs far: a definition cannot rest on itself", body


def test_a_denial_is_told_however_deep_it_stands() -> None:
    for body in (
        "not near(a)",
        "every neighbour n of a where not near(n)",
        "(count of neighbour n of a where not (size(n) >= 1 cm and near(n))) >= 2",
        "b is not within 2 steps of a over near",
    ):
        params = "animal a, animal b" if "within" in body else "animal a"
        call = "far(a, b)" if "within" in body else "far(a)"
        text = f"define near({params}) as {call}\ndefine far({params}) as {body}\n"
        told = "far needs not near, near needs far: a definition cannot rest on its own denial"
        assert looping(text) == told, body


def test_a_named_number_is_a_number_and_makes_no_loop() -> None:
    assert looping("let far = 3 cm\ndefine near(animal a) as size(a) >= far\n") == ""
