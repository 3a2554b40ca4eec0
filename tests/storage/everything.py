"""Books with a row of everything, for the tests of what touches every table."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from fractions import Fraction

from bot.messages import Incoming, Post, Sender
from bot.storage import (
    alerts,
    calendar,
    entries,
    group,
    inbox,
    kits,
    ledger,
    outbox,
    photos,
    prices,
    questions,
    shares,
    stock,
    timed,
)
from bot.storage.alerts import State
from bot.storage.books import Books, Database
from core.cautions import Ages, Hazard
from core.choices import Setting
from core.day_rules import DayRule, Fixed
from core.items import Note, PricePoint
from core.ledger import Payment, postings_of_payment
from core.prices import Purchase, Sighting
from core.reminders import Reminder, ReminderChange
from core.shares import Case, Offer, Part, Split, Wanted
from core.stock import Move, Packing, Reservation, Why
from core.windows import WindowRule

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DAY = AT.date()
LONG_AGO = date(2020, 1, 1)
CASE = Case("pencil", 144, 720, "Mei")
SALE = WindowRule("attic sale", DayRule(Fixed(9, 1)), 20)
SEEN = Sighting("pencil", 12, 47, DAY, "corner store")
REMINDER = Reminder("fetch the cartons", DAY, time(18), "Tobias", "Mei")
EIGHT = datetime.combine(DAY, time(8))


def fill(database: Database, chat: str) -> tuple[int, int]:
    """Give the packers' books in a chat a row of everything; the numbers of the entry and of a question."""
    with database.open(chat) as books:
        entry = entries.new_entry(books, "Mei", AT, "12 pencils")
        group.add_item(books, entry, "glue stick")
        for item in ("pencil", "glue stick"):
            prices.add_sighting(books, entry, Sighting(item, 12, 47, DAY, "corner store"))
            prices.add_note(books, entry, Note(item, "breaks", "Mei", DAY))
        question = questions.ask(books, "Mei", AT, "{}")
        group.member(books, "Tobias", "key 1")
        outbox.take(books, "message 9")
        outbox.queue(books, Post("noted"), AT, entry, question)
        shares.add_offer(books, entry, Offer(CASE, None, AT))
        shares.add_claim(books, entry, shares.open_splits(books)[0].number, Wanted("Tobias", 12))
        ledger.post(books, entry, postings_of_payment(Payment("Mei", "Tobias", 420)))
        one_of_the_stock_book(books, entry)
        one_of_the_calendar(books, entry)
    [queued] = outbox.waiting(database, chat)
    outbox.delivered(database, queued, "post 1", AT)
    return entry, question


def fill_the_rest(database: Database, chat: str, entry: int) -> None:
    """Give them rows of what only some tests want: a case shared out, a photo, something nobody has heard yet."""
    with database.open(chat) as books:
        prices.add_purchase(books, entry, Purchase("pencil", 144, 720, DAY, "Mei"))
        shares.add_split(books, entry, Split(CASE, (Part("Mei", 72, 360), Part("Tobias", 72, 360)), DAY), entry)
        photos.add_photo(books, entry, "photo 1")
        group.set_price_point(books, entry, "pencil", PricePoint(Fraction(5)))
        number = books.group_id
    inbox.keep(database, [Incoming(chat, Sender("Tobias", "key 1"), "12 pencils", AT, "message 10", arrival=number)])


def one_of_the_stock_book(books: Books, entry: int) -> None:
    """A row of everything that the stock book keeps."""
    stock.move(books, entry, Move("pencil", "Mei", 12, Why.HAD, DAY))
    stock.pack(books, entry, Packing("school pouch", 1, "Mei", DAY))
    stock.reserve(books, entry, Reservation("pencil", "Mei", 12, AT))
    kits.set_contents(books, entry, "school pouch", "pencil", 4)
    kits.set_goal(books, entry, "school pouch", 150, DAY)
    kits.set_ages(books, entry, "school pouch", Ages(5, 9))
    kits.set_cost(books, entry, "school pouch", "carton", 60)
    kits.flag(books, entry, "pencil", Hazard.SHARP_POINTS)
    kits.bar(books, entry, "balloon")
    kits.set_budget(books, entry, 60_000)


def one_of_the_calendar(books: Books, entry: int) -> None:
    """A row of everything that the calendar keeps; the alerts are the first two."""
    calendar.set_setting(books, entry, Setting.LEAD_DAYS, "5")
    calendar.set_window(books, entry, SALE)
    calendar.add_reminder(books, entry, REMINDER)
    moved = ReminderChange(calendar.reminders_from(books, DAY)[0].number, DAY, time(19))
    calendar.change_reminder(books, entry, moved)
    for state in (State.POSTED, State.WAITING):
        alerts.add_alert(books, entry, SEEN, DAY, state)
    timed.make_once(books, "summary:2026-08-09", EIGHT, timed.Outcome.POSTED)
    timed.set_watch(books, timed.Watch(EIGHT, AT))
