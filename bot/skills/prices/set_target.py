"""``set_target``: someone sets the price point of an item."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each, Per
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Frame, Unclear, coins_or_notes
from bot.reading.packs import Loose, Multi
from bot.reading.presence import for_each, priced
from bot.reading.pricing import minus_said
from bot.reading.sentences import Sentence, statements_of
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import is_talk, item_words, unknown_item
from bot.reading.words import singular
from bot.skills.answering import Answer, Ask, Desk, NewPricePoint
from bot.skills.judging import price_point
from bot.skills.judging import unknown_item as ask_about
from bot.skills.prices import wording
from bot.skills.prices.about_item import asks_number, items_said
from core.counts import Quantity
from core.items import PricePoint
from core.money import Currency, TooLargeError

_EXAMPLE = "price point for pens 9 cents, 12 at most"


@dataclass(frozen=True, slots=True)
class SetTarget:
    """The price point to keep; a part that is None stays as it was."""

    item: str
    point: PricePoint

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``set_target``."""
        slots: dict[str, object] = {"item": self.item}
        if self.point.target is not None:
            slots["target"] = currency.plain(self.point.target)
        if self.point.limit is not None:
            slots["limit_price"] = currency.plain(self.point.limit)
        return slots


def _set_target(heard: Heard) -> Sequence[SetTarget | Unclear]:
    if asks_number(heard):
        return []
    statements = statements_of(heard.marked, [Sentence(*heard.reach, False)])
    if len(statements) > 1:
        heard_apart = [Heard(heard.marked, statement.reach, (), heard.speaker) for statement in statements]
        return [found for one in heard_apart if (found := _one(one))]
    found = _one(heard)
    return [found] if found else []


def _one(heard: Heard) -> SetTarget | Unclear | None:
    items = items_said(heard)
    if not items and (unknown := _unknown(heard)):
        if not _can_be_packed(heard, unknown):
            return None
        items = [item_words(heard.marked, unknown)]
    if len(items) != 1:
        return Unclear(f"Which item is that price point for? Try: {_EXAMPLE}")
    if minus_said(heard.marked, heard.reach):
        return Unclear(f"A minus sign makes no price point. Try: {_EXAMPLE}")
    amounts = list(heard.marked.each(Amount, *heard.reach))
    first = amounts[0].end if amounts else heard.reach[1]
    numbers = [span.value.units for span in heard.marked.each(Loose, *heard.reach) if span.start >= first]
    try:
        point = _point(heard.marked, heard.reach, [span.value for span in amounts], numbers)
    except TooLargeError:
        return Unclear(f"That price point is over a million. Try: {_EXAMPLE}")
    if point is None:
        return Unclear(f"What should one {items[0]} cost? Try: {_EXAMPLE}", (), f"price point for {items[0]} {{}}")
    if point.target is not None and point.target <= 0:
        return Unclear(f"A price point must be more than nothing. Try: {_EXAMPLE}")
    if point.target and point.limit and point.limit < point.target:
        return Unclear(f"The most to pay is less than the price point itself. Try: {_EXAMPLE}")
    return SetTarget(items[0], point)


def _unknown(heard: Heard) -> Reach | None:
    """The thing that no name of the group is for, the one that opens the sentence first: "glue sticks, target 0.25"."""
    marked, (start, end) = heard.marked, heard.reach
    parted = next((index for index in range(start, end) if marked.text_at(index) in (",", ":")), start)
    opening = unknown_item(marked, (start, parted))
    if opening == (start, parted) and (parted - start > 1 or _is_plural(marked, opening)):
        return opening
    while (run := unknown_item(marked, (start, end))) and marked.text_at(run[0]) in _VERBS:
        start = run[0] + 1
    return run


