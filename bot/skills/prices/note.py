"""``note``: someone keeps a remark about an item."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.evidence import one_item, told_count
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.reading.presence import counted, priced
from bot.reading.spans import Reach
from bot.reading.strangers import item_words, strange_words, unknown_item
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item as ask_about
from bot.skills.prices import wording
from bot.skills.prices.about_item import items_said
from bot.skills.prices.remark_words import CUES
from bot.skills.prices.remarks import tells_what_it_is_like
from core.items import Note
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Remark:
    """A remark about an item, in the words of whoever made it."""

    item: str
    text: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``note``."""
        del currency
        return {"item": self.item, "text": self.text}


def _note(heard: Heard) -> Sequence[Remark | Unclear]:
    if _is_offer(heard) or heard.said[0] in _ASKING or (heard.asked and heard.said[0] in ("do", "have")):
        return []
    text = _OPENER.sub("", heard.marked.said(*_told_in(heard)).strip(" ,.:-"))
    items = items_said(heard)
    unknown = unknown_item(heard.marked, heard.reach)
    if not items and unknown and heard.marked.text_at(unknown[0] - 1) in _POINTERS:
        items = [item_words(heard.marked, unknown)]
    if not items and heard.marked.text_at(heard.reach[0]) == "note" and heard.marked.text_at(heard.reach[0] + 1) == ":":
        return [Unclear("Which item is that about? Try: note: the blue sharpeners break")]
    return [Remark(item, text) for item in items[:1]]


def _remark(heard: Heard) -> Sequence[Remark | Unclear]:
    return _note(heard) if tells_what_it_is_like(heard) else []


def _told_in(heard: Heard) -> Reach:
    """What is kept: all of a short message that says nothing else, so that a remark in two sentences is one."""
    whole = (0, len(heard.marked.tokens))
    others = (0, heard.reach[0]), (heard.reach[1], whole[1])
    more = priced(heard.marked, whole) or any(counted(heard.marked, other) for other in others)
    return heard.reach if more or whole[1] > _SHORT or one_item(heard.marked) is None else whole


_SHORT = 30
"""Tokens of a message that may be kept as it is."""


def _is_offer(heard: Heard) -> bool:
    """Whether a price is all that is to be noted: "note down pens 10 for 0.90 at larkmoor"."""
    marked, reach = heard.marked, heard.reach
    placed = told_count(marked, reach) or named(marked, reach, NameSort.STORE)
    strange = [index for index in strange_words(marked, reach) if marked.text_at(index) not in _NOTING]
    return priced(marked, reach) and bool(placed) and not strange


def _remark_beside(heard: Heard) -> Sequence[Remark | Unclear]:
    """A remark that goes with a price: "bought 20 pens 2.00, they leak tho"."""
    return _remark(heard) if priced(heard.marked, (0, heard.reach[0])) else []


_ASKING = frozenset("which what whats who when where why how did does is are was has".split())
_NOTING = frozenset("note noted nb remark fyi jot record".split())
_OPENER = re.compile(r"^note( that)?\b[ ,:-]*", re.IGNORECASE)
_POINTERS = frozenset("the those these on about".split())

FORMS = (
    Form(
        "note",
        "note: ...",
        _note,
        cues=("^note|nb|remark|noted|fyi",),
        needs=frozenset((Need.ITEM,)),
        never=("note to self",),
        strange=12,
    ),
    Form(
        "note",
        "note that ...",
        _note,
        cues=(
            "note|nb|noted",
            "make|take|keep|write|put|add|leave * note|remark",
            "record|remember|note|remind|record that",
            "^remember|record",
            "remember the|those|these|for|this|that",
            "so we remember|know",
            "remembered that",
            "fyi those|these|the",
            "heads|headsup up",
            "careful|beware|warning|avoid with|of|the|those",
            "stay|steer|keep away|clear",
            "jot|write|put * down",
            "written down",
            "keep a|that|this * remark|mind|note|file|somewhere",
            "on file",
            "for next time",
            "worth noting",
            "for our notes",
            "trust me on",
            "remark",
            "beware",
            "word of praise|warning",
        ),
        needs=frozenset((Need.THING,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "note to self",
            "remember when|to|how|us|me|i|we|that|the * time|day|night|year|halloween|christmas|party|trip|picnic",
            "did leave|put|write|make|keep",
            "remember when|to|how|us|me|i",
            "put me|us|him|her * down",
        ),
        strange=8,
    ),
    Form(
        "note",
        "what it is like",
        _remark,
        cues=(CUES,),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "stood|stepped|sat on",
            "note to self",
            "cancel|cancelled|close|closed",
            "from|of|out|off|in the|that|this|our split",
        ),
        strange=8,
    ),
    Form(
        "note",
        "and what they are like",
        _remark_beside,
        cues=("they|theyre|these|those|it|its|some|half|most",),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        strange=4,
        apart=True,
    ),
)
TEACH = (("note: the blue sharpeners break", "told with every price of theirs"),)


def answer(slots: Remark, desk: Desk) -> Answer | Ask:
    """Keep the remark."""
    if ask := ask_about(slots.item, f"note: {slots.item}: {slots.text}", desk):
        return ask
    note = Note(slots.item, slots.text, desk.speaker, desk.today)
    echo = wording.noted(note)
    return Answer(echo, (note,), f"note on {slots.item}")


KIND = Kind("note", FORMS, answer, TEACH)
