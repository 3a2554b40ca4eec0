"""``ask_caution``: someone asks whether a thing may go into a kit, or what is not packed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.skills.answering import Answer, Desk
from bot.skills.stock import kit_wording
from bot.skills.stock.barring import barred_as, goes_on, things_in
from bot.skills.stock.cautioning import cautions_of
from bot.skills.stock.said import kits_in
from bot.wording.cautions import DEFER
from core.cautions import hazards_of_name
from core.money import Currency


@dataclass(frozen=True, slots=True)
class AskCaution:
    """The thing asked about (None: all that is not packed), and the kit it is to go into."""

    item: str | None = None
    kit: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: what, and into which kit."""
        del currency
        return {name: value for name, value in (("item", self.item), ("kit", self.kit)) if value}


def _caution(heard: Heard) -> Sequence[AskCaution]:
    kits = [kit.name for kit in kits_in(heard) if not kit.rivals]
    kit = kits[0] if kits else None
    if named(heard.marked, heard.reach, NameSort.MEMBER) or goes_on(heard):
        return []
    things = [thing for thing in things_in(heard) if kits or _is_of_kits(thing, heard)]
    return [AskCaution(thing, kit) for thing in things]


def _is_of_kits(thing: str, heard: Heard) -> bool:
    """Whether a thing asked about is one to pack: "is shampoo ok?", not "is the hall ok?"."""
    packs = bool(set(heard.said) & _PACKING) or bool(kits_in(heard))
    return packs or bool(hazards_of_name(thing)) or bool(named(heard.marked, heard.reach, NameSort.ITEM))


_PACKING = frozenset("pack packed packing put kids ones".split())


def _any_rule(heard: Heard) -> Sequence[AskCaution]:
    return [AskCaution()] if not named(heard.marked, heard.reach, NameSort.ITEM) else _caution(heard)


FORMS = (
    Form(
        "ask_caution",
        "may it go in",
        _caution,
        cues=(
            "can|may|could|should|are we|i * put|pack|include|add",
            "can|may|could|should we|i|you put|pack|include|add * in|into|for the|a|each|every|our",
            "is|are it|we|i * ok|okay|fine|safe|allowed * put|pack|include|to|for",
            "^is|are|r|would * allowed|banned|forbidden|safe|ok|okay|fine|alright|dangerous",
            "^can|may|could|should * go|come in|into|inside",
            "^can|may|could|should * be packed|included|put|added",
            "what about * in|for",
            "all right|fine to pack|put|include",
            "do we pack|allow",
            "are we packing",
            "ok|okay|allowed|safe|fine|alright ?",
            "allowed to pack|put|in|for",
            "any|what caution|cautions|warning|warnings|hazard|hazards",
            "what * watch|look|careful|mind * with|about|for|of",
            "safe for|to|in",
            "go|goes in with|for|the|a * or",
            "permitted|allowable|forbidden to|in|for",
            "is it a no|problem|risk",
            "or is that a no|problem",
        ),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "how|who|when|where|why",
            "price|deal|buy|get|cost|note|notes",
            "can|could you|someone|somebody|anyone",
            "pack up|tonight|today|tomorrow|friday|saturday|sunday|on|at",
            "allowed|safe|ok|okay to * park|come|eat|drive|go|home|drink|here|leave|bring|ask",
            "your|my|his|her|you|he|she",
            "again",
            "no longer",
            "put * on|up|down|out|away|back",
        ),
        strange=2,
    ),
    Form(
        "ask_caution",
        "what is not packed",
        _any_rule,
        cues=(
            "what|whats|which|anything|things * not|cant|cannot|never|dont|shouldnt * pack|put|allowed|supposed",
            "something * not|cant|cannot|never|dont|shouldnt * pack|put|allowed|supposed",
            "what|whats|which|anything|something * allowed|banned|forbidden",
            "rules about|on * pack|packing|in|kits",
            "not|no pack list",
            "what|whats * do not pack",
            "rules|list of|for * pack|packing|kits",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(
            "lunch|suitcase|trip|camp",
            "goes|put|add|on to|on",
            "you|u|he|she allowed",
            "allowed to eat|drink|do|wear|bring|say|park|sell",
        ),
        strange=1,
    ),
)
TEACH = (("are marbles ok for the school pouch?", "the usual cautions, and our do-not-pack list"),)


def answer(slots: AskCaution, desk: Desk) -> Answer:
    """Tell what is on the list, and the usual cautions; never a ruling."""
    if slots.item is None:
        return Answer(kit_wording.barred_list(desk.group.not_packed))
    kit = desk.group.kit(slots.kit) if slots.kit else None
    bar = barred_as(slots.item, desk.group)
    lines = [kit_wording.is_barred(slots.item, bar)] if bar else []
    ages = kit.ages if kit else None
    cautions = cautions_of([slots.item], ages, desk.group)
    return Answer("\n".join([*lines, *(cautions or [kit_wording.no_caution(slots.item, ages), DEFER])]))


KIND = Kind("ask_caution", FORMS, answer, TEACH)
