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
