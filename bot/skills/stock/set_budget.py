"""``set_budget``: someone sets what the group can spend this season."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from bot.reading.amounts import Amount, Role
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.numbers import numbers_in
from bot.reading.offers import Unclear
from bot.reading.strangers import strange_words
from bot.skills.answering import Answer, Desk, NewBudget
from bot.skills.stock import spend_wording
from bot.skills.stock.people import people_in
from bot.skills.stock.said import above_nothing, kits_in
from core.money import Currency, TooLargeError, TooManyDecimalsError


@dataclass(frozen=True, slots=True)
class Budget:
    """What the group can spend, in minor units."""

    amount: int

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``set_budget``."""
        return {"amount": currency.plain(self.amount)}


def _budget(heard: Heard) -> Sequence[Budget | Unclear]:
    marked = heard.marked
    if heard.asked or named(marked, heard.reach, NameSort.ITEM) or kits_in(heard):
        return []
    spans = [span for span in marked.each(Amount, *heard.reach) if span.value.role is Role.PRICE]
    amounts = [span.value.value * (1000 if marked.text_at(span.end) in _THOUSAND else 1) for span in spans]
    if _of_another(heard):
        return []
    amounts = amounts or ([] if _vague(heard) else _whole_money(heard))
    if len(amounts) != 1:
        return [Unclear(spend_wording.BUDGET_SAID_AGAIN)] if len(amounts) > 1 else []
    try:
        return [Budget(marked.settings.currency.minor(amounts[0]))]
    except (TooManyDecimalsError, TooLargeError):
        return [Unclear(spend_wording.BUDGET_SAID_AGAIN)]


def _of_another(heard: Heard) -> bool:
    """Whether it is the budget of somebody or something else: "Ines's wedding budget"."""
    marked, reach = heard.marked, heard.reach
    strange = [index for index in strange_words(marked, reach) if marked.text_at(index) not in _OF_THE_GROUP]
    before = (index for index in strange if marked.text_at(index + 1) == "budget")
    behind = (index for index in strange if index > 2 and marked.has_phrase(index - 3, ("budget", "for", "the")))
    beside = next(before, None) is not None or next(behind, None) is not None
    return beside or any(who.owns for who in people_in(heard))


def _vague(heard: Heard) -> bool:
    """Whether a bare number need not be money, nor the group's: "we can spend 5 on that"."""
    said = set(heard.said)
    return bool(said & _SPENDING) and not said & _OURS


_THOUSAND = frozenset(("k", "grand"))
_SPENDING = frozenset(("spend", "work"))
_OURS = frozenset("budget season year".split())
_OF_THE_GROUP = frozenset(
    "season group packing overall raise lower set change budget hereby our kits annual yearly".split()
)


def _whole_money(heard: Heard) -> list[Fraction]:
    """A budget said as a bare number is in whole money: nobody means 600 cents."""
    return [number.value for number in numbers_in(heard.marked, heard.reach, _NO_SUMS)]


_NO_SUMS = frozenset(("a", "an", "the", "one", "some"))

FORMS = (
    Form(
        "set_budget",
        "our budget is",
        above_nothing(_budget),
        cues=(
            "budget",
            "our|the|season|group budgets",
            "we can|may|could spend",
            "budget is|of|at|to|for|:|now|=",
            "set|make|put|raise|lower * budget",
            "set|make|put|raise|lower the|our|a|this budget at|to|of|is",
            "as|for our|the budget",
            "to spend|work this|with",
            "have|got * to spend|work",
        ),
        never=(
            "how|what|whats|who|why|where|did|does",
            "^is|are|can|could|do",
            "over|under|within|blew|blown|on|tight|left|remaining budget",
            "what|how|for|on a budget",
            "my|his|her|their|your|food|travel|holiday|grocery budget",
            "each|every|per",
            "a|per week|month|day|night",
            "i budget|have|got|spend|spent",
            "if|imagine|suppose|had|was",
            "budget meeting|airline|airlines|talk|cut|cuts|hotel|car",
            "spend at|on",
        ),
        strange=3,
    ),
)
TEACH = (("our budget is 600.00", "for the season"),)


def answer(slots: Budget, desk: Desk) -> Answer:
    """Set the budget."""
    line = spend_wording.budget_line(slots.amount, desk.settings)
    text = spend_wording.budget_answer(line, desk.group.budget, desk.settings)
    return Answer(text, (NewBudget(slots.amount),), line)


KIND = Kind("set_budget", FORMS, answer, TEACH)
