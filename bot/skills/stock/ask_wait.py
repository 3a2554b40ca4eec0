"""``ask_wait``: someone asks whether to buy an item now, or wait for the sales."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.strangers import named_as
from bot.skills.answering import Answer, Desk
from bot.skills.judging import price_point
from bot.skills.stock import plan_wording
from bot.skills.supply import Supply
from bot.wording.amounts import unit_prices
from bot.wording.waiting import advice_line
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Wait:
    """The item asked about."""

    item: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot: the item."""
        del currency
        return {"item": self.item}


def _wait(heard: Heard) -> Sequence[Wait]:
    items = [named_as(heard.marked, span) for span in named(heard.marked, heard.reach, NameSort.ITEM)]
    return [Wait(item) for item in dict.fromkeys(items)]


FORMS = (
    Form(
        "ask_wait",
        "now, or wait for the sales",
        _wait,
        cues=(
            "should|shall|do|would|better|best|can|or|worth|to|might|rather|wiser|we|i * wait|waiting",
            "wait * or buy|get|now",
            "now or wait|later|hold|after",
            "or|to|better|worth|should|on hold|hang|holding|hanging on|off|out|for",
            "should|shall|can|do|would|must|or|i|we hold|hang off|out|on",
            "hold|hang on|off|out * or get|buy|now",
            "hold|hang|holding|hanging on|off|out for",
            "hold|hang on|off|out with * ?",
            "hold|wait off|on * ?",
            "wait with|for * ?",
            "wait ?",
            "hold off|out ?",
            "get|gets|be|getting|go|going|come cheaper",
            "going to get|be cheaper",
            "point|sense|use waiting|holding|in",
            "will * on sale|sales|clearance|markdown",
            "are|is|do|does * go|goes|going|ever on sale|sales|clearance|markdown",
            "will|are|is|do|does * marked|knocked|reduced down|next|again|soon|in",
            "sale|sales|markdown * coming|soon|due|before|ahead",
            "good|right|best|bad time|moment to buy|get|stock|pick",
            "now or in|after|next|is",
            "wait|waiting for|till|until * sale|sales|clearance|markdown|markdowns",
            "before|after the sale|sales|clearance",
            "worth waiting",
            "before|until|till|after the * sale|sales|clearance|markdown|markdowns",
            "folly|silly|daft|foolish|wise|smart|mad|better|best to|if * buy|get|wait",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "reminder|reminders",
            "cant|cannot|couldnt|dont|didnt|wont wait",
            "wait for me|us|him|her|you",
            "^wait ,|!|what",
            "waited",
            "wait|hold in|at|here|there|outside",
            "use|used|were|was|did|bought",
            "my|your|his|her|their",
            "^when do|does|will|are",
            "what|which * time|month|season * do|does|will|are",
        ),
        strange=2,
    ),
)
TEACH = (("should we buy crayons now or wait?", "against the sales before the kits are due"),)


def answer(slots: Wait, desk: Desk) -> Answer:
    """Advise to buy or to wait, with the reason."""
    supply = Supply(desk)
    if not supply.needs.short.get(slots.item):
        return Answer(plan_wording.none_needed(slots.item))
    advice = supply.advice(slots.item)
    if advice is None:
        return Answer(plan_wording.cannot_advise(slots.item, slots.item in supply.best))
    then = advice.expected.unit_price if advice.expected else None
    tell = unit_prices((advice.today, then), desk.settings, price_point(desk, slots.item))
    return Answer(advice_line(slots.item, advice, tell, desk.settings, desk.today))


KIND = Kind("ask_wait", FORMS, answer, TEACH)
