"""Prints results: pages of text built from answer models; computes nothing."""
