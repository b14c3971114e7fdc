"""Scenarios of features/flow."""

from pytest_bdd import scenarios

scenarios("flow")
