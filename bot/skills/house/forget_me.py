"""``forget_me``: a member asks that the books forget who they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.messages import Post
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.reading.words import frequency
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.bare import Bare
from bot.skills.house import leaving_wording as wording
from bot.skills.house.wholly import wholly, words_said
from bot.storage.leaving import forget
from bot.storage.ledger import balances
from bot.storage.outbox import queue
from bot.storage.shares import open_splits
from bot.storage.stock import holdings
from core.settling import fewest_payments

SAYS = "forget me"
_VERBS = "forget|delete|erase|remove|wipe|purge|drop|strike|take|clear"
_AWAY = f"(?:{_VERBS})"
_BOOKS = (
    r"(?:your|the|these|our|this groups?) (?:own |clerks )?"
    r"(?:books?|records?|memory|data|database|files|member list|list of members)"
)
_FROM = rf"(?:out of|off|from|in) {_BOOKS}"
_MINE = r"(?:(?:full |real |own |personal |private |phone |telephone |mobile |whole )*"
_THING = rf"{_MINE}(?:name|number|data|details|info|information|account|profile|record|records|entries about me))"
_KNOWN = r"(?:that )?(?:you|u|the clerk) (?:know|have|keep|hold|store|stored|kept|remember)s? (?:about|on|of) me"
_PATTERNS = (
    rf"{_AWAY} me(?: {_FROM})",
    r"(?:forget|erase|delete) (?:all about )?me",
    rf"{_AWAY} (?:all |all of )?(?:my|the) {_THING}(?: (?:and|or) (?:my )?{_THING})*(?: (?:about|on|of) me)? {_FROM}",
    rf"{_AWAY} (?:all |all of )?my {_MINE}(?:name|data|details|info|information|account|profile|records?))"
    rf"(?: (?:and|or) (?:my )?{_THING})*",
    rf"{_AWAY} (?:all|everything|anything|(?:all )?(?:the )?data|all of what|what|whatever) (?:{_KNOWN}|about me)",
    r"(?:i|id) (?:want|wish|like|would like|demand|ask) to be "
    rf"(?:forgotten(?: by (?:you|the clerk))?|(?:removed|deleted|erased|taken) {_FROM})",
    r"(?:stop keeping|dont keep|do not keep) my (?:data|name|name and number|details)",
)


def _forget_me(heard: Heard) -> Sequence[Bare]:
    return [Bare()] if wholly(words_said(heard), _PATTERNS) else []


_WHOLE = Form(
    "forget_me",
    "forget me",
    _forget_me,
    cues=(
        f"{_VERBS} * me|my|you|u|data|about",
        "to be forgotten|removed|deleted|erased|taken",
        "stop keeping my",
        "dont|not keep my",
    ),
    never=("forget me not|nots",),
    strange=9,
    whole=True,
    first=True,
)
FORMS = (_WHOLE, replace(_WHOLE, whole=False, first=False))
TEACH = (("forget me", "your name and number go out of the books; they stay balanced"),)
_PLAIN_WORD = 2000
"""How often a name stands in the English word list before it is a plain word too: "will", "grace"."""


def answer(slots: Bare, desk: Desk) -> Answer | Ask | None:
    """Ask once, with what stays behind; forget whoever has confirmed it."""
    del slots
    if desk.group.private:
        return Answer(wording.YOURS_ALONE)
    return _forgotten(desk) if desk.sure else _asked(desk)


def _asked(desk: Desk) -> Ask:
    me = desk.speaker
    payments = [one for one in fewest_payments(balances(desk.books)) if me in (one.payer, one.payee)]
    held = {item: one.units for item, holders in holdings(desk.books).items() for one in holders if one.member == me}
    claimed = {one.case.item: units for one in open_splits(desk.books) if (units := one.units_of(me))}
    question = wording.shall_i_forget(me, payments, held, claimed, desk.settings)
    return Ask(
        question,
        (Choice(wording.FORGET, SAYS, sure=True, own=True), Choice(wording.KEEP, "", own=True)),
        declined=wording.NOTHING_FORGOTTEN,
    )


def _forgotten(desk: Desk) -> Answer | None:
    """Forget the speaker; in their own chat, which shows the group no more, that is said out of their own books."""
    found = forget(desk.books, desk.speaker, in_any_case=frequency(desk.speaker.casefold()) < _PLAIN_WORD)
    if found.books is desk.books:
        return Answer(wording.forgotten(found.name))
    queue(found.books, Post(wording.forgotten(found.name)), desk.at)
    return None


KIND = Kind("forget_me", FORMS, answer, TEACH)
