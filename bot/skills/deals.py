"""What the buttons of a deal alert do: buying it, sharing a case of it, leaving it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.messages import STAYS, Button, Post
from bot.skills.answering import OPENED, Answer, Ask, Declined, Desk, Place
from bot.skills.judging import price_point
from bot.skills.shares.wording import offer_summary
from bot.skills.stock import buying
from bot.skills.stock.plan_wording import none_needed
from bot.skills.supply import Supply
from bot.storage.alerts import State, alert, alerts_since, lowest_since
from bot.storage.shares import open_splits
from bot.wording import deals as wording
from core.deals import BEST_OF_MONTHS, Deal, deal
from core.prices import Sighting, since
from core.shares import Case, Offer

BUY, SHARE, LEAVE = "buy", "case", "leave"


def buttons(number: int) -> tuple[Button, ...]:
    """The buttons under an alert."""
    return (
        Button(wording.BUY, f"{STAYS}{BUY}:{number}"),
        Button(wording.SHARE, f"{STAYS}{SHARE}:{number}"),
        Button(wording.NOT_FOR_US, f"{LEAVE}:{number}"),
    )


def is_alert(post: Post) -> bool:
    """Whether a post is an alert."""
    return any(button.action.startswith(f"{STAYS}{BUY}:") for button in post.buttons)


def deal_of(sighting: Sighting, entry: int, day: date, desk: Desk, supply: Supply) -> Deal | None:
    """The deal that a price of an entry is, as the needs stand now; None for none."""
    point = price_point(desk, sighting.item)
    lowest = lowest_since(desk.books, sighting.item, since(day, BEST_OF_MONTHS), entry)
    # What is short takes longest to find out: only for a price that would be a deal if anything were.
    if deal(sighting, point, lowest, short=1) is None:
        return None
    return deal(sighting, point, lowest, supply.needs.short.get(sighting.item, 0))


def buy(numbers: Sequence[int], desk: Desk) -> Answer | Ask | None:
    """Whoever pressed is about to buy what is short; nothing where they are already."""
    found = alert(desk.books, numbers[0])
    if found is None:
        return Answer(wording.GONE)
    if any(one.item == found.sighting.item and one.member == desk.speaker for one in Supply(desk).reserved):
        return None
    answer = buying.answer(buying.Buying(found.sighting.item, None), desk)
    return replace(answer, place=Place.BELOW) if isinstance(answer, Answer) and answer.records else answer


def share(numbers: Sequence[int], desk: Desk) -> Answer:
    """Whoever pressed can get the packs that cover what is short, for members to take parts of."""
    found = alert(desk.books, numbers[0])
    if found is None:
        return Answer(wording.GONE)
    seen = found.sighting
    short = Supply(desk).needs.short.get(seen.item, 0)
    if not short:
        return Answer(none_needed(seen.item))
    packs = -(-short // seen.count)
    case = Case(seen.item, packs * seen.count, packs * seen.price, desk.speaker, seen.store)
    if any(one.case == case for one in open_splits(desk.books)):
        return Answer(wording.open_already(case.item, desk.speaker))
    return Answer("", (Offer(case),), offer_summary(case, desk.settings), split=OPENED)


def leave(numbers: Sequence[int], desk: Desk) -> Answer | None:
    """The group does not want it; nothing where that was said already."""
    found = alert(desk.books, numbers[0])
    if found is None:
        return Answer(wording.GONE)
    since_then = alerts_since(desk.books, found.sighting.item, desk.today)
    if any(one.state is State.DECLINED and one.number > found.number for one in since_then):
        return None
    declined = Declined(found.sighting, desk.today)
    return Answer(
        wording.declined(found.sighting, desk.settings),
        (declined,),
        wording.declined_summary(found.sighting),
        place=Place.INSTEAD,
    )
