"""Questions that wait for an answer: what a pressed button or a typed "24" refers to."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from datetime import datetime, timedelta

PATIENCE = timedelta(minutes=30)
"""How long a typed word alone still answers the last question; buttons answer for ever."""

_BARE_ANSWER = re.compile(
    r"^\W*(?:about\s+)?[$£€]?\s?\d[\d.,]*\s?(?:c|p|¢|cents?|pence|each|in a pack|in each|per pack|ct|pcs)?\W*$",
    re.I,
)


@dataclass(frozen=True, slots=True)
class Option:
    """One answer: its label, the message it amounts to, and what it teaches.

    ``same_as`` is the item that the unknown word means: an item of the group, "" for a new item, None where
    nothing is to be learnt. ``sure`` confirms what was asked about.
    """

    label: str
    says: str
    same_as: str | None = None
    sure: bool = False


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """A question as it is kept; ``at`` is the moment of the message it is about."""

    text: str
    at: datetime
    options: tuple[Option, ...] = ()
    hole: str | None = None
    unknown: str | None = None

    def to_json(self) -> str:
        """The question as text for the books."""
        options = [[option.label, option.says, option.same_as, option.sure] for option in self.options]
        return json.dumps(
            [self.text, self.at.isoformat(), options, self.hole, self.unknown], ensure_ascii=False
        )

    @classmethod
    def from_json(cls, written: str) -> OpenQuestion:
        """The question back from its text."""
        text, at, options, hole, unknown = json.loads(written)
        return cls(
            text, datetime.fromisoformat(at), tuple(Option(*option) for option in options), hole, unknown
        )

    def typed(self, words: str) -> Option | None:
        """The answer that typed words give: a label, its number in the list, or what fills the hole."""
        plain = words.strip().casefold().strip(".!")
        for option in self.options:
            if plain == option.label.casefold():
                return option
        if self.hole and _BARE_ANSWER.match(words):
            return Option(words.strip(), self.hole.replace("{}", words.strip()))
        return None
