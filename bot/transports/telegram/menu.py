"""What people see of the clerk before they write: its command menu, its description, its short words."""

from __future__ import annotations

import asyncio

from telegram import Bot

from bot.skills.commands import COMMANDS
from bot.transports.telegram.patience import answered

# Limits (manual): description 0-512, short description 0-120, a command 1-32, what it does 1-256 characters.
DESCRIPTION = (
    "I am the packing clerk of a group that packs gift kits. Write me what you see in a shop, “12 pencils 0.47 at"
    " corner store”, and I say whether that is a good price. I keep the books: prices, stock, who owes what, what each"
    " kit still needs, the sales to come. Add me to your group, or write here to see your own view of it."
)
SHORT = "Keeps the books of a group that packs gift kits: prices, stock, shares, sales to come."


class Menu:
    """The menu of one bot."""

    def __init__(self, bot: Bot) -> None:
        self._bot = bot

    async def show(self, stop: asyncio.Event) -> None:
        """Set all of it, however long that takes."""
        commands = [(command.name, command.does) for command in COMMANDS]
        await answered(lambda: self._bot.set_my_commands(commands), stop)
        await answered(lambda: self._bot.set_my_description(DESCRIPTION), stop)
        await answered(lambda: self._bot.set_my_short_description(SHORT), stop)