def _can_be_packed(heard: Heard, unknown: Reach) -> bool:
    """Whether money set for an unknown thing is a price for each, and no sum to raise or to spend: "the raffle"."""
    marked, said = heard.marked, set(heard.said)
    if is_talk(marked, unknown):
        return False
    small = any(span.value.value < 1 for span in marked.each(Amount, *heard.reach))
    return bool(
        said & _POINTS or small or for_each(marked, heard.reach) or (said & _TARGETS and _is_plural(marked, unknown))
    )


def _is_plural(marked: Marked, run: Reach) -> bool:
    last = marked.text_at(run[1] - 1)
    return last != singular(last)


_POINTS = frozenset(("point", "pt", "points"))
_TARGETS = frozenset(("target", "targets"))
_VERBS = frozenset("set make change drop raise lower bump update put move adjust have".split())


def _limit_alone(heard: Heard) -> Sequence[SetTarget | Unclear]:
    """ "Soap limit 50c": the most to pay, where no price stands beside it."""
    return [] if priced(heard.marked, heard.reach) else _set_target(heard)


def _bare(heard: Heard) -> Sequence[SetTarget | Unclear]:
    """The question about a price point without point or sign: "price point for pens 9"."""
    numbers = [span.value.units for span in heard.marked.each(Loose, *heard.reach)]
    items = items_said(heard)
    if len(numbers) != 1 or len(items) != 1:
        return []
    if numbers[0] <= 0:
        return [Unclear(f"A price point must be more than nothing. Try: {_EXAMPLE}")]
    currency = heard.marked.settings.currency
    return [coins_or_notes(numbers[0], currency, Frame(f"price point for {items[0]} "))]


def _point(marked: Marked, reach: tuple[int, int], amounts: list[Amount], numbers: list[int]) -> PricePoint | None:
    currency = marked.settings.currency
    if len(amounts) == 1 and not numbers and _only_a_limit(marked, reach):
        amounts = [Amount(amounts[0].value, Role.MOST)]
    targets = [amount.value for amount in amounts if amount.role is not Role.MOST]
    limits = [amount.value for amount in amounts if amount.role is Role.MOST]
    if not targets and not limits:
        return None
    if not limits and numbers and targets:
        limits = [Fraction(numbers[-1], 10**currency.digits)] if targets[0] < 1 else [Fraction(numbers[-1])]
    units = _units(marked, reach)
    if len(targets) > 1 and targets[-1] * units == targets[0]:
        targets = targets[:1]
    target = currency.minor_exact(targets[0]) / units if targets else None
    limit = currency.minor_exact(limits[0]) / units if limits else None
    return PricePoint(target, limit)


def _only_a_limit(marked: Marked, reach: tuple[int, int]) -> bool:
    words = [marked.text_at(index) for index in range(*reach)]
    said = _MOST_WORDS & {*words} or _MOST_PAIRS & {*pairwise(words)}
    return bool(said) and not {*words} & (_POINTS | _TARGETS)


_MOST_WORDS = frozenset("most max maximum never limit tops over under below above top highest ceiling".split())
_MOST_PAIRS = frozenset((("more", "than"), ("go", "up"), ("pay", "up"), ("spend", "up"), ("as", "high")))


def _units(marked: Marked, reach: tuple[int, int]) -> int:
    """For how many units the price point was said: "72c a dozen" is for 12."""
    for each in marked.each(Each, *reach):
        if each.value.per is Per.SEVERAL:
            return each.value.units
    for multi in marked.each(Multi, *reach):
        return max(multi.value.packs, 1)
    for quantity in marked.each(Quantity, *reach):
        return max(quantity.value.units or 1, 1)
    before = marked.each(Amount, *reach)[:1]
    for loose in marked.each(Loose, reach[0], before[0].start if before else reach[1]):
        return max(loose.value.units, 1)
    return 1


_NEVER = (
    "is|are * good|ok|worth",
    "would|should|do|does i|we",
    "^is|are|does|would|beat",
    "beat|beats",
    "reminder|reminders",
    "i|he|she|they|you try|tries|keep|keeps|aim",
    "^saw|spotted|seen",
    "lets|let you|me|them|him|her",
    "put|drop money|cash|coins",
)
_TARGET = "price|target|limit|max|targets|prices"

