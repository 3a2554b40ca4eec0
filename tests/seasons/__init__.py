"""Whole seasons of a group, played through the assistant and worked out a second way."""
