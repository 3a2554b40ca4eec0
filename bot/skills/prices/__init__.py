"""The price book: what was seen, whether it is good, what we would pay."""
