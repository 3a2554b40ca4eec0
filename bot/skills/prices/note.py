"""``note``: someone keeps a remark about an item."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.reading.strangers import item_words, unknown_item
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item as ask_about
from bot.skills.prices import wording
from bot.skills.prices.about_item import items_said
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
    text = heard.marked.said(*heard.reach).strip(" ,.:-")
    for opener in ("note:", "note that", "note,", "note"):
        if text.lower().startswith(opener):
            text = text[len(opener) :].strip(" ,:-")
            break
    items = items_said(heard)
    unknown = unknown_item(heard.marked, heard.reach)
    if not items and unknown and heard.marked.text_at(unknown[0] - 1) in _POINTERS:
        items = [item_words(heard.marked, unknown)]
    if not items and heard.marked.text_at(heard.reach[0]) == "note" and heard.marked.text_at(heard.reach[0] + 1) == ":":
        return [Unclear("Which item is that about? Try: note: the blue sharpeners break")]
    return [Remark(item, text) for item in items[:1]]


_POINTERS = frozenset("the those these on about".split())

_FAILS = (
    "break|breaks|broke|snap|snaps|crack|cracks|leak|leaks|smudge|smudges|smear|smears|rip|rips|tear|tears|jam|jams|melt|melts"
    "|crumble|crumbles|crumbly|rust|rusts|fade|fades|peel|peels|fray|frays|shed|sheds|skip|skips|smell|smells|stink|stinks"
    "|squeak|squeaks|splinter|splinters|wobble|wobbles|deflate|deflates|burst|bursts|split|splits|bleed|bleeds|stain|stains"
    "|unravel|unravels|shrink|shrinks|chip|chips|bend|bends|scratchy|flimsy|trash|garbage|useless|rubbish|junk|crap|awful|terrible|snag|snags"
)
_HOLDS = "sturdy|sturdier|durable|solid|lasts|last|strong"
_WEARS = "hard|soft|mouldy|moldy|blunt|dull|soggy|flat|crumbly|dry"
_WORKS = "sharpen|sharpens|write|writes|work|works|erase|erases|bounce|bounces|last|lasts|foam|foams|lather"
_PLEASANT = "nicely|well|badly|great|lovely|long|beautifully"

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
            "fyi * " + _FAILS,
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
            "remember when|to|how|us|me|i|we|that|the * time|day|night",
            "remember when|to|how|us|me|i",
            "put me|us|him|her * down",
        ),
        strange=8,
    ),
    Form(
        "note",
        "how well it is made",
        _note,
        cues=(
            "the|those|these|them|of|all|cheap * " + _FAILS,
            "the|those|these * dry|dries|drying out|up",
            "the|those|these * go|goes|went|get|gets|turn|turned * " + _WEARS,
            "the|those|these * fall|falls|fell|come|comes|wear|wears apart|off|out",
            "the|those|these * lose|loses|lost their|its|the",
            "bristles|strings|lids|handles|caps|tips * fall|snap|break|come|pop",
            "well|badly|poorly|nicely made",
            "good|poor|bad|great|nice|better quality",
            "dont|never buy|get the|those|these|that",
            "are|is|were|was|really|very|so|too|far " + _FAILS + "|" + _HOLDS,
            _WORKS + " * " + _PLEASANT,
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "my|his|her|our|your|ur|mum|kid|kids|son|daughter",
            "stood|stepped|sat on",
            "who|when|did|cancel|cancelled|close|closed",
            "from|of|out|off|in the|that|this|our split",
        ),
        strange=6,
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
