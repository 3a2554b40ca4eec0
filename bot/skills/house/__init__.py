"""The house: taking back, help, and what was not understood."""
