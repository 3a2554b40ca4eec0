"""``undo``: someone takes back the last entry."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk, Place
from bot.skills.bare import Bare
from bot.skills.house import wording
from bot.skills.house.settings_wording import who_can
from bot.skills.house.undo_said import FORMS, Named
from bot.storage.calendar import settings_in
from bot.storage.entries import entry, last_entries, last_entry, undo
from bot.storage.shares import resting_on, standing, touched_by
from bot.storage.stock import drawing_on
from bot.wording.days import day
from core.entries import Entry
from core.shares import State

TEACH = (("take that back", "your last entry goes out of the books"),)


def answer(slots: Bare | Named, desk: Desk) -> Answer:
    """Take back the entry replied to, or named, else the speaker's last; another's is only offered."""
    if isinstance(slots, Named):
        return _take_back_named(slots, desk)
    if desk.replied_entry is not None:
        return take_back(desk.replied_entry, desk)
    own = last_entry(desk.books, desk.speaker)
    if own and (desk.only_asked or desk.is_reply):
        return Answer(wording.nothing_kept(own), offer_take_back=own.number)
    if own and desk.at - own.at > _LONG_AGO:
        return Answer(wording.is_it_that(own, _day_of(own, desk)), offer_take_back=own.number)
    if own:
        return take_back(own.number, desk)
    newest = last_entry(desk.books, None)
    if newest is None:
        return Answer(wording.NOTHING_TO_TAKE_BACK)
    return Answer(wording.not_yours(newest), offer_take_back=newest.number)


def _day_of(own: Entry, desk: Desk) -> str:
    return day(desk.settings.day(own.at), desk.today, desk.settings.country)


def _take_back_named(slots: Named, desk: Desk) -> Answer:
    """The newest own entry that is meant; another's is only offered."""
    meant = [one for one in last_entries(desk.books, _SEARCHED) if slots.is_meant(one.summary)]
    own = [one for one in meant if one.by == desk.speaker and slots.member in (None, desk.speaker)] or [
        one for one in meant if one.by == desk.speaker
    ]
    if own:
        return take_back(own[0].number, desk)
    if meant:
        return Answer(wording.is_it_this(meant[0]), offer_take_back=meant[0].number)
    return Answer(wording.NO_SUCH_ENTRY)


_LONG_AGO = timedelta(hours=12)
"""From when on one's last entry may not be what is meant."""
_SEARCHED = 50
"""How many of the newest entries are looked through for one that is named."""


def take_back(number: int, desk: Desk) -> Answer:
    """Take an entry back, or say who has done so before, or what must be taken back first."""
    first = resting_on(desk.books, number) or drawing_on(desk.books, number)
    held = entry(desk.books, first) if first else None
    if held:
        return Answer(wording.taken_back_first(held), offer_take_back=held.number)
    if settings_in(desk.books, number) and not desk.may_set:
        return Answer(who_can(desk.administrators))
    split = touched_by(desk.books, number)
    was = standing(desk.books, split) if split else None
    undone = undo(desk.books, number, desk.speaker, desk.at)
    if undone:
        reopened = was is not None and was.state is State.CALLED_OFF
        open_again = was.case.item if was and reopened else None
        return Answer(wording.taken_back(undone, open_again), split=split, place=Place.INSTEAD, undone=number)
    before = entry(desk.books, number)
    return Answer(wording.taken_back_before(before) if before else wording.NOTHING_TO_TAKE_BACK)


def press(numbers: Sequence[int], desk: Desk) -> Answer:
    """The button that takes an entry back."""
    return take_back(numbers[0], desk)


KIND = Kind("undo", FORMS, answer, TEACH)
