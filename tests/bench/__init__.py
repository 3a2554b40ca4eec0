"""Measurements run by hand and never by the tests: each prints ratios against a reference of the same run."""
