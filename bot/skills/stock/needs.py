"""``needs``: someone asks what is still to buy: for the kits, of an item, in a shop, or what to buy where."""

from __future__ import annotations

from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.stock import needs_wording, plan_wording
from bot.skills.stock.kit_wording import NO_KITS, no_such_kit
from bot.skills.stock.needs_said import FORMS, By, Needed
from bot.skills.stock.shopping import at_shop, of_item, short_items
from bot.skills.supply import Supply
from core.buying_plan import buying_plan

TEACH = (
    ("I'm at Larkmoor, what do we need?", "what to pick up here, and the most to pay"),
    ("what do we still need?", "also: for the wash bags, or: what should we buy where?"),
)


def answer(slots: Needed, desk: Desk) -> Answer:
    """Tell what is short, as asked: in a shop, of an item, of a kit, kit by kit, or what to buy where."""
    supply = Supply(desk)
    if not supply.kits:
        return Answer(NO_KITS)
    if slots.by is By.SHOP:
        return Answer(_plan(supply, desk))
    if slots.item is not None:
        return Answer(needs_wording.item_answer(of_item(slots.item, supply), desk.settings, desk.today))
    if slots.store is not None:
        return Answer(needs_wording.shop_answer(slots.store, at_shop(slots.store, supply), desk.settings, desk.today))
    if slots.kit is not None and slots.kit not in {kit.name for kit in supply.kits}:
        return Answer(no_such_kit(slots.kit, desk.group.kits))
    if slots.kit is None and slots.by is None:
        return Answer(needs_wording.needs_answer(supply.needs, short_items(supply), desk.settings, desk.today))
    kits = [need for need in supply.needs.kits if slots.kit in (None, need.kit.name)]
    return Answer("\n".join(needs_wording.kit_needs(need, desk.settings, desk.today) for need in kits))


def _plan(supply: Supply, desk: Desk) -> str:
    """What to buy where, besides what others are about to buy."""
    others = [one for one in supply.reserved if one.member != desk.speaker]
    open_needs = {
        item: short - sum(one.units for one in others if one.item == item) for item, short in supply.needs.short.items()
    }
    plan = buying_plan({item: units for item, units in open_needs.items() if units > 0}, supply.offers(), desk.today)
    most = {item.name: item.price_point.most for item in desk.group.items}
    return plan_wording.plan_answer(plan, others, plan_wording.Said(most, desk.settings, desk.today))


KIND = Kind("needs", FORMS, answer, TEACH)
