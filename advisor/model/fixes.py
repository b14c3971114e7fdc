"""What was mended in rule files without asking: only what cannot change a verdict."""

from __future__ import annotations

from advisor.model.tank import Model


class FixedPlace(Model):
    """One place of a file that was written as it had been read before."""

    line: int
    """In the file as it was; counts from 1."""
    column: int
    code: str
    """The problem it mends; empty where none was told."""
    was: str
    now: str


class FileFix(Model):
    """What became of one rule file."""

    file: str
    places: tuple[FixedPlace, ...] = ()
    refused: str = ""
    """Why nothing was written although something could be mended."""
