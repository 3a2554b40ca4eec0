"""``unclear``: two or more sensible readings, or a needed part is missing."""

from __future__ import annotations

from bot.reading.kind import Kind
from bot.reading.reader import Asked
from bot.skills.answering import Answer, Ask, Desk


def answer(slots: Asked, desk: Desk) -> Answer | Ask:
    """Ask, with the readings as choices; without any, the question is the answer."""
    del desk
    asked = slots.unclear
    return Ask(asked.question, asked.choices, asked.hole, names=asked.names, words=asked.words)


KIND = Kind("unclear", (), answer)
