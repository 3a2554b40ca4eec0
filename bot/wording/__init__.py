"""Phrases that all skills share: amounts, days, counts of things."""
