"""Settings every test shares."""

from __future__ import annotations

from hypothesis import settings

# The same cases on every run and on every machine; how long one takes says nothing about the code.
settings.register_profile("advisor", deadline=None, derandomize=True, max_examples=80)
settings.load_profile("advisor")
