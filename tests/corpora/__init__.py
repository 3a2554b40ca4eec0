"""Corpora of messages in many voices, and how readings of them are scored."""
