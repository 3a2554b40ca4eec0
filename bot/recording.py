"""Puts what a skill's answer keeps into the books: one function for each sort of record."""

from __future__ import annotations

from bot.skills.answering import (
    CallingOff,
    Closing,
    Dated,
    Declined,
    NewAges,
    NewBar,
    NewBudget,
    NewClaim,
    NewContents,
    NewCost,
    NewFlag,
    NewGoal,
    NewMember,
    NewName,
    NewPricePoint,
    NewSetting,
    NewSplit,
    Plan,
    Record,
)
from bot.storage.alerts import State, add_alert
from bot.storage.books import Books
from bot.storage.calendar import add_reminder, change_reminder, set_setting, set_window
from bot.storage.group import add_alias, add_item, member, set_price_point
from bot.storage.kits import bar, flag, set_ages, set_budget, set_contents, set_cost, set_goal
from bot.storage.ledger import post
from bot.storage.prices import add_note, add_purchase, add_sighting
from bot.storage.shares import add_claim, add_offer, add_split, call_off, share_out
from bot.storage.stock import move, pack, reserve
from core.items import Note
from core.ledger import Debt, Payment, postings_of_debt, postings_of_payment
from core.prices import Purchase, Sighting
from core.reminders import Reminder, ReminderChange
from core.shares import Offer
from core.stock import Move, Packing, Reservation
from core.windows import WindowRule


def keep(books: Books, entry: int, record: Record) -> None:
    """Put one record under an entry. Raises KeyError for a name the books do not know."""
    match record:
        case Sighting():
            add_sighting(books, entry, record)
        case Purchase():
            add_purchase(books, entry, record)
        case Note():
            add_note(books, entry, record)
        case NewPricePoint() | NewName() | NewMember():
            _keep_name(books, entry, record)
        case Move() | Packing() | Reservation():
            _keep_stock(books, entry, record)
        case Declined() | Reminder() | ReminderChange() | WindowRule() | NewSetting():
            _keep_dated(books, entry, record)
        case NewContents() | NewGoal() | NewAges() | NewCost() | NewFlag() | NewBar() | NewBudget():
            _keep_plan(books, entry, record)
        case _:
            _keep_money(books, entry, record)


def _keep_name(books: Books, entry: int, record: NewPricePoint | NewName | NewMember) -> None:
    match record:
        case NewPricePoint():
            set_price_point(books, entry, record.item, record.point)
        case NewName(is_item=True):
            add_item(books, entry, record.word)
        case NewName():
            add_alias(books, entry, record.word, record.item)
        case NewMember():
            member(books, record.name, None)


def _keep_stock(books: Books, entry: int, record: Move | Packing | Reservation) -> None:
    match record:
        case Move():
            move(books, entry, record)
        case Packing():
            pack(books, entry, record)
        case Reservation():
            reserve(books, entry, record)


def _keep_dated(books: Books, entry: int, record: Dated) -> None:
    match record:
        case Declined():
            add_alert(books, entry, record.sighting, record.day, State.DECLINED)
        case Reminder():
            add_reminder(books, entry, record)
        case ReminderChange():
            change_reminder(books, entry, record)
        case WindowRule():
            set_window(books, entry, record)
        case NewSetting():
            set_setting(books, entry, record.setting, record.value)


def _keep_plan(books: Books, entry: int, record: Plan) -> None:
    match record:
        case NewContents():
            set_contents(books, entry, record.kit, record.item, record.count)
        case NewGoal():
            set_goal(books, entry, record.kit, record.goal, record.due)
        case NewAges():
            set_ages(books, entry, record.kit, record.ages)
        case NewCost():
            set_cost(books, entry, record.kit, record.what, record.amount)
        case NewFlag():
            flag(books, entry, record.item, record.hazard)
        case NewBar():
            bar(books, entry, record.name, record.lifted)
        case NewBudget():
            set_budget(books, entry, record.amount)


def _keep_money(
    books: Books, entry: int, record: NewSplit | Offer | NewClaim | Closing | CallingOff | Payment | Debt
) -> None:
    match record:
        case NewSplit():
            add_split(books, entry, record.split, record.bought_in or entry)
        case Offer():
            add_offer(books, entry, record)
        case NewClaim():
            add_claim(books, entry, record.number, record.wanted)
        case Closing():
            share_out(books, entry, record.number, record.split)
        case CallingOff():
            call_off(books, entry, record.number)
        case Payment():
            post(books, entry, postings_of_payment(record))
        case Debt():
            post(books, entry, postings_of_debt(record))
