"""The weekly summary, on the group's day and hour."""

from __future__ import annotations

from datetime import date

from bot.messages import Post
from bot.skills.answering import Desk
from bot.skills.house.week_wording import week_text
from bot.skills.weekly import week


def post(ends: date, desk: Desk) -> Post:
    """The summary of the week that ends on a day."""
    return Post(week_text(week(ends, desk, latest=True), desk.settings, desk.today))
