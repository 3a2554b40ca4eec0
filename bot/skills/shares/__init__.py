"""The money book: splits, claims, payments, and who owes what."""
