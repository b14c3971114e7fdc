"""Short ways from text to trees for the tests of the language."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from advisor.errors import Problem, Severity
from advisor.language.check import check
from advisor.language.library import Library
from advisor.language.nodes import Define, Expr, Rule, RuleFile
from advisor.language.parse import parse_file
from advisor.language.things import Scope
from advisor.language.valuetypes import Typer
from advisor.model.vocabulary import Kind

HERE = Path(__file__).parent
SHIPPED = HERE.parent.parent / "rules"
COMPUTED = frozenset({"gap"})
"""What the base vocabulary may have computed."""
ANIMALS: Scope = {"a": Kind.ANIMAL, "b": Kind.ANIMAL, "c": Kind.CORAL, "p": Kind.PLACE}


@cache
def base() -> RuleFile:
    """The small vocabulary of these tests, without a fault."""
    file, problems = parse_file("base.rules", (HERE / "base.rules").read_text(encoding="utf-8"))
    assert problems == ()
    return file


@cache
def base_library() -> Library:
    """The checked base."""
    library, problems = check([base()], COMPUTED)
    assert problems == ()
    return library


def read(text: str) -> RuleFile:
    """A file that must be without a fault."""
    file, problems = parse_file("test.rules", "edition 1\n" + text)
    assert problems == ()
    return file


def faults(text: str) -> tuple[Problem, ...]:
    """The problems of reading a file."""
    return parse_file("test.rules", "edition 1\n" + text)[1]


def checked(*texts: str) -> tuple[Library, tuple[Problem, ...]]:
    """The base and more files, joined; each text must be readable."""
    files = [parse_file(f"file-{index}.rules", "edition 1\n" + text) for index, text in enumerate(texts)]
    assert [problem for _, problems in files for problem in problems] == []
    return check([base(), *(file for file, _ in files)], COMPUTED)


def codes(problems: tuple[Problem, ...]) -> list[str]:
    """The codes of problems, in order."""
    return [problem.code for problem in problems]


def truth(text: str) -> Expr:
    """An expression, read as the body of a definition."""
    (item,) = read(f"define test(animal a, animal b, coral c, place p) as {text}").declarations
    assert isinstance(item, Define)
    return item.cases[0].value


def quantity(text: str) -> Expr:
    """A quantity, read as the body of a definition."""
    (item,) = read(f"define test(animal a, animal b, coral c, place p) in cm as {text}").declarations
    assert isinstance(item, Define)
    return item.cases[0].value


def rule(text: str) -> Rule:
    """One rule."""
    (item,) = read(text).declarations
    assert isinstance(item, Rule)
    return item


def typer() -> Typer:
    """A fresh typer over the base."""
    library = base_library()
    return Typer(library.vocabulary, library.lets, library.defines)


@cache
def shipped_files() -> tuple[tuple[str, str], ...]:
    """Every shipped rule file: name and text."""
    return tuple(
        (path.relative_to(SHIPPED).as_posix(), path.read_text(encoding="utf-8"))
        for path in sorted(SHIPPED.rglob("*.rules"))
    )


@cache
def shipped_trees() -> tuple[RuleFile, ...]:
    """Every shipped rule file, read; none has a fault."""
    found = [parse_file(name, text) for name, text in shipped_files()]
    assert [problem for _, problems in found for problem in problems] == []
    return tuple(file for file, _ in found)


def errors(problems: tuple[Problem, ...]) -> list[Problem]:
    """Those problems that are errors."""
    return [problem for problem in problems if problem.severity is Severity.ERROR]
