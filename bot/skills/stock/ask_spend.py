"""``ask_spend``: someone asks what is spent, what a finished kit cost, and what the rest of the season will cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Desk
from bot.skills.costing import Spent, in_packed, spent_on_items
from bot.skills.stock import spend_wording
from bot.skills.stock.kit_wording import no_such_kit
from bot.skills.stock.said import kits_in, which_kit
from bot.skills.stock.shopping import short_items
from bot.skills.stock.spend_wording import FinishedKits, Rest, Spending
from bot.skills.supply import Supply
from bot.storage.prices import spent
from core.group import Kit
from core.money import Currency
from core.stock import Cost


@dataclass(frozen=True, slots=True)
class AskSpend:
    """The kit asked about, None for all spending."""

    kit: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``ask_spend``."""
        del currency
        return {} if self.kit is None else {"kit": self.kit}


def _spend(heard: Heard) -> Sequence[AskSpend | Unclear]:
    kits = kits_in(heard)
    if named(heard.marked, heard.reach, NameSort.STORE):
        return []
    if not kits:
        return [AskSpend()]
    if kits[0].rivals:
        return [which_kit(kits[0].rivals, lambda kit: f"what have we spent on {kit}?")]
    return [AskSpend(kits[0].name)]


FORMS = (
    Form(
        "ask_spend",
        "what is spent",
        _spend,
        cues=(
            "how|what|whats much|have|has|did|did|we|been|all|is|the * spent|spend|spending",
            "spent|spending so far|total|up|on|this|already|until",
            "spending * so|total|report|please|pls|on",
            "running|current total|spend|spending",
            "how much * gone|used|left|remaining",
            "whats|what|how much * left of|in|budget",
            "budget status|left|remaining|?|so|check",
            "are|were we * over|under|within|on budget",
            "hows|how * budget",
            "what * cost|costs|paid us|out so|altogether|far",
            "what will|would|does the rest * cost",
            "total|altogether spend|cost|outlay|spending|spent",
            "what|whats left|remaining * budget",
            "how much more * cost",
            "hav|have|has we spent",
            "where do|does we|it stand * budget|money|spending",
            "show|tell|list|see * spending|spent",
            "have|has * cost us|so",
            "did the|our|a|one * cost us|so",
            "rest|remainder * cost",
            "what|whats|hows our|the|this|season budget",
            "what|whats is our|the budget",
            "spent|spend|spending to date|now",
            "remaining|current budget",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "who|when|why",
            "where did|is|are|was|have|should|can",
            "did|have you|u|he|she|they",
            "i|you|u|he|she|they spent|spend",
            "my|your|his|her|their",
            "weekend|evening|day|night|time|holiday",
        ),
        strange=1,
    ),
)
TEACH = (("how much have we spent?", "against the budget, and what a finished kit cost"),)


def answer(slots: AskSpend, desk: Desk) -> Answer:
    """Tell what is spent this season, what finished kits cost, and what the rest will cost."""
    supply = Supply(desk)
    if slots.kit is not None:
        kit = supply.kit(slots.kit)
        if kit is None:
            return Answer(no_such_kit(slots.kit, desk.group.kits))
        return Answer(spend_wording.kit_spending(_finished(kit, supply, spent_on_items(desk)), desk.settings))
    season, items = supply.season, spent_on_items(desk)
    spending = Spending(
        spent(desk.books, season.start, season.end),
        season.start,
        desk.group.budget,
        tuple(_finished(kit, supply, items) for kit in supply.kits if supply.packed.get(kit.name)),
        _rest(supply),
    )
    return Answer(spend_wording.spending_answer(spending, desk.settings, desk.today))


def _finished(kit: Kit, supply: Supply, items: dict[str, Spent]) -> FinishedKits:
    packed = supply.packed.get(kit.name, 0)
    costs = in_packed(kit, items, supply.desk.today)
    return FinishedKits(kit.name, packed, sum(costs.values(), Cost()), packed * sum(kit.costs.values()))


def _rest(supply: Supply) -> Rest:
    """What the needs still cost, with what the kits to come cost besides their items."""
    short = short_items(supply)
    besides = sum(need.remaining * sum(need.kit.costs.values()) for need in supply.needs.kits)
    targets = [one.at_target for one in short if one.at_target is not None]
    bests = [one.at_best for one in short if one.at_best is not None]
    return Rest(
        sum(targets, Fraction(besides)),
        sum(bests, Fraction(besides)),
        len(short) - len(targets),
        len(short) - len(bests),
        len(short),
        bool(short or besides),
    )


KIND = Kind("ask_spend", FORMS, answer, TEACH)
