"""``close_split``: someone closes an open split."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.reading.packs import Loose
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.shares import wording
from bot.skills.shares.cases import extra_in
from bot.skills.shares.closing import as_bought, close
from bot.skills.shares.ending import Ending, ending, meant, not_theirs
from bot.storage.shares import open_splits, standing
from bot.wording.things import plural
from core.shares import State

_CASE = "case|split|order|offer|deal|one|share|it|claims|requests"


def _closing(heard: Heard) -> Sequence[Ending | Unclear]:
    """The split to close, with the price or the count that it came to in the end."""
    [plain] = ending(heard)
    marked = heard.marked
    prices = [span.value.value for span in marked.each(Amount, *heard.reach) if span.value.role is Role.PRICE]
    counts = [span.value.units for span in marked.each(Loose, *heard.reach) if span.value.firm]
    extra = extra_in(heard)
    words = set(heard.said)
    item = plain.item or "soap"
    if words & _PAID_BY and named(marked, heard.reach, NameSort.MEMBER):
        example = "split 100 soaps 40.00 between me and Ines, paid by Tobias"
        return [Unclear(f"Whoever offers a case pays for it. If another paid, call it off and say: {example}")]
    if words & _WHEN:
        example = f"I can get 100 {plural(item)} for 40.00, who wants some? By friday 6pm"
        return [Unclear(f"That would close it at once. For a closing time, call it off and offer it so: {example}")]
    changed = bool(words & _NOT_THE_SUM) or any(marked.each(Each, *heard.reach))
    bare = any(word.isdigit() for word in words) and not prices and not words & _HAD
    if len(prices) > 1 or len(counts) > 1 or changed or bare or isinstance(extra, Unclear):
        return [Unclear(f"What did it come to in all? Say the whole sum so: close the {item} case at 33.48")]
    total = marked.settings.currency.minor(prices[0]) if prices else None
    return [replace(plain, total=total, extra=extra, count=counts[0] if counts else None)]


_PAID_BY = frozenset("paid payed pays bought buys".split())
_WHEN = frozenset(
    "pm noon midnight tomorrow tonight morning evening hour hours later"
    " monday tuesday wednesday thursday friday saturday sunday".split()
)
_NOT_THE_SUM = frozenset("less off % percent cheaper dearer each".split())
_HAD = frozenset("got had have of only".split())

FORMS = (
    Form(
        "close_split",
        "close it",
        _closing,
        cues=(
            "close|shut|closing|lock|end|finish the|that|this * " + _CASE,
            "close|shut|lock|wrap it up|off|now|down|in|please|pls",
            "^close|shut it|that",
            "is|are now|all closed",
            "is|are * closed to further|more|all|new",
            "order|case|split is|now closed",
            "thats|enough everyone|everybody|takers|ppl|people * close|shut",
            "no|nobody more|further takers|names|requests|claims",
            "closing the|that|this * case|one|split|now",
            "close|closing that|the|this * case|split|offer|list|carton|order|one",
            "hereby|now closed",
            "split|case|order|offer closed",
            "close * split|case|order|offer",
            "shutting|closing|wrapping the|that|this|it|up",
            "done|finish|finished|full|enough * closing|close",
            "draw the|a line under",
            "no|nobody more|else * orders|takers|forward|coming",
            "make close",
            "only got * close|of",
            "close it|that|at at|for",
        ),
        never=(
            "door|doors|window|windows|road|shop|shops|store|account|gate|lid|call|hall|curtains",
            "my|your zucchini|cake|bread",
            "did|should|shall|can|who|when|why * close|closed|shut",
            "^is|has|was",
            "dont|not|never|didnt|cant * close|shut|lock",
            "remind|remember|note|notes",
            "close it|that behind|up tight",
            "did they|you|u",
            "closes|closed at|on|early|for",
        ),
        strange=3,
        whole=True,
    ),
    Form(
        "close_split",
        "close the soap",
        _closing,
        cues=("^close|shut|end",),
        needs=frozenset((Need.ITEM,)),
        strange=0,
        whole=True,
    ),
)
TEACH = (("close the soap case", "each part is worked out and booked"),)


def answer(slots: Ending, desk: Desk) -> Answer | Ask | None:
    """Close the split and book its parts; nothing is said where none is open and no item was named."""
    found = meant(slots, desk, "close the {} case")
    if found is None:
        items = [one.case.item for one in open_splits(desk.books)]
        return Answer(wording.none_open_of(slots.item, items)) if slots.item else None
    if isinstance(found, Ask):
        return found
    bought = as_bought(found, slots.total, slots.extra, slots.count)
    return not_theirs(found, desk) or close(bought, desk)


def press(numbers: Sequence[int], desk: Desk) -> Answer | Ask | None:
    """The button that closes a split."""
    found = standing(desk.books, numbers[0])
    if found is None:
        return None
    if found.state is not State.OPEN:
        return Answer(wording.OVERTAKEN)
    return not_theirs(found, desk) or close(found, desk)


KIND = Kind("close_split", FORMS, answer, TEACH)
