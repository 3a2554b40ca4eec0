"""Two groups in one database: neither finds, changes or refers to anything of the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from sqlalchemy import Engine, event
from sqlalchemy.exc import IntegrityError

from bot.messages import Post
from bot.storage import (
    alerts,
    calendar,
    entries,
    group,
    kits,
    ledger,
    outbox,
    prices,
    questions,
    shares,
    stock,
    timed,
    weeks,
)
from bot.storage.alerts import State
from bot.storage.books import Books, Database
from core.cautions import Ages, Hazard
from core.choices import Setting
from core.group import Group, Settings
from core.items import Item, Note, PricePoint
from core.ledger import Payment, postings_of_payment
from core.money import currency
from core.prices import History, Purchase, Sighting
from core.reminders import ReminderChange
from core.shares import Offer, Part, Split, Wanted
from core.stock import Move, Packing, Reservation, Why
from tests.added_up import added_up
from tests.storage.everything import (
    AT,
    CASE,
    DAY,
    EIGHT,
    LONG_AGO,
    REMINDER,
    SALE,
    SEEN,
    fill,
    one_of_the_calendar,
    one_of_the_stock_book,
)

QUARRY = Group("Quarry Street", Settings(currency("EUR")), ("Mei", "Ines"), (), (Item("pencil"),))


@pytest.fixture
def theirs(database: Database) -> tuple[int, int]:
    """The numbers of an entry and a question of the packers, who have a row of everything."""
    return fill(database, "harbour")


@pytest.fixture
def ours(database: Database, theirs: tuple[int, int]) -> Iterator[Books]:
    """The books of another group, which knows a member and an item of the same name."""
    assert theirs
    database.found("quarry", QUARRY)
    with database.open("quarry") as books:
        yield books


def test_names_stay_in_their_group(ours: Books) -> None:
    assert group.load_group(ours) == QUARRY


def test_a_key_is_known_in_its_group_only(ours: Books) -> None:
    assert group.member(ours, "Ines", "key 1") == "Ines"


def test_a_history_stays_in_its_group(ours: Books) -> None:
    for item in ("pencil", "glue stick"):
        assert prices.history(ours, item, DAY) == History()
        assert prices.recent(ours, item, 10) == []
        assert prices.latest_by_store(ours, item, LONG_AGO) == []
        assert prices.monthly_lows(ours, item, LONG_AGO) == []
        assert prices.notes(ours, item) == []
        assert group.price_point(ours, item) == PricePoint()


def test_a_foreign_number_finds_nothing(ours: Books, theirs: tuple[int, int]) -> None:
    entry, question = theirs

    assert entries.entry(ours, entry) is None
    assert entries.last_entry(ours, None) is None
    assert entries.last_entry(ours, "Mei") is None
    assert questions.question(ours, question) is None
    assert outbox.origin(ours, "post 1") is None


def test_shares_money_and_stock_stay_in_their_group(ours: Books, theirs: tuple[int, int]) -> None:
    entry, _ = theirs

    assert shares.open_splits(ours) == []
    assert shares.standing(ours, 1) is None
    assert shares.opened_in(ours, entry) is None
    assert shares.touched_by(ours, entry) is None
    assert shares.resting_on(ours, entry) is None
    assert shares.closed_since(ours, AT) == []
    assert not shares.is_split(ours, entry, "pencil")
    assert prices.bought_in(ours, entry) == []
    assert prices.seen_in(ours, entry) == []
    assert prices.last_bought(ours, "Mei", AT) is None
    assert ledger.balances(ours) == added_up(ours) == {}
    assert ledger.lines_of(ours, "Mei", 10) == []
    assert stock.held(ours, "pencil") == {}
    assert not any((stock.holdings(ours), stock.lots(ours), stock.draws(ours)))
    assert not any((stock.packed(ours), stock.reserved(ours, AT)))
    assert not any((stock.drawing_on(ours, entry), stock.moves_in(ours, entry), stock.packings_in(ours, entry)))
    assert prices.newest_by_pack(ours, LONG_AGO) == []
    assert prices.seen_between(ours, [(LONG_AGO, DAY)]) == []
    assert prices.seen_between(ours, [(LONG_AGO, DAY)], "pencil") == []
    assert not any((prices.spent(ours, LONG_AGO, DAY), entries.rows_of(ours, entry)))


def test_kits_and_plans_stay_in_their_group(ours: Books) -> None:
    assert not any((kits.load_kits(ours), kits.barred(ours)))
    assert kits.flagged(ours) == {}
    assert kits.budget(ours) is None


def test_the_calendar_stays_in_its_group(ours: Books, theirs: tuple[int, int]) -> None:
    entry, _ = theirs

    assert calendar.said_settings(ours) == {}
    assert not any((calendar.windows(ours), calendar.reminders_from(ours, LONG_AGO)))
    assert not any((alerts.held(ours), alerts.alerts_since(ours, "pencil", LONG_AGO)))
    assert alerts.posted_on(ours, DAY) == 0
    assert alerts.lowest_since(ours, "pencil", LONG_AGO, entry + 1) is None
    assert [alerts.alert(ours, number) for number in (1, 2)] == [None, None]
    assert weeks.entered(ours, AT - timedelta(days=1), AT) == weeks.Entered(0, (), 0, {})


def test_each_group_makes_its_own_timed_posts(ours: Books) -> None:
    assert timed.watch(ours) == timed.Watch(None, None)
    assert timed.outcome_of(ours, "summary:2026-08-09") is None
    assert timed.make_once(ours, "summary:2026-08-09", EIGHT, timed.Outcome.LATE)


def test_only_the_group_that_is_due_is_named(database: Database, theirs: tuple[int, int]) -> None:
    assert theirs
    database.found("quarry", QUARRY)
    with database.open("quarry") as ours:
        timed.set_watch(ours, timed.Watch(EIGHT, AT + timedelta(days=1)))

    assert timed.groups_due(database, AT) == ["harbour"]
    assert timed.next_due(database) == AT
    with database.open("harbour") as books:
        assert timed.watch(books) == timed.Watch(EIGHT, AT)


def test_what_is_foreign_cannot_be_changed(database: Database, theirs: tuple[int, int]) -> None:
    entry, _ = theirs
    database.found("quarry", QUARRY)
    with database.open("quarry") as ours:
        number = entries.new_entry(ours, "Mei", AT, "ours")
        shares.call_off(ours, number, 1)
        shares.keep_open(ours, 1)
        ledger.reverse(ours, entry)
        for alert in (1, 2):
            alerts.set_state(ours, alert, State.DROPPED, LONG_AGO)
        timed.set_watch(ours, timed.Watch(None, None))

    with database.open("harbour") as books:
        [standing] = shares.open_splits(books)
        assert standing.offer.closes_at == AT
        assert ledger.balances(books) == {"Mei": 420, "Tobias": -420}
        assert [(one.state, one.day) for one in alerts.alerts_since(books, "pencil", LONG_AGO)] == [
            (State.POSTED, DAY),
            (State.WAITING, DAY),
        ]
        assert timed.watch(books).next_at == AT


def test_a_foreign_number_changes_nothing(database: Database, theirs: tuple[int, int]) -> None:
    entry, question = theirs
    database.found("quarry", QUARRY)

    with database.open("quarry") as ours:
        assert entries.undo(ours, entry, "Mei", AT) is None
        assert not questions.close(ours, question)

    with database.open("harbour") as books:
        assert len(prices.recent(books, "pencil", 10)) == 1
        assert questions.close(books, question)


def test_each_group_takes_its_own_messages(ours: Books) -> None:
    assert outbox.take(ours, "message 9")


def test_a_post_is_delivered_in_its_chat(database: Database, packers: Group) -> None:
    database.found("quarry", packers)
    with database.open("harbour") as books:
        outbox.queue(books, Post("noted"), AT)
    [queued] = outbox.waiting(database, "harbour")

    outbox.delivered(database, type(queued)(queued.number, "quarry", AT, queued.post), "post 2", AT)

    assert outbox.waiting(database, "harbour") == [queued]


def own_entry(books: Books) -> int:
    return entries.new_entry(books, "Mei", AT, "ours")


def own_reminder(books: Books) -> int:
    """The number of a new reminder of the group's own."""
    calendar.add_reminder(books, own_entry(books), replace(REMINDER, whom=None))
    return calendar.reminders_from(books, DAY)[0].number


