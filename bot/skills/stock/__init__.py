"""The stock book: what lies where, what kits hold and lack, what to buy where, when, and for how much."""
