"""Every sentence about the budget and what is spent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bot.wording.amounts import money
from bot.wording.days import day
from bot.wording.things import capital, counted, plural
from core.group import Settings
from core.money import half_up
from core.stock import Cost

BUDGET_SAID_AGAIN = "How much is the budget? Say one amount, such as: our budget is 600.00"


@dataclass(frozen=True, slots=True)
class FinishedKits:
    """Kits packed this season: what their items really cost, and in minor units what came besides."""

    kit: str
    packed: int
    items: Cost
    besides: int

    @property
    def total(self) -> Fraction:
        """All of it, exact minor units; units of unknown price count nothing."""
        return self.items.amount + self.besides


@dataclass(frozen=True, slots=True)
class Rest:
    """What the rest of the season will cost, exact minor units, how many items have no such price, of how many."""

    at_targets: Fraction
    at_best: Fraction
    without_target: int
    without_best: int
    items: int
    any: bool


@dataclass(frozen=True, slots=True)
class Spending:
    """The season's spending in minor units, since when, against what, and for what."""

    spent: int
    since: date
    budget: int | None
    finished: tuple[FinishedKits, ...]
    rest: Rest

    @property
    def besides(self) -> int:
        """What the finished kits cost besides their items."""
        return sum(one.besides for one in self.finished)


def budget_line(amount: int, settings: Settings) -> str:
    """The budget in one line."""
    return f"budget {money(amount, settings)}"


def budget_answer(line: str, was: int | None, settings: Settings) -> str:
    """The echo of the budget."""
    return f"{capital(line)}{f' (was {money(was, settings)})' if was is not None else ''}."


def spending_answer(spending: Spending, settings: Settings, today: date) -> str:
    """What is spent and left, what finished kits cost, and what the rest will cost."""
    since = day(spending.since, today, settings.country)
    besides = money(spending.besides, settings)
    also = f" and {besides} besides the items of packed kits" if spending.besides else ""
    lines = [f"Spent since {since}: {money(spending.spent, settings)}{also}{_of_budget(spending, settings)}."]
    lines += [kit_spending(one, settings) for one in spending.finished]
    if spending.rest.any:
        lines.append(_rest_line(spending.rest, settings))
    return "\n".join(lines)


def _of_budget(spending: Spending, settings: Settings) -> str:
    if spending.budget is None:
        return ""
    left = spending.budget - spending.spent - spending.besides
    much = f"{money(left, settings)} left" if left >= 0 else f"{money(-left, settings)} over"
    return f" of {money(spending.budget, settings)}, {much}"


def kit_spending(finished: FinishedKits, settings: Settings) -> str:
    """What the finished kits of one sort cost, and each of them."""
    if not finished.packed:
        return f"No {plural(finished.kit)} are packed yet this season. For all spending, ask: how much have we spent?"
    each = money(half_up(finished.total / finished.packed), settings)
    besides = f", {money(finished.besides, settings)} of it besides the items" if finished.besides else ""
    unknown = (
        f"; {counted(finished.items.unpriced, 'unit')} of unknown price left out" if finished.items.unpriced else ""
    )
    packed = f"{counted(finished.packed, finished.kit)} packed for {money(half_up(finished.total), settings)}"
    return f"{packed}{besides}: {each} each{unknown}."


def _rest_line(rest: Rest, settings: Settings) -> str:
    parts = []
    if not rest.items or rest.without_target < rest.items:
        parts.append(f"{money(half_up(rest.at_targets), settings)} by price points{_without(rest.without_target)}")
    if rest.without_best < rest.items:
        parts.append(f"{money(half_up(rest.at_best), settings)} at the best prices known{_without(rest.without_best)}")
    return f"The rest of the season: {', '.join(parts) or 'no prices known'}."


def _without(missing: int) -> str:
    return f" (without {counted(missing, 'item')} of unknown price)" if missing else ""
