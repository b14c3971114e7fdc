"""Definitions that rest on themselves: found, and told as a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.errors import Problem, Related
from advisor.language.nodes import Define, Expr, Not
from advisor.language.walk import bodies, children, relied_on

_Edge = tuple[str, bool]


def loops(defines: Mapping[str, Define]) -> tuple[list[Problem], frozenset[str]]:
    """Return a problem for each loop among definitions, and the names that are part of one."""
    edges = {name: _needs(define, defines) for name, define in sorted(defines.items())}
    problems: list[Problem] = []
    looping: set[str] = set()
    done: set[str] = set()
    for start in edges:
        loop = _loop_from(start, edges, done)
        if loop and not looping.intersection(name for name, _ in loop):
            looping.update(name for name, _ in loop)
            problems.append(_told(loop, defines))
    return problems, frozenset(looping)


def _needs(define: Define, defines: Mapping[str, Define]) -> tuple[_Edge, ...]:
    """The definitions one rests on, each with whether on its denial."""
    found: dict[str, bool] = {}
    todo: list[tuple[Expr, bool]] = [(body, False) for body in bodies(define)]
    while todo:
        node, denied = todo.pop()
        for name in relied_on(node):
            if name in defines:
                found[name] = found.get(name, False) or denied
        todo.extend((child, denied or isinstance(node, Not)) for child in children(node))
    return tuple(sorted(found.items()))


def _loop_from(start: str, edges: Mapping[str, tuple[_Edge, ...]], done: set[str]) -> list[_Edge]:
    """The first loop met on the way from one definition; empty if there is none."""
    path: list[_Edge] = [(start, False)]
    branches = [iter(edges[start] if start not in done else ())]
    while branches:
        step = next(branches[-1], None)
        if step is None:
            branches.pop()
            done.add(path.pop()[0])
            continue
        names = [name for name, _ in path]
        if step[0] in names:
            at = names.index(step[0])
            return [(path[at][0], step[1]), *path[at + 1 :]]
        if step[0] not in done:
            path.append(step)
            branches.append(iter(edges[step[0]]))
    return []


def _told(loop: list[_Edge], defines: Mapping[str, Define]) -> Problem:
    """The problem of one loop; each edge's flag says whether the step to that name is a denial."""
    at = min(range(len(loop)), key=lambda index: loop[index][0])
    loop = loop[at:] + loop[:at]
    steps = []
    for index, (name, _) in enumerate(loop):
        needed, denied = loop[(index + 1) % len(loop)]
        steps.append(f"{name} needs {'not ' if denied else ''}{needed}")
    own = "its own denial" if any(denied for _, denied in loop) else "itself"
    related = tuple(Related(defines[name].span, f"{name} is defined here") for name, _ in loop[1:])
    return Problem(
        "define-801",
        f"{', '.join(steps)}: a definition cannot rest on {own}",
        defines[loop[0][0]].span,
        "the loop starts here",
        "say one of them without the other",
        related=related,
    )