REFERENCES: dict[str, Callable[[Books, int, int], object]] = {
    "sighting": lambda ours, entry, _: prices.add_sighting(ours, entry, Sighting("pencil", 12, 47, DAY)),
    "purchase": lambda ours, entry, _: prices.add_purchase(ours, entry, Purchase("pencil", 12, 47, DAY, "Mei")),
    "note": lambda ours, entry, _: prices.add_note(ours, entry, Note("pencil", "breaks", "Mei", DAY)),
    "item": lambda ours, entry, _: group.add_item(ours, entry, "anvil"),
    "alias": lambda ours, entry, _: group.add_alias(ours, entry, "crayon", "pencil"),
    "price point": lambda ours, entry, _: group.set_price_point(ours, entry, "pencil", PricePoint(Fraction(5))),
    "claim": lambda ours, entry, _: shares.add_claim(ours, entry, 1, Wanted("Mei", 12)),
    "offer": lambda ours, entry, _: shares.add_offer(ours, entry, Offer(CASE)),
    "posting": lambda ours, entry, _: ledger.post(ours, entry, postings_of_payment(Payment("Mei", "Ines", 420))),
    "stock": lambda ours, entry, _: stock.move(ours, entry, Move("pencil", "Mei", 12, Why.HAD, DAY)),
    "packing": lambda ours, entry, _: stock.pack(ours, entry, Packing("school pouch", 1, "Mei", DAY)),
    "reservation": lambda ours, entry, _: stock.reserve(ours, entry, Reservation("pencil", "Mei", 12, AT)),
    "kit line": lambda ours, entry, _: kits.set_contents(ours, entry, "school pouch", "pencil", 4),
    "goal": lambda ours, entry, _: kits.set_goal(ours, entry, "school pouch", 150, DAY),
    "ages": lambda ours, entry, _: kits.set_ages(ours, entry, "school pouch", Ages(5, 9)),
    "kit cost": lambda ours, entry, _: kits.set_cost(ours, entry, "school pouch", "carton", 60),
    "flag": lambda ours, entry, _: kits.flag(ours, entry, "pencil", Hazard.SHARP_POINTS),
    "rule": lambda ours, entry, _: kits.bar(ours, entry, "balloon"),
    "budget": lambda ours, entry, _: kits.set_budget(ours, entry, 60_000),
    "setting": lambda ours, entry, _: calendar.set_setting(ours, entry, Setting.LEAD_DAYS, "5"),
    "window": lambda ours, entry, _: calendar.set_window(ours, entry, SALE),
    "reminder": lambda ours, entry, _: calendar.add_reminder(ours, entry, replace(REMINDER, whom=None)),
    "time of a reminder": lambda ours, _, __: calendar.change_reminder(
        ours, own_entry(ours), ReminderChange(1, DAY, None)
    ),
    "entry of a time": lambda ours, entry, _: calendar.change_reminder(
        ours, entry, ReminderChange(own_reminder(ours), DAY, None)
    ),
    "alert": lambda ours, entry, _: alerts.add_alert(ours, entry, SEEN, DAY, State.POSTED),
    "post about an entry": lambda ours, entry, _: outbox.queue(ours, Post("noted"), AT, entry=entry),
    "post about a question": lambda ours, _, asked: outbox.queue(ours, Post("noted"), AT, question=asked),
}


