"""An open split comes to its end: shared out, or called off."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, CallingOff, Closing, Desk, Record
from bot.skills.judging import price_point
from bot.skills.shares import wording
from core.prices import Purchase, Sighting
from core.shares import Split, Standing, TooManyUnitsError


def close(found: Standing, desk: Desk) -> Answer | Ask:
    """Share out an open split among its takers; ask where too little is wanted, call off where nothing is."""
    if found.left < 0:
        return Answer(wording.too_many(TooManyUnitsError(found.taken, found.case.count), found.case.item))
    if not found.taken:
        text = wording.nobody_wanted(found, desk.settings)
        summary = wording.offer_summary(found.case, desk.settings)
        return Answer(text, (CallingOff(found.number),), summary, split=found.number)
    if found.missing and not desk.sure:
        return too_little_wanted(found, desk)
    text, records, summary = shared_out(found, desk)
    return Answer(text, records, summary, split=found.number)


def as_bought(found: Standing, total: int | None, extra: int, count: int | None) -> Standing:
    """The split with what the case came to in the end, or how many were had of it."""
    case = found.case
    price = (case.total if total is None else total) + extra
    return replace(found, offer=replace(found.offer, case=replace(case, total=price, count=count or case.count)))


def too_little_wanted(found: Standing, desk: Desk) -> Ask:
    """The question whether to buy all the same."""
    item, total = found.case.item, desk.settings.currency.plain(found.case.total)
    says = f"close the {item} case at {total}, only got {found.case.count}"
    anyway = Choice(wording.BUY_ANYWAY, says, sure=True, own=True)
    off = Choice(wording.CALL_OFF, f"call off the {item} case", own=True)
    return Ask(wording.too_little_wanted(found), (anyway, off))


def shared_out(found: Standing, desk: Desk) -> tuple[str, tuple[Record, ...], str]:
    """What is said, kept and remembered of a split shared out as its claims stand."""
    split = Split(found.case, found.parts(), desk.today)
    spare = (found.case.payer, found.left) if found.left else None
    text = wording.closed_answer(split, price_point(desk, found.case.item), desk.settings, spare)
    records = (*purchase_of(split), Closing(found.number, split))
    return text, records, wording.split_summary(split, desk.settings)


def purchase_of(split: Split) -> tuple[Sighting, Purchase]:
    """The purchase that a split makes, and the price it tells."""
    case = split.case
    return (
        Sighting(case.item, case.count, case.total, split.on, case.store),
        Purchase(case.item, case.count, case.total, split.on, case.payer, case.store),
    )
