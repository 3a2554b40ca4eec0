"""``kit_cost``: a cost of each kit that is no item: the carton, a share of the shipping."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.amounts import Amount, Role
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.reading.words import Sort
from bot.skills.answering import Answer, Ask, Desk, NewCost
from bot.skills.stock import kit_wording
from bot.skills.stock.said import KitSaid, kits_in, which_kit
from core.money import Currency, TooLargeError, TooManyDecimalsError


@dataclass(frozen=True, slots=True)
class KitCost:
    """What each kit costs for one thing, in minor units, 0 for nothing any more."""

    kit: str
    what: str
    amount: int

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: which kit, what for, how much."""
        return {"kit": self.kit, "what": self.what, "amount": currency.plain(self.amount)}


def _cost(heard: Heard) -> Sequence[KitCost | Unclear]:
    marked = heard.marked
    kits = sorted(kits_in(heard), key=lambda kit: marked.text_at(kit.start - 1) not in _EACH)
    amounts = [span for span in marked.each(Amount, *heard.reach) if span.value.role in _ROLES]
    if not kits or len(amounts) != 1 or named(marked, heard.reach, NameSort.ITEM):
        return []
    what = _what(heard, kits[0]) or _behind(heard, amounts[0].end)
    if not what:
        return []
    currency = marked.settings.currency
    try:
        amount = currency.minor(amounts[0].value.value)
    except (TooManyDecimalsError, TooLargeError):
        return [Unclear(kit_wording.COST_SAID_AGAIN)]
    if kits[0].rivals:
        return [which_kit(kits[0].rivals, lambda kit: f"{what} is {currency.plain(amount)} per {kit}")]
    return [KitCost(kits[0].name, what, amount)]


_ROLES = (Role.PRICE, Role.EXTRA, Role.NOW)
_EACH = frozenset("per each every".split())


def _what(heard: Heard, kit: KitSaid) -> str:
    """What the money is for: the words before the verb, else before the amount, without small ones and the kit."""
    marked = heard.marked
    start = heard.reach[0]
    while marked.text_at(start) in _SMALL or kit.start <= start < kit.end:
        start += 1
    return _words(heard, start, _VERBS)


def _behind(heard: Heard, start: int) -> str:
    """What the money is for, said behind it: "0.45 for packaging"."""
    while heard.marked.text_at(start) in _SMALL:
        start += 1
    return _words(heard, start, _VERBS | _EACH | {"to", "in", "on"})


def _words(heard: Heard, start: int, until: frozenset[str]) -> str:
    marked, end = heard.marked, start
    kits = {kit.start for kit in kits_in(heard) if marked.text_at(kit.start - 1) in _EACH}
    ends = {index for index in range(start, heard.reach[1]) if marked.text_at(index) in until or index in kits}
    while end < heard.reach[1] and marked.tokens[end].sort is Sort.WORD and end not in ends:
        end += 1
    return marked.said(start, end).lower() if end > start and end - start <= _LONGEST else ""


_LONGEST = 4
_SMALL = frozenset("the a an each every per our and so also ok we pay for of in add plus figure count reckon".split())
_VERBS = frozenset(
    "is are costs cost comes come runs run charges charge at was will be takes adds sets per for us goes went rose has"
    " now itself".split()
)

FORMS = (
    Form(
        "kit_cost",
        "what each kit costs besides",
        _cost,
        cues=(
            "per|each|every|a * kit|pouch|pouches|bag|bags|box|boxes|sock|socks|pack|bundle|roll|set",
            "per|each|every",
            "for|on each|every|one",
        ),
        lacks=frozenset((Need.ITEM,)),
        never=(
            "how|what|whats|who|does|do|did|why|is|are it|that|we",
            "who|whos|if|would|could|might|should",
            "paid|paying|spent|owe|owes|split",
            "sale|library|fair",
            "airport|airline|flight|hotel|luggage|baggage",
        ),
        strange=4,
    ),
)
TEACH = (("shipping is 9.00 per school pouch", "a cost of each kit that is no item"),)


def answer(slots: KitCost, desk: Desk) -> Answer | Ask:
    """Note the cost."""
    kit = desk.group.kit(slots.kit)
    if kit is None:
        return Answer(kit_wording.no_such_kit(slots.kit, desk.group.kits))
    line = kit_wording.cost_line(slots.kit, slots.what, slots.amount, desk.settings)
    others = {what: amount for what, amount in kit.costs.items() if what != slots.what}
    text = kit_wording.cost_answer(line, others, kit.costs.get(slots.what), desk.settings)
    return Answer(text, (NewCost(slots.kit, slots.what, slots.amount),), line)


KIND = Kind("kit_cost", FORMS, answer, TEACH)
