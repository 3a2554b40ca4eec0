"""Every sentence of the price book."""

from __future__ import annotations

from datetime import date

from bot.wording.amounts import UnitPrice, money, unit_prices
from bot.wording.days import ago, day, month
from bot.wording.judged import point_words
from bot.wording.things import capital, counted, plural
from core.counts import SHELF_PACKS
from core.entries import Entry
from core.group import Settings
from core.items import Item, Note, PricePoint
from core.prices import Band, Purchase, Sighting, Standing, Verdict, dearest_packs

NO_HISTORY = "No price in the books yet."
FIRST_OF_ALL = "The first price in the books."


def verdict_line(verdict: Verdict, tell: UnitPrice, settings: Settings) -> str:
    """The answer first: is it good, the unit price, against what, and what to do."""
    if not verdict.rests_on_price_point:
        return _by_history(verdict, tell)
    told = f"{_each(verdict, tell)} ({point_words(verdict.price_point, settings)})."
    if verdict.band is Band.GOOD:
        return f"Best price yet: {told} Stock up." if verdict.standing is Standing.BELOW else f"Good price: {told} Buy."
    if verdict.band is Band.FAIR:
        return f"Fair price: {told} Only what you need now."
    return f"Too dear: {told} Leave it."


def _each(verdict: Verdict, tell: UnitPrice) -> str:
    """The unit price with its thing: "pencils at 4¢ each"."""
    return f"{plural(verdict.sighting.item)} at {tell(verdict.sighting.unit_price)} each"


def _by_history(verdict: Verdict, tell: UnitPrice) -> str:
    history, told = verdict.history, _each(verdict, tell)
    if history.lowest is None:
        return f"First price: {told}. Nothing to compare with yet."
    if verdict.standing is Standing.BELOW:
        return f"Best price yet: {told}. Buy."
    if verdict.standing is Standing.EQUAL:
        return f"As low as ever: {told}. Buy."
    if history.usual is None:
        return f"Not the lowest: {told}."
    usual = tell(history.usual.price)
    if verdict.band is Band.FAIR:
        return f"No more than usual: {told} (usual {usual}). Only what you need now."
    return f"Dearer than usual: {told} (usual {usual}). Leave it."


def how_to_judge(verdict: Verdict) -> str | None:
    """The hint that a price point is missing."""
    if verdict.rests_on_price_point:
        return None
    return no_price_point(verdict.sighting.item)


def no_price_point(item: str) -> str:
    """How to set the price point that is missing."""
    return f"No price point yet. Set one, for example: price point for {plural(item)} 10 cents"


def history_line(verdict: Verdict, tell: UnitPrice, settings: Settings, today: date) -> str:
    """What is remembered: the lowest ever and lately, the usual price and what it rests on."""
    history = verdict.history
    if history.lowest is None:
        return NO_HISTORY if verdict.rests_on_price_point else ""
    parts = [f"Lowest before {_where_when(history.lowest, tell, settings, today)}"]
    recent = history.lowest_recent
    if recent and recent != history.lowest:
        parts.append(f"in 24 months {_where_when(recent, tell, settings, today)}")
    if history.usual:
        usual = history.usual
        parts.append(
            f"usual {tell(usual.price)} ({counted(usual.sightings, 'price')}, newest {ago(usual.newest, today)})"
        )
    elif history.latest:
        parts.append(f"last seen {ago(history.latest.seen_on, today)}")
    return "; ".join(parts) + "."


def _where_when(sighting: Sighting, tell: UnitPrice, settings: Settings, today: date) -> str:
    when = day(sighting.seen_on, today, settings.country)
    place = f"{sighting.store}, {when}" if sighting.store else when
    return f"{tell(sighting.unit_price)} ({place})"


def note_line(notes: list[Note]) -> str | None:
    """The newest remark on the item, with a word that there are more."""
    if not notes:
        return None
    more = f" (and {len(notes) - 1} more)" if len(notes) > 1 else ""
    return f"Note from {notes[0].by}: {notes[0].text}{more}"


def sighting_words(sighting: Sighting, settings: Settings, today: date, new_store: bool = False) -> str:
    """A sighting in one line: "12 pencils $0.47, corner store, until Aug 9, limit 4"."""
    parts = [f"{counted(sighting.count, sighting.item)} {money(sighting.price, settings)}"]
    if sighting.regular is not None:
        parts[0] += f" (was {money(sighting.regular, settings)})"
    if sighting.store:
        parts.append(f"{sighting.store} (new shop)" if new_store else sighting.store)
    if sighting.seen_on != today:
        parts.append(f"seen {day(sighting.seen_on, today, settings.country)}")
    if sighting.until:
        parts.append(f"until {day(sighting.until, today, settings.country)}")
    if sighting.pack_limit:
        parts.append(f"limit {sighting.pack_limit}")
    return ", ".join(parts)


