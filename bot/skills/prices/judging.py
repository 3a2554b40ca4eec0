"""From an offer to a verdict: the sighting it is, the history it is judged against."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bot.reading.offers import Choice, Frame, Offer, place_words
from bot.skills.answering import Ask, Desk
from bot.skills.prices import wording
from bot.storage.prices import notes
from bot.wording.amounts import UnitPrice
from bot.wording.judged import KEEP_IT, is_it_right
from core.counts import SHELF_PACKS
from core.money import Currency
from core.prices import Sighting, Verdict, implausible


def sighting_of(offer: Offer, desk: Desk) -> Sighting:
    """The sighting to keep of an offer; a unit price with a fraction of a cent becomes that of several units."""
    several = offer.price.denominator
    regular = None if offer.regular is None else offer.regular * several
    return Sighting(
        offer.item,
        offer.count * several,
        int(offer.price * several),
        offer.seen_on or desk.today,
        offer.store,
        regular,
        offer.until,
        offer.limit,
    )


def facts(verdict: Verdict, tell: UnitPrice, desk: Desk, kept: str = "") -> list[str]:
    """The lines under a verdict: what is kept and remembered, remarks, how to set a price point."""
    past = wording.history_line(verdict, tell, desk.settings, desk.today)
    if kept and past == wording.NO_HISTORY:
        past = wording.FIRST_OF_ALL
    lines = [
        " ".join(filter(None, (kept, past))),
        wording.note_line(notes(desk.books, verdict.sighting.item)),
        wording.how_to_judge(verdict),
    ]
    return [line for line in lines if line]


def doubt(verdict: Verdict, offer: Offer, frame: Frame, desk: Desk) -> Ask | None:
    """The question about a price four or more times off; None for a likely one or a confirmed one.

    ``frame`` are the words that keep the offer's kind when it is said again.
    """
    sighting, currency = verdict.sighting, desk.settings.currency
    if desk.sure or not implausible(sighting, verdict.price_point, verdict.history):
        return None
    choices = [Choice(KEEP_IT, frame.says(said_again(offer, currency)), sure=True)]
    hole = None
    if sighting.count == 1 and sighting.regular is None:
        hole = frame.says(said_again(offer, currency, "{}"))
        choices += [Choice(wording.it_was_for(size), hole.replace("{}", str(size))) for size in SHELF_PACKS]
    return Ask(is_it_right(verdict, desk.settings), tuple(choices), hole)


def said_again(offer: Offer, currency: Currency, count: str = "") -> str:
    """An offer as a message that reads as the same offer; ``count`` stands in for its own count."""
    if offer.regular is not None and offer.price.denominator != 1:
        several = offer.price.denominator
        whole = replace(
            offer, count=offer.count * several, price=offer.price * several, regular=offer.regular * several
        )
        return said_again(whole, currency)
    price = currency.plain(offer.price)
    if offer.regular is not None:
        price = f"was {currency.plain(offer.regular)} now {price}"
    elif offer.price.denominator != 1:
        price = f"{currency.plain(Fraction(offer.price, offer.count))} each"
    place = place_words(offer.store, offer.seen_on, offer.until, offer.limit or None)
    return f"{count or offer.count} {offer.item} {price}{place}"
