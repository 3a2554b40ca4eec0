"""The collection day, six, four, two and one weeks before it, with what is short."""

from __future__ import annotations

from datetime import date

from bot.messages import Post
from bot.posts import wording
from bot.skills.answering import Desk
from bot.skills.supply import Supply


def posts(collected: date, desk: Desk) -> list[Post]:
    """What the kits collected on that day still lack; nothing where all of them are packed."""
    kits = [need for need in Supply(desk).needs.kits if need.kit.by == collected and need.kit.goal]
    if not any(need.remaining for need in kits):
        return []
    return [Post(wording.deadline_post(collected, kits, desk.settings, desk.today))]