def purchase_words(purchase: Purchase, settings: Settings, today: date) -> str:
    """A purchase in one line: "144 crayons $3.30, Larkmoor Market, Mei"."""
    parts = [f"{counted(purchase.count, purchase.item)} {money(purchase.price, settings)}"]
    if purchase.store:
        parts.append(purchase.store)
    parts.append(purchase.buyer)
    if purchase.on != today:
        parts.append(day(purchase.on, today, settings.country))
    return ", ".join(parts)


def bought_line(verdict: Verdict, tell: UnitPrice, settings: Settings) -> str:
    """How good a purchase was, in a few words."""
    unit = tell(verdict.sighting.unit_price)
    if not verdict.rests_on_price_point:
        return f"{unit} each."
    judged = {Band.GOOD: "good", Band.FAIR: "fair", Band.HIGH: "over what we pay"}[verdict.band]
    return f"{unit} each: {judged} ({point_words(verdict.price_point, settings)})."


def for_a_pack(sighting: Sighting, settings: Settings) -> str:
    """The hint that a price far off may be that of a pack."""
    price = settings.currency.plain(sighting.price)
    return f"That is for one. If it is for a pack, ask so: is {price} for 24 {plural(sighting.item)} good?"


def it_was_for(count: int) -> str:
    """The label of a choice: the price was for so many."""
    return f"It was for {count}"


def nothing_known(item: str) -> str:
    """The answer about an item that is not in the books."""
    return f"“{item}” is new to me: nothing in the books yet. Tell me a price, such as: 12 {plural(item)} 1.20"


def target_answer(item: str, point: PricePoint, settings: Settings) -> str:
    """What the group pays for an item, with the most to pay for the packs on the shelf."""
    things = capital(plural(item))
    if point.most is None:
        return f"{things}: {no_price_point(item)[0].lower()}{no_price_point(item)[1:]}"
    packs = ", ".join(f"{count} for {money(most, settings)}" for count, most in dearest_packs(point, SHELF_PACKS))
    return f"{things}: {point_words(point, settings)} each. Most to pay: {packs}."


def target_set(item: str, point: PricePoint, before: PricePoint, settings: Settings) -> str:
    """The echo of a new price point."""
    was = f" (was: {point_words(before, settings)})" if before.most is not None else ""
    return f"{capital(plural(item))}: {point_words(point, settings)} each from now on{was}."


def best_answer(item: Item, found: list[Sighting], settings: Settings, today: date) -> str:
    """The shops where an item is cheapest, the cheapest first."""
    things = plural(item.name)
    if not found:
        return f"{capital(things)}: no prices in the books yet. Tell me one: 12 {things} 0.47"
    tell = unit_prices((sighting.unit_price for sighting in found), settings, item.price_point)
    lines = [f"{capital(things)}, newest price at each shop, cheapest first:"]
    for sighting in found:
        ended = sighting.until is not None and sighting.until < today
        end = (
            ""
            if sighting.until is None
            else f", {'ended' if ended else 'until'} {day(sighting.until, today, settings.country)}"
        )
        lines.append(
            f"{tell(sighting.unit_price)} {sighting.store or 'shop not said'}:"
            f" {sighting.count:,} for {money(sighting.price, settings)}, {ago(sighting.seen_on, today)}{end}"
        )
    return "\n".join(lines)


def history_answer(item: Item, lows: list[Sighting], newest: list[Sighting], desk_day: tuple[Settings, date]) -> str:
    """The lowest price of each month, oldest first, and the newest sightings."""
    settings, today = desk_day
    things = capital(plural(item.name))
    if not lows:
        return f"{things}: no prices in the books yet."
    tell = unit_prices((sighting.unit_price for sighting in (*lows, *newest)), settings, item.price_point)
    lines = [f"{things}, lowest of each month:"]
    for low in lows:
        marked = " marked down" if low.regular is not None else ""
        place = f" {low.store}" if low.store else ""
        lines.append(f"{month(low.seen_on)}: {tell(low.unit_price)}{marked}{place}")
    seen = (_where_when(sighting, tell, settings, today) for sighting in newest)
    lines.append(f"Newest: {', '.join(seen)}.")
    return "\n".join(lines)


def noted(note: Note) -> str:
    """The echo of a remark."""
    return f"Noted on {plural(note.item)}: {note.text}"


def photo_words(entry: Entry, settings: Settings, today: date) -> str:
    """What is said under a photo: who entered it, when, and what it was."""
    return f"{entry.by}, {day(settings.day(entry.at), today, settings.country)}: {entry.summary}."


def no_photo(item: str | None) -> str:
    """The answer where there is no photo to show, and how to add one."""
    of, things = (f" of {plural(item)}", plural(item)) if item else ("", "pencils")
    return f"I have no photo{of} yet. To add one, send it with the price as its caption, such as: 12 {things} 0.47"
