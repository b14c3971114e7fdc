"""Settings every test shares."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import settings

import advisor.session.opening

# The same cases on every run and on every machine; how long one takes says nothing about the code.
settings.register_profile("advisor", deadline=None, derandomize=True, max_examples=80)
settings.load_profile("advisor")


@pytest.fixture(autouse=True, scope="session")
def _nothing_kept_between_runs() -> Iterator[None]:
    """Rules read inside a test process stay in its memory; what is kept on disk has tests of its own."""
    patch = pytest.MonkeyPatch()
    patch.setattr(advisor.session.opening, "cache_folder", lambda: None)
    yield
    patch.undo()