FORMS = (
    Form(
        "set_target",
        "a price point",
        _set_target,
        cues=(
            "price point|pt|points",
            "target|targets",
            "set|make|change|drop|raise|lower|bump|update|put|move|adjust * " + _TARGET + "|to|as|at",
            "set|change|drop|raise|lower|bump|put",
            "most|max we|well|wed|id|to|i|that ever|pay|go|spend|give|would|will|should",
            "we|lets|let|dont|us never|dont|not go|pay|spend|over",
            "never go|pay|more|over",
            "go|going|pay|spend up|as to|high",
            "top|highest|ceiling price for|on|of|is|:",
            "shouldnt|mustnt|cant|not|never cost * more|over|above",
            "we pay",
            "^dont|never go|pay|spend",
            "limit|max|most|maximum for|on",
            "we|well|weve will|to|ll pay|give",
            "well pay",
            "we should|ought pay|aim|go",
            "have a target|price",
            "we dont go|pay over|more",
            "from now",
            "new target|price|limit|max",
        ),
        needs=frozenset((Need.AMOUNT, Need.THING)),
        never=_NEVER,
        strange=4,
    ),
    Form(
        "set_target",
        "a price to aim for",
        _set_target,
        cues=(
            "aim|aiming|shoot|shooting for|at",
            "aim|aiming|try to pay|spend|stay|keep|get",
            "^keep * under|below|at",
        ),
        needs=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(*_NEVER, "my|your|his|her|their"),
        strange=2,
    ),
    Form(
        "set_target",
        "the most to pay, without a price",
        _limit_alone,
        cues=("limit|max|maximum|ceiling|cap", "no|not more|over than", "not|never over|above"),
        needs=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(*_NEVER, "per customer|person|household|family|head", "per|each|a customer|person"),
        strange=1,
    ),
    Form(
        "set_target",
        "a price point as a bare number",
        _bare,
        cues=("price point|pt for|on|of",),
        needs=frozenset((Need.ITEM, Need.COUNT)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("what|whats|wat|how|which|is|remind|do|did",),
        strange=1,
    ),
    Form(
        "set_target",
        "a price point without its item",
        _set_target,
        cues=("price point|pt|points", "set|make|change|new * target|limit"),
        needs=frozenset((Need.AMOUNT,)),
        lacks=frozenset((Need.ITEM,)),
        strange=0,
    ),
    Form(
        "set_target",
        "a price point without its price",
        _set_target,
        cues=(
            "set|change|make|drop|raise|lower|bump|update|adjust|move|put * price|target * point|pt|for|on|target",
            "set|change|make|update target|price",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        strange=2,
    ),
)
TEACH = ((_EXAMPLE, "what pens are judged by"),)


def _said_again(slots: SetTarget, desk: Desk) -> str:
    plain = desk.settings.currency.plain
    target = "" if slots.point.target is None else f" {plain(slots.point.target)}"
    limit = "" if slots.point.limit is None else f", at most {plain(slots.point.limit)}"
    return f"price point for {slots.item}{target}{limit}"


def answer(slots: SetTarget, desk: Desk) -> Answer | Ask:
    """Keep the price point; a part that was not said stays, if it still fits."""
    if ask := ask_about(slots.item, _said_again(slots, desk), desk):
        return ask
    before = price_point(desk, slots.item)
    target = slots.point.target if slots.point.target is not None else before.target
    limit = slots.point.limit if slots.point.limit is not None else before.limit
    if target is not None and limit is not None and limit < target:
        target, limit = slots.point.target, slots.point.limit
    point = PricePoint(target, limit)
    echo = wording.target_set(slots.item, point, before, desk.settings)
    return Answer(echo, (NewPricePoint(slots.item, point),), f"price point for {slots.item}")


KIND = Kind("set_target", FORMS, answer, TEACH)
