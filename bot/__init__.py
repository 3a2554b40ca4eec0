"""Packing Clerk: the assistant in the group's chat."""
