"""Scenarios of features/reports."""

from pytest_bdd import scenarios

scenarios("reports")
