"""A reply of a few words, filled into what the entry it answers has said: "make it 6pm" to a reminder at 5."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from bot.reading.corrections import is_a_value, unsighed
from bot.reading.marking import Listener
from bot.skills.answering import Desk
from bot.skills.calendar.remind import Remind
from bot.skills.calendar.whom_said import ME, US
from bot.skills.shares.wording import payment_summary
from bot.storage.calendar import reminders_in, settings_in, windows_of
from bot.storage.entries import entry as kept
from bot.storage.entries import rows_of
from bot.storage.group import price_points_in
from bot.storage.kits import contents_in, goals_in
from bot.storage.ledger import postings_in
from core.choices import Setting
from core.ledger import Payment


@dataclass(frozen=True, slots=True)
class Filling:
    """A message that an entry may have been meant to be.

    It counts where it reads as nothing but one of its ``kind``, which ``tells`` a slot and has the others the ``same``.
    """

    says: str
    kind: str
    tells: str
    same: Mapping[str, object] = field(default_factory=dict)


def filled(text: str, entry: int, desk: Desk, listener: Listener) -> Iterator[Filling]:
    """The messages that a few words may mean where they say anew what an entry has said, the likeliest first.

    Words that reply to nothing must say plainly that they correct.
    """
    text = unsighed(text)
    said = _said(text)
    if "?" in text or len(said.words.split()) > _MOST_WORDS:
        return
    way = _WAYS.get(frozenset(rows_of(desk.books, entry).items()))
    if not (desk.is_reply or _PLAIN.search(text) or (way in _DATED and _ANNOUNCES.match(text))):
        return
    is_announced = bool(_ANNOUNCES.match(text) or _REFUSES.search(text))
    if way is None or not (is_announced or way in _DATED):
        return
    if said.words.casefold() in _WHOM or way is _setting or _is_plain(text, said, desk, listener):
        yield from way(said, entry, desk)


def _is_plain(text: str, said: _Said, desk: Desk, listener: Listener) -> bool:
    """Whether nothing but a value is said; a member counts only where no one is spoken to."""
    return is_a_value(said.words, desk.at, listener, with_members=bool(_NAMES.search(text)))


def orders_change(text: str) -> bool:
    """Whether a text that replies to the clerk wants something changed, and says no more than to what."""
    return bool(_ORDERS.match(text)) and len(text.split()) <= _MOST_WORDS and "?" not in text


_ANNOUNCE = (
    r"(?:no|nope|sorry|oops|whoops|actually|pls|please|i mean|i meant|make (?:it|that)"
    r"|(?:change|move|set) (?:it|that) to|it was|it'?s|it is|(?:it |that )?should be|that'?s)(?!\w)"
)
_ANNOUNCES = re.compile(rf"\W*(?:{_ANNOUNCE}|at most\b)", re.IGNORECASE)
_OPENS = re.compile(rf"(?:\W*(?:{_ANNOUNCE}|(?:to|on|for|just|only)(?!\w)))*\W*?(?=[$£€]?\w|$)", re.IGNORECASE)
_ENDS = re.compile(r"[\s,]+(?:please|pls|thanks|thx|sorry)$", re.IGNORECASE)
_REFUSES = re.compile(r"\b(?:(?:not|instead of|rather than)\b(.*)|(?:instead|rather)\b)", re.IGNORECASE)
_TURNED = re.compile(r"not\s([^,;]+)[,;](.+)", re.IGNORECASE)
_PLAIN = re.compile(
    r"\b(?:not|instead of|rather than)\b|^\W*(?:no|sorry|oops|whoops)\W+(?:it|its|i meant|make|that|should)\b",
    re.IGNORECASE,
)
_NAMES = re.compile(r"\b(?:it was|its|it's|i meant?|make it|should be|not|instead)\b", re.IGNORECASE)
"""Words before a member who is meant, not spoken to."""
_ORDERS = re.compile(
    r"\W*(?:(?:no|sorry|oops|please|pls|can you)\W+)?(?:make (?:it|that)|(?:change|move|set) (?:it|that) to)\b",
    re.IGNORECASE,
)
_BOUND = re.compile(r"(?:at|no more) (?:most|than)\b|\b(?:max|limit|most)\b", re.IGNORECASE)
_WHOM = {"me": ME, "us": US, "all": US, "all of us": US, "everyone": US, "everybody": US}
_MOST_WORDS = 8
_LONGEST_COINS = 5
"""Digits of a bare number that is a price in the smallest coins."""


@dataclass(frozen=True, slots=True)
class _Said:
    """What is to stand in the place of what was said, and what it is not: "make it 6pm, not 5"."""

    words: str
    refused: str = ""


def _said(text: str) -> _Said:
    opener = _OPENS.match(text)
    rest = text[opener.end() :] if opener else text
    if turned := _TURNED.fullmatch(rest):
        return _Said(_bare(turned[2]), _bare(turned[1]))
    refused = _REFUSES.search(rest)
    return _Said(_bare(rest[: refused.start()] if refused else rest), _bare(refused[1] or "") if refused else "")


def _bare(words: str) -> str:
    return _ENDS.sub("", words.strip(" ,.;!-"))


_Way = Callable[[_Said, int, Desk], Iterator[Filling]]


def _reminder(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [one] = reminders_in(desk.books, entry)
    whom = US if one.whom is None else ME if one.whom == desk.speaker else one.whom
    told, at = Remind(one.what, one.on, one.at, whom), f"{one.at:%H:%M}" if one.at else None
    says, of, day, clock = told.says(), {"what": one.what}, f"{one.on}", f" at {at}" if at else ""
    if said.words.casefold() in _WHOM:
        yield Filling(told.says(_WHOM[said.words.casefold()]), "remind", "whom", of)
        return
    yield Filling(says.replace(f"{day}{clock}", f"{said.words}{clock}", 1), "remind", "on", of | {"at": at})
    yield Filling(says.replace(f"{day}{clock}", f"{day} at {said.words}", 1), "remind", "at", of | {"on": day})
    yield Filling(says.replace(f"on {day}{clock}", said.words, 1), "remind", "at", of)
    yield Filling(told.says(said.words), "remind", "whom", of | {"on": day, "at": at})


def _payment(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    """A payment alone, for a debt books two lines as well."""
    taken, given = sorted(postings_in(desk.books, entry), key=lambda line: line.amount)
    paid, found = Payment(given.member, taken.member, given.amount), kept(desk.books, entry)
    if found is None or found.summary != payment_summary(paid, desk.settings):
        return
    payer = "I" if paid.payer == desk.speaker else paid.payer
    payee = "me" if paid.payee == desk.speaker else paid.payee
    amount = desk.settings.currency.plain(paid.amount)
    yield Filling(f"{payer} paid {payee} {said.words}", "paid", "amount")
    if said.refused.casefold() in (payer.casefold(), paid.payer.casefold()):
        yield Filling(f"{said.words} paid {payee} {amount}", "paid", "from", {"amount": amount})
    else:
        yield Filling(f"{payer} paid {said.words} {amount}", "paid", "to", {"amount": amount})


def _goal(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [(kit, count, by)] = goals_in(desk.books, entry)
    day = f" by {by}" if by else ""
    same = {"kit": kit, "by": by.isoformat() if by else None}
    yield Filling(f"goal {said.words} {kit}{day}", "goal", "count", same)
    yield Filling(f"{kit} goal {said.words}", "goal", "count", {"kit": kit})
    if count is not None:
        yield Filling(f"goal {count} {kit} by {said.words}", "goal", "by", {"kit": kit, "count": count})


def _price_point(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [(item, point)] = price_points_in(desk.books, entry)
    currency = desk.settings.currency
    target = None if point.target is None else currency.plain(point.target)
    limit = None if point.limit is None else currency.plain(point.limit)
    of = {"item": item}
    if _BOUND.match(said.words):
        yield Filling(f"price point for {item} {target or ''}, {said.words}", "set_target", "limit_price", of)
    elif _BOUND.search(said.words):
        yield Filling(f"price point for {item} {said.words}", "set_target", "target", of)
    else:
        most = f", at most {limit}" if limit else ""
        is_coins = said.words.isdecimal() and len(said.words) < _LONGEST_COINS
        value = currency.plain(int(said.words)) if is_coins else said.words
        yield Filling(f"price point for {item} {value}{most}", "set_target", "target", of | {"limit_price": limit})


def _kit_line(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [(kit, item, count)] = contents_in(desk.books, entry)
    yield Filling(f"each {kit} gets {said.words} {item}", "kit_line", "count", {"kit": kit, "item": item})
    yield Filling(f"each {kit} gets {count} {said.words}", "kit_line", "item", {"kit": kit, "count": count})


def _budget(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    del entry, desk
    yield Filling(f"budget {said.words}", "set_budget", "amount")


def _setting(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [(setting, value)] = settings_in(desk.books, entry)
    day, _, clock = value.partition(" ")
    words = f"{said.words} days" if said.words.isdecimal() and setting is Setting.LEAD_DAYS else said.words
    says = _SETTINGS.get(setting)
    if setting is Setting.SUMMARY:
        says = _summary(words)
    if says:
        message = says.format(words, day=day, clock=clock)
        yield Filling(message, "set_setting", "value", {"setting": setting.value})


def _summary(words: str) -> str:
    """How the day of the summary is said anew, its hour, or both."""
    if not any(letter.isdigit() for letter in words):
        return "weekly summary on {} at {clock}"
    return "weekly summary on {day} at {}" if words[0].isdigit() else "weekly summary on {}"


_SETTINGS = {
    Setting.QUIET_HOURS: "quiet hours {}",
    Setting.ALERTS_A_DAY: "at most {} alerts a day",
    Setting.LEAD_DAYS: "remind us {} before each sale",
    Setting.TAX_RATE: "sales tax {}",
    Setting.TIMEZONE: "time zone {}",
    Setting.CURRENCY: "currency {}",
    Setting.COUNTRY: "country {}",
}


def _sale(said: _Said, entry: int, desk: Desk) -> Iterator[Filling]:
    [rule] = windows_of(desk.books, entry)
    if not rule.on:
        return
    yield Filling(f"add a sale: {rule.name} {said.words}", "add_window", "starts", {"window": rule.name})


_WAYS: Mapping[frozenset[tuple[str, int]], _Way] = {
    frozenset(rows.items()): way
    for rows, way in (
        ({"reminders": 1, "reminder_times": 1}, _reminder),
        ({"postings": 2}, _payment),
        ({"kit_goals": 1}, _goal),
        ({"price_points": 1}, _price_point),
        ({"kit_contents": 1}, _kit_line),
        ({"budgets": 1}, _budget),
        ({"settings_said": 1}, _setting),
        ({"window_rules": 1}, _sale),
    )
}
"""By the rows that an entry holds."""
_DATED = frozenset((_reminder, _sale))
"""Of which a day or time alone is told anew."""