@pytest.mark.parametrize("refer", REFERENCES.values(), ids=REFERENCES)
def test_a_foreign_number_cannot_be_referred_to(
    database: Database, theirs: tuple[int, int], refer: Callable[[Books, int, int], object]
) -> None:
    database.found("quarry", QUARRY)

    with pytest.raises((KeyError, IntegrityError)), database.open("quarry") as ours:
        refer(ours, *theirs)


def test_every_statement_carries_the_group(database: Database) -> None:
    seen: list[str] = []

    def note(*execution: object) -> None:
        seen.append(str(execution[2]))

    with database.open("harbour") as books:
        event.listen(Engine, "before_cursor_execute", note)
        try:
            one_of_everything(books)
        finally:
            event.remove(Engine, "before_cursor_execute", note)

    assert len(seen) > 30
    assert [sql for sql in seen if "group_id" not in sql and "groups.id = " not in sql] == []


def everything_of_the_calendar(books: Books, entry: int) -> None:
    one_of_the_calendar(books, entry)
    calendar.said_settings(books)
    calendar.windows(books)
    alerts.alert(books, alerts.held(books)[0].number)
    alerts.set_state(books, 1, State.DROPPED, DAY)
    alerts.alerts_since(books, "pencil", DAY)
    alerts.posted_on(books, DAY)
    alerts.lowest_since(books, "pencil", DAY, entry)
    timed.watch(books)
    timed.outcome_of(books, "summary:2026-08-09")
    weeks.entered(books, AT - timedelta(days=1), AT)


