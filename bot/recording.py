"""Puts what a skill's answer keeps into the books: one function for each sort of record."""

from __future__ import annotations

from bot.skills.answering import (
    CallingOff,
    Closing,
    NewClaim,
    NewMember,
    NewName,
    NewPricePoint,
    NewSplit,
    Record,
)
from bot.storage.books import Books
from bot.storage.group import add_alias, add_item, member, set_price_point
from bot.storage.ledger import post
from bot.storage.prices import add_note, add_purchase, add_sighting
from bot.storage.shares import add_claim, add_offer, add_split, call_off, share_out
from core.items import Note
from core.ledger import Debt, Payment, postings_of_debt, postings_of_payment
from core.prices import Purchase, Sighting
from core.shares import Offer


def keep(books: Books, entry: int, record: Record) -> None:
    """Put one record under an entry. Raises KeyError for a name the books do not know."""
    match record:
        case Sighting():
            add_sighting(books, entry, record)
        case Purchase():
            add_purchase(books, entry, record)
        case Note():
            add_note(books, entry, record)
        case NewPricePoint():
            set_price_point(books, entry, record.item, record.point)
        case NewName(is_item=True):
            add_item(books, entry, record.word)
        case NewName():
            add_alias(books, entry, record.word, record.item)
        case NewMember():
            member(books, record.name, None)
        case _:
            _keep_money(books, entry, record)


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
