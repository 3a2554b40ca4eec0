"""What every room asks before it keeps something: is the item known, the member, is the price likely."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.offers import Choice
from bot.skills.answering import Ask, Desk
from bot.storage.prices import history
from bot.wording import judged
from core.items import PricePoint
from core.prices import Sighting, Verdict, implausible, judge


def price_point(desk: Desk, item: str) -> PricePoint:
    """The item's price point as the group's names say it."""
    known = desk.group.item(item)
    return known.price_point if known else PricePoint()


def verdict_on(sighting: Sighting, desk: Desk) -> Verdict:
    """The verdict on a sighting, against everything in the books before it."""
    return judge(sighting, price_point(desk, sighting.item), history(desk.books, sighting.item, desk.today))


def unknown_item(word: str, says: str, desk: Desk) -> Ask | None:
    """The question about an item that the group has no name for; None for a known one."""
    if desk.group.item(word):
        return None
    return Ask(judged.no_such_item(word), (Choice(judged.NEW_ITEM, says),), None, word)


def unknown_items(words: Sequence[str], says: str, desk: Desk) -> Ask | None:
    """The one question about words that the group has no name for; several can only be confirmed as new items."""
    if len(words) == 1:
        return unknown_item(words[0], says, desk)
    return Ask(judged.no_such_items(words), (Choice(judged.NEW_ITEMS, says, sure=True),))


def unknown_member(name: str, says: str, desk: Desk) -> Ask | None:
    """The question about somebody who is no member of the group; None for a member."""
    if name in desk.group.members:
        return None
    return Ask(judged.no_such_member(name), (Choice(judged.new_member(name), says, joins=name),))


def unlikely(sighting: Sighting, says: str, desk: Desk) -> Ask | None:
    """The question about a price four or more times off; None for a likely one, or a confirmed one."""
    verdict = verdict_on(sighting, desk)
    if desk.sure or not implausible(sighting, verdict.price_point, verdict.history):
        return None
    return Ask(judged.is_it_right(verdict, desk.settings), (Choice(judged.KEEP_IT, says, sure=True),))