def one_of_everything(books: Books) -> None:
    group.member(books, "Amara", "key 1")
    group.member(books, "Amara", "key 1")
    group.member(books, "Mei", "key 2")
    entry = entries.new_entry(books, "Mei", AT, "12 pencils")
    group.add_item(books, entry, "glue stick")
    group.add_alias(books, entry, "exercise book", "notebook")
    group.set_price_point(books, entry, "pencil", PricePoint(Fraction(5)))
    prices.add_sighting(books, entry, Sighting("pencil", 12, 47, DAY, "Quarry Shop"))
    prices.add_purchase(books, entry, Purchase("pencil", 12, 47, DAY, "Mei"))
    prices.add_note(books, entry, Note("pencil", "breaks", "Mei", DAY))
    prices.history(books, "pencil", DAY)
    prices.recent(books, "pencil", 1)
    prices.latest_by_store(books, "pencil", DAY)
    prices.monthly_lows(books, "pencil", DAY)
    prices.notes(books, "pencil")
    group.price_point(books, "pencil")
    group.load_group(books)
    group.settings(books)
    group.names_version(books)
    question = questions.ask(books, "Mei", AT, "{}")
    questions.question(books, question)
    questions.close(books, question)
    outbox.take(books, "message 9")
    outbox.queue(books, Post("noted"), AT, entry, question)
    outbox.origin(books, "post 1")
    entries.last_entry(books, None)
    entries.last_entry(books, "Mei")
    shares.add_offer(books, entry, Offer(CASE, None, AT))
    shares.add_claim(books, entry, shares.open_splits(books)[0].number, Wanted("Mei", 12))
    shares.add_split(books, entry, Split(CASE, (Part("Mei", 144, 720),), DAY), entry)
    shares.opened_in(books, entry)
    shares.touched_by(books, entry)
    shares.resting_on(books, entry)
    shares.closed_since(books, AT)
    shares.is_split(books, entry, "pencil")
    prices.bought_in(books, entry)
    prices.seen_in(books, entry)
    prices.last_bought(books, "Mei", AT)
    ledger.post(books, entry, postings_of_payment(Payment("Mei", "Tobias", 420)))
    ledger.balances(books)
    ledger.lines_of(books, "Mei", 1)
    one_of_the_stock_book(books, entry)
    stock.held(books, "pencil")
    for of_all in (stock.holdings, stock.lots, stock.draws, stock.packed):
        of_all(books)
    for of_one in (stock.drawing_on, stock.moves_in, stock.packings_in, entries.rows_of):
        of_one(books, entry)
    stock.reserved(books, AT)
    prices.newest_by_pack(books, DAY)
    prices.seen_between(books, [(DAY, DAY)])
    prices.seen_between(books, [(DAY, DAY)], "pencil")
    prices.spent(books, DAY, DAY)
    everything_of_the_calendar(books, entry)
    shares.keep_open(books, 1)
    shares.call_off(books, entry, 1)
    entries.undo(books, entry, "Mei", AT)
