"""The day the tests of this folder are set on."""

from __future__ import annotations

from datetime import date

DAY = date(2026, 11, 2)
