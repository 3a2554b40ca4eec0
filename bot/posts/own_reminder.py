"""A reminder that somebody asked for."""

from __future__ import annotations

from bot.messages import Post
from bot.posts import wording
from core.reminders import Reminder


def post(reminder: Reminder) -> Post:
    """What to remind of, to the group or to the member it is for."""
    return Post(wording.reminder_post(reminder), to=reminder.whom)
