"""Saying an entry anew with one thing changed, in reply to what the clerk said of it: "make it 24"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from bot.reading.corrections import Correction, Told, correction
from bot.reading.marking import Listener
from bot.reading.offers import Offer
from bot.skills.answering import Desk
from bot.skills.prices.bought import Bought
from bot.skills.prices.judging import said_again
from bot.skills.stock.have_said import Have, How
from bot.skills.stock.packed import Packed
from bot.storage.entries import rows_of
from bot.storage.prices import bought_in, seen_in
from bot.storage.stock import moves_in, packings_in
from core.money import Currency
from core.prices import Sighting
from core.stock import Move, Why


@dataclass(frozen=True, slots=True)
class _Stated:
    """What an entry tells, and the message that tells it; ``changes`` names what a correction may change."""

    told: Told
    says: Callable[[Told], str | None]
    changes: frozenset[str]


def restated(text: str, entry: int, desk: Desk, listener: Listener) -> str | None:
    """The message that says an entry anew as a text corrects it; None for one that is no such correction.

    Nor is it for an entry of several things, or of other sorts than a price, a purchase, a stock or packed kits. A
    text that replies to nothing must say plainly that it corrects.
    """
    said = correction(text, desk.at, listener)
    if said is not None and not desk.is_reply and not said.is_plain:
        return None
    stated = _stated(entry, desk) if said else None
    if said is None or stated is None:
        return None
    wanted = _changes(_in_the_price(said, stated.told, desk.settings.currency), stated)
    return None if wanted is None else stated.says(replace(stated.told, **wanted))


def is_beyond(text: str, entry: int, desk: Desk, listener: Listener) -> bool:
    """Whether a text is a correction, of an entry that cannot be said anew."""
    return correction(text, desk.at, listener) is not None and _stated(entry, desk) is None


def _changes(said: Correction, stated: _Stated) -> dict[str, Any] | None:
    """What a correction changes: one thing, or a count with its price; None where it speaks of something else."""
    told, wanted, refused = stated.told.parts(), said.wanted.parts(), said.refused.parts()
    if not (wanted.keys() | refused.keys()) <= stated.changes:
        return None
    if any(told.get(part, value) != value for part, value in refused.items()):
        return None
    changed = {part: value for part, value in wanted.items() if told.get(part) != value}
    return changed if len(changed) < 2 or changed.keys() == {"count", "price"} else None


def _in_the_price(said: Correction, told: Told, currency: Currency) -> Correction:
    """ "57 not 47" of what costs 0.47: the numbers are its price, in coins or in whole."""
    wanted, refused = said.wanted.count, said.refused.count
    if wanted is None or refused is None or told.price is None or refused == told.count:
        return said
    for unit in (Fraction(1, 10**currency.digits), Fraction(1)):
        if refused * unit == told.price:
            return Correction(
                replace(said.wanted, count=None, price=wanted * unit),
                replace(said.refused, count=None, price=told.price),
            )
    return said


def _stated(entry: int, desk: Desk) -> _Stated | None:
    """What an entry tells, where it is of one thing."""
    rows = rows_of(desk.books, entry)
    rows.pop("alerts", None)  # what the clerk told of it
    match rows:
        case {"sightings": 1, **rest} if not rest:
            return _seen(entry, desk)
        case {"sightings": 1, "purchases": 1, "stock_moves": 1, **rest} if not rest:
            return _bought(entry, desk)
        case {"stock_moves": 1, **rest} if not rest:
            return _had(moves_in(desk.books, entry)[0])
        case {"packings": 1, **rest} if rest.keys() <= {"stock_moves"}:
            return _packed(entry, desk)
        case _:
            return None


def _seen(entry: int, desk: Desk) -> _Stated:
    [seen] = seen_in(desk.books, entry)
    currency = desk.settings.currency

    def says(told: Told) -> str | None:
        offer = _offer(told, seen, currency)
        return said_again(offer, currency) if offer else None

    return _Stated(_told_of(seen, currency), says, frozenset(("item", "count", "price", "store")))


def _bought(entry: int, desk: Desk) -> _Stated:
    [purchase], [seen] = bought_in(desk.books, entry), seen_in(desk.books, entry)
    currency = desk.settings.currency

    def says(told: Told) -> str | None:
        offer = _offer(told, seen, currency)
        return Bought(offer, told.member).frame.says(said_again(offer, currency)) if offer else None

    told = replace(_told_of(seen, currency), member=purchase.buyer)
    return _Stated(told, says, frozenset(("item", "count", "price", "store", "member")))


def _told_of(seen: Sighting, currency: Currency) -> Told:
    return Told(seen.item, None, seen.count, Fraction(seen.price, 10**currency.digits), seen.store)


def _offer(told: Told, seen: Sighting, currency: Currency) -> Offer | None:
    """The offer that a sighting is, as told now; None for a price in no coins, or for a markdown that is none."""
    price = (told.price or 0) * 10**currency.digits
    if Fraction(price).denominator != 1 or (seen.regular is not None and seen.regular <= price):
        return None
    return Offer(
        told.item or seen.item,
        told.count or seen.count,
        Fraction(price),
        told.store,
        seen.seen_on,
        seen.regular,
        seen.until,
        seen.pack_limit,
    )


_HOW = {Why.HAD: How.MORE, Why.GIVEN: How.GIVEN, Why.COUNTED: How.COUNTED}


def _had(move: Move) -> _Stated | None:
    """Units that were there or were given; of a count its own figure is not known, so that it alone may change."""
    how = _HOW.get(move.why)
    if how is None:
        return None

    def says(told: Told) -> str | None:
        return Have(told.item or move.item, told.count, told.member, move.place).says(how) if told.count else None

    if how is How.COUNTED:
        return _Stated(Told(move.item, member=move.member), says, frozenset(("count",)))
    return _Stated(Told(move.item, None, move.units, member=move.member), says, frozenset(("item", "count", "member")))


def _packed(entry: int, desk: Desk) -> _Stated:
    [packing] = packings_in(desk.books, entry)

    def says(told: Told) -> str | None:
        return Packed(told.kit or packing.kit, told.count or packing.count, told.member).says()

    told = Told(kit=packing.kit, count=packing.count, member=packing.packer)
    return _Stated(told, says, frozenset(("kit", "count", "member")))
