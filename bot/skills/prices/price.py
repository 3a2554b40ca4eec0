"""``price``: someone reports a price seen in a shop."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Frame, Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item, verdict_on
from bot.skills.prices import wording
from bot.skills.prices.judging import doubt, facts, said_again, sighting_of
from bot.skills.prices.offered import MONEY_TALK, OFFER, Offered, offered, unbought
from bot.storage.prices import notes
from bot.wording.judged import told_of
from core.prices import Band, Standing, Verdict


def _price(heard: Heard) -> Sequence[Offered | Unclear]:
    return [] if unbought(heard) else offered(heard, Frame())


FORMS = (
    Form(
        "price",
        "saw it",
        _price,
        cues=(
            "saw|spotted|noticed|seen|found",
            "they|theyre|theres|there have|has|selling|got",
            "they|there also have|has|sell|got",
        ),
        needs=OFFER,
        offers=True,
        yields=True,
        never=MONEY_TALK,
    ),
    Form("price", "an item and what it costs", _price, needs=OFFER, never=MONEY_TALK, offers=True),
)
TEACH = (
    ("12 pencils 0.47 at corner store", "kept and judged"),
    ("notebooks half off 1.10 until friday", "markdowns and last days too"),
)


def answer(slots: Offered, desk: Desk) -> Answer | Ask:
    """Keep the sighting and say whether the price is good."""
    sighting = sighting_of(slots.offer, desk)
    if ask := unknown_item(sighting.item, said_again(slots.offer, desk.settings.currency), desk):
        return ask
    verdict = verdict_on(sighting, desk)
    if ask := doubt(verdict, slots.offer, Frame(), desk):
        return ask
    new_store = sighting.store is not None and sighting.store not in desk.group.stores
    kept = wording.sighting_words(sighting, desk.settings, desk.today, new_store)
    tell = told_of(verdict, desk.settings)
    lines = [wording.verdict_line(verdict, tell, desk.settings), *facts(verdict, tell, desk, f"Kept: {kept}.")]
    sign = _ENOUGH if desk.settings.reacts and _is_no_news(verdict, desk) else None
    return Answer("\n".join(lines), (sighting,), kept, sign=sign, verdict=verdict)


_ENOUGH = "👌"


def _is_no_news(verdict: Verdict, desk: Desk) -> bool:
    """Whether a price is neither good nor as low as ever, and nothing is remarked on the item."""
    usual = verdict.standing is Standing.ABOVE and verdict.band in (Band.FAIR, Band.HIGH)
    return usual and not notes(desk.books, verdict.sighting.item)


KIND = Kind("price", FORMS, answer, TEACH)
