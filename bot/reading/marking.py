"""The tokens of a message with every span found in it, in the order in which one sort of span wins over another."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from bot.reading.amounts import find_amounts
from bot.reading.dates import find_dates
from bot.reading.each import find_each
from bot.reading.limits import find_limits
from bot.reading.markdowns import find_markdowns
from bot.reading.mentions import find_mentions
from bot.reading.names import Names, find_names
from bot.reading.packs import find_quantities
from bot.reading.sizes import find_sizes
from bot.reading.spans import Marked
from bot.reading.taxes import find_taxes
from bot.reading.words import tokens_of
from core.group import Settings

_FINDERS: tuple[Callable[[Marked], None], ...] = (
    find_mentions,
    find_taxes,
    find_markdowns,
    find_dates,
    find_sizes,
    find_amounts,
    find_limits,
    find_each,
    find_quantities,
)


@dataclass(frozen=True, slots=True)
class Listener:
    """Who speaks in which group: what reading needs besides the text and the time."""

    names: Names
    settings: Settings
    speaker: str = ""


def mark(text: str, at: datetime, listener: Listener) -> Marked:
    """The tokens of a cleaned text with every span found in it; the group's names win over all else."""
    marked = Marked(text, tokens_of(text), at, listener.settings)
    find_names(marked, listener.names, listener.speaker)
    for find in _FINDERS:
        find(marked)
    return marked
