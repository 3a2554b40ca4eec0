"""A sale to come, some days before it, with the shopping list for it."""

from __future__ import annotations

from bot.messages import Post
from bot.posts import wording
from bot.skills.answering import Desk
from bot.skills.supply import Supply
from core.windows import SaleWindow


def post(window: SaleWindow, desk: Desk) -> Post:
    """The window, and what is short that usually drops in it or was bought there before."""
    wanted = Supply(desk).to_look_for(window)
    return Post(wording.window_post(window, wanted, desk.settings, desk.today))
