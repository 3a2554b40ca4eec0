"""Telegram: messages come in by the Bot API, posts go out with their buttons."""
