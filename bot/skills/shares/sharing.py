"""Shares out a stated case, or the last purchase, among members."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk, NewSplit
from bot.skills.judging import price_point, unlikely
from bot.skills.shares import wording
from bot.skills.shares.closing import purchase_of
from bot.skills.shares.parties import ME, Party
from bot.skills.shares.sharing_said import Sharing
from bot.storage.entries import last_entry
from bot.storage.prices import bought_in, last_bought, seen_in
from bot.storage.shares import is_split
from bot.wording.things import plural
from core.prices import Purchase, Sighting
from core.shares import Case, Split, TooFewUnitsError, TooManyUnitsError, Wanted, parts_of

NOW = 0
"""Stands for the entry that the message itself makes."""
_FRESH = timedelta(days=2)
"""How long a purchase of somebody else is still what "that" means."""


def by_name(name: str | None, desk: Desk) -> str:
    """The member behind a name of a message; "me", or none, is the speaker."""
    return desk.speaker if name in (None, ME) else name or desk.speaker


def share(split_of: Split, bought: int | None, spare: tuple[str, int] | None, desk: Desk) -> Answer:
    """Keep a split, with its purchase unless that is in the books already."""
    text = wording.split_answer(split_of, price_point(desk, split_of.case.item), desk.settings, spare)
    purchase = () if bought is not None else purchase_of(split_of)
    return Answer(text, (*purchase, NewSplit(split_of, bought)), wording.split_summary(split_of, desk.settings))


def share_stated(
    split_case: Case, parties: tuple[Party, ...], says: str, desk: Desk, bought: int | None
) -> Answer | Ask:
    """Share out a case among parties; units left over are the payer's. Says what is wrong where it cannot be."""
    parties = tuple(Party(by_name(party.name, desk), party.units, party.rest) for party in parties)
    resting = [party.name for party in parties if party.rest]
    equal = any(party.units is None and not party.rest for party in parties)
    spare_to = resting[0] if len(resting) == 1 else split_case.payer
    takes_rest = len(resting) == 1 and not equal
    wanted = [Wanted(party.name, 0 if party.rest and takes_rest else party.units) for party in parties]
    try:
        parts = parts_of(split_case, wanted, spare_to)
    except TooManyUnitsError as fault:
        return Answer(wording.too_many(fault, split_case.item))
    except TooFewUnitsError as fault:
        return Answer(wording.too_few(fault, split_case.item))
    split = Split(split_case, parts, desk.today)
    if bought is None and (ask := unlikely(purchase_of(split)[0], says, desk)):
        return ask
    asked = _asked_for(wanted, split_case.count)
    spare = split_case.count - asked
    return share(split, bought, (spare_to, spare) if spare and not takes_rest else None, desk)


def _asked_for(wanted: list[Wanted], count: int) -> int:
    """Units that somebody is to have, equal shares in whole units among them."""
    stated = sum(one.units or 0 for one in wanted)
    equal = len({one.member for one in wanted if one.units is None})
    return stated + (count - stated) // equal * equal if equal else stated


def last_purchase(item: str | None, desk: Desk) -> tuple[list[Case], int | None]:
    """The cases that "that" can mean, and the entry of their purchase: NOW, or None where they are only seen."""
    said = [record for record in desk.said if isinstance(record, Purchase)]
    if said and desk.replied_entry is None:
        return _cases(said, item), NOW
    entry = desk.replied_entry
    if entry is None or not (bought_in(desk.books, entry) or seen_in(desk.books, entry)):
        entry = last_bought(desk.books, desk.speaker, desk.at - _FRESH, item)
        own = last_entry(desk.books, desk.speaker)
        if own and entry is not None and own.number > entry and _only_seen(own.number, desk):
            return [], None  # the speaker told a price since, and may mean that
    if entry is None:
        return [], None
    bought = bought_in(desk.books, entry)
    if bought:
        return _cases(bought, item), entry
    seen = [one for one in seen_in(desk.books, entry) if item in (None, one.item)]
    return [_case(one, desk.speaker) for one in seen], None


def _only_seen(entry: int, desk: Desk) -> bool:
    """True for an entry of prices seen without a purchase."""
    return bool(seen_in(desk.books, entry)) and not bought_in(desk.books, entry)


def _cases(bought: list[Purchase], item: str | None) -> list[Case]:
    return [_case(one, one.buyer) for one in bought if item in (None, one.item)]


def _case(seen: Purchase | Sighting, payer: str) -> Case:
    return Case(seen.item, seen.count, seen.price, payer, seen.store)


def share_last(slots: Sharing, said: str, desk: Desk) -> Answer | Ask:
    """Share out the last purchase, or the price replied to; ``said`` are the words that name the parties."""
    cases, entry = last_purchase(slots.item, desk)
    if not cases:
        return _ask_whether_bought(slots.item, said, desk)
    if len(cases) > 1:
        items = list(dict.fromkeys(case.item for case in cases))
        more = _extra_said(slots.extra, desk)
        choices = tuple(Choice(name, f"split the {name} {said}{more}") for name in items)
        return Ask(wording.which_purchase(items), choices)
    [case] = cases
    if entry and is_split(desk.books, entry, case.item):
        return Answer(wording.split_already(case, desk.settings))
    case = replace(case, total=max(0, case.total + slots.extra))
    says = f"split {case.count} {plural(case.item)} {desk.settings.currency.plain(case.total)} {said}"
    return share_stated(case, slots.members, says, desk, entry)


def _extra_said(extra: int, desk: Desk) -> str:
    """What comes on top of a purchase, to be said again."""
    plain = desk.settings.currency.plain(abs(extra))
    return f", {'plus' if extra > 0 else 'less'} {plain}" if extra else ""


def _ask_whether_bought(item: str | None, said: str, desk: Desk) -> Answer | Ask:
    """Where nothing was bought: was the price that the speaker told last a purchase?"""
    own = last_entry(desk.books, desk.speaker)
    fresh = own is not None and desk.at - own.at <= _FRESH
    seen = [one for one in seen_in(desk.books, own.number) if item in (None, one.item)] if own and fresh else []
    if len(seen) != 1:
        return Answer(wording.NOTHING_TO_SPLIT)
    case = _case(seen[0], desk.speaker)
    price = desk.settings.currency.plain(case.total)
    says = f"split {case.count} {case.item} {price}{f' at {case.store}' if case.store else ''} {said}"
    return Ask(wording.did_you_buy(case, desk.settings), (Choice(wording.YES_SHARE, says),))
