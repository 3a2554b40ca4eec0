"""What the clerk says unasked: posts that time brings, and posts that react to what was recorded."""

from __future__ import annotations

from bot.messages import Post
from bot.posts import deadline, deal_alert, own_reminder, weekly_summary, window_reminder
from bot.skills.answering import Desk
from core.due import Due, Sort
from core.reminders import Reminder
from core.windows import SaleWindow


def timed_posts(due: Due, desk: Desk) -> list[Post]:
    """The posts for what has fallen due; none where there is nothing to say."""
    match due.about:
        case SaleWindow() as window:
            return [window_reminder.post(window, desk)]
        case Reminder() as reminder:
            return [own_reminder.post(reminder)]
        case day if due.sort is Sort.DEADLINE:
            return deadline.posts(day, desk)
        case day if due.sort is Sort.SUMMARY:
            return [weekly_summary.post(day, desk)]
        case _:
            return deal_alert.held_posts(desk)
