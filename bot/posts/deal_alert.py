"""A deal, told to the group once: at once, in the morning after quiet hours, or gathered with others of a busy day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.messages import Post
from bot.skills.answering import Desk, Record
from bot.skills.deals import buttons, deal_of
from bot.skills.judging import price_point
from bot.skills.supply import Supply
from bot.storage.alerts import Alert, State, add_alert, alerts_since, held, posted_on, set_state
from bot.storage.prices import bought_in
from bot.wording import deals as wording
from core.deals import DECLINED_FOR, Deal, Told, is_fresh, told_already
from core.due import is_quiet
from core.prices import History, Sighting, Verdict, judge


@dataclass(frozen=True, slots=True)
class Reaction:
    """Posts to be shown at once, and whether others wait for the morning."""

    posts: tuple[Post, ...] = ()
    is_held: bool = False


def react(records: Sequence[Record], entry: int, desk: Desk, verdicts: Sequence[Verdict] = ()) -> Reaction:
    """The alerts on the prices that an entry has brought, with all of it in the books.

    ``verdicts`` are those that the reply beside the alerts tells of, in the same figures.
    """
    seen = [one for one in records if isinstance(one, Sighting)]
    if not seen or desk.settings.alerts_a_day == 0 or desk.group.private:
        return Reaction()
    supply = Supply(desk)
    found: list[Post] = []
    is_held = False
    for sighting in seen:
        deal = deal_of(sighting, entry, desk.today, desk, supply) if is_fresh(sighting, desk.today) else None
        if deal is None or told_already(sighting, _told(sighting.item, desk), desk.today):
            continue
        state = _state_now(desk)
        number = add_alert(desk.books, entry, sighting, desk.today, state)
        if state is State.POSTED:
            verdict = next((one for one in verdicts if one.sighting == sighting), None)
            found.append(_post(deal, number, entry, desk, verdict))
        else:
            is_held = True
    return Reaction(tuple(found), is_held)


def held_posts(desk: Desk) -> list[Post]:
    """The alerts that have waited for the morning, as far as they still are deals; those beyond the day's number in
    one post."""
    supply = Supply(desk)
    found: list[Post] = []
    gathered: list[Deal] = []
    waiting = held(desk.books)
    for alert in waiting:
        deal = _still(alert, desk, supply) if desk.settings.alerts_a_day != 0 else None
        if deal is None or _is_beaten(alert, waiting):
            set_state(desk.books, alert.number, State.DROPPED, desk.today)
            continue
        together = alert.state is State.GATHERED or _is_enough(len(found), desk)
        set_state(desk.books, alert.number, State.TOLD if together else State.POSTED, desk.today)
        if together:
            gathered.append(deal)
        else:
            found.append(_post(deal, alert.number, alert.entry, desk))
    if gathered:
        found.append(Post(wording.gathered(gathered, desk.settings, desk.today)))
    return found


def _is_beaten(alert: Alert, waiting: Sequence[Alert]) -> bool:
    """Whether the same shop has shown a better price since."""
    seen = alert.sighting
    return any(
        (one.sighting.item, one.sighting.store) == (seen.item, seen.store)
        and one.sighting.unit_price < seen.unit_price
        and one.number > alert.number
        for one in waiting
    )


def _still(alert: Alert, desk: Desk, supply: Supply) -> Deal | None:
    if not is_fresh(alert.sighting, desk.today):
        return None
    return deal_of(alert.sighting, alert.entry, alert.day, desk, supply)


def _told(item: str, desk: Desk) -> list[Told]:
    return [
        Told(one.sighting, one.day, one.state is State.DECLINED)
        for one in alerts_since(desk.books, item, desk.today - DECLINED_FOR)
        if one.state is not State.DROPPED
    ]


def _is_enough(posted: int, desk: Desk) -> bool:
    """Whether so many alerts are all that the group wants in a day."""
    return desk.settings.alerts_a_day is not None and posted >= desk.settings.alerts_a_day


def _state_now(desk: Desk) -> State:
    if _is_enough(posted_on(desk.books, desk.today), desk):
        return State.GATHERED
    return State.WAITING if is_quiet(desk.settings.quiet, desk.wall) else State.POSTED


def _post(deal: Deal, number: int, entry: int, desk: Desk, verdict: Verdict | None = None) -> Post:
    seen = deal.sighting
    verdict = verdict or judge(seen, price_point(desk, seen.item), History())
    paid = any(
        (one.item, one.count, one.price) == (seen.item, seen.count, seen.price) for one in bought_in(desk.books, entry)
    )
    return Post(wording.deal_post(deal, verdict, desk.settings, desk.today, paid), buttons(number))
