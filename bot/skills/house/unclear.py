"""``unclear``: two or more sensible readings, or a needed part is missing."""

from __future__ import annotations

from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Ask, Desk


def answer(slots: Unclear, desk: Desk) -> Answer | Ask:
    """Ask, with the readings as choices; without any, the question is the answer."""
    del desk
    return Ask(slots.question, slots.choices, slots.hole)


KIND = Kind("unclear", (), answer)
