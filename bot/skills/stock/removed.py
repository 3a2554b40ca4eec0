"""``removed``: units leave the stock without being packed: lost, broken, used for something else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.said import ME, Counted, counted_in, is_told_to_do, kits_in, people_in
from bot.skills.supply import Supply
from core.money import Currency
from core.stock import Move, Why


@dataclass(frozen=True, slots=True)
class Removed:
    """So many units of an item that are gone; no holder is the speaker."""

    item: str
    count: int
    holder: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``removed``."""
        del currency
        slots: dict[str, object] = {"item": self.item, "count": self.count}
        return {**slots, "holder": self.holder} if self.holder else slots

    def says(self, holder: str | None) -> str:
        """The same as a message, from somebody's stock."""
        return _frame(holder).says(f"{self.count} {self.item}")


def _frame(holder: str | None) -> Frame:
    return Frame("removed ", f" from {holder}'s" if holder else "")


def _removed(heard: Heard) -> Sequence[Removed | Unclear]:
    if "?" in heard.marked.text_at(heard.reach[1]) or is_told_to_do(heard) or not set(heard.said) & _VERBS:
        return []
    if "remove" in heard.said and kits_in(heard):
        return []
    holder = _holder(heard)
    things = [thing for thing in counted_in(heard) if thing.count]
    if not things and set(heard.said) & _POINTING:
        things = [thing for thing in counted_in(_before(heard)) if thing.count][-1:]
    return [_one(thing, holder) for thing in things]


def _one(thing: Counted, holder: str | None) -> Removed | Unclear:
    return thing.unsure(_frame(holder)) or Removed(thing.item, thing.units or 0, holder)


def _before(heard: Heard) -> Heard:
    """What was said before, which "them" points at."""
    return Heard(heard.marked, (0, heard.reach[0]), (), heard.speaker, heard.members, heard.kits)


def _holder(heard: Heard) -> str | None:
    """Whose stock they come from, where that is told: "from Tobias's", "Tobias broke 4 combs"."""
    verb = next((index for index in range(*heard.reach) if heard.marked.text_at(index) in _VERBS), heard.reach[0])
    for who in people_in(heard):
        did = who.at < verb and heard.marked.text_at(who.at - 1) not in _BESIDE and heard.marked.text_at(who.end) != ","
        if who.name != ME and (who.owns or did or heard.marked.text_at(who.at - 1) in ("from", "at")):
            return who.name
    return None


_BESIDE = frozenset("with for to by and".split())


_POINTING = frozenset("them those these it em".split())
_GONE = (
    "lost|broke|broken|snapped|cracked|ruined|damaged|smashed|spoiled|spoilt|tossed|chucked|binned|trashed|discarded|scrapped"
    "|removed|dumped|torn|ripped|crushed|chewed|eaten|ate|melted|leaked|mouldy|moldy|faulty|defective|unusable|useless|missing"
    "|stolen|wasted|bust|busted|squashed|deduct|deducted|subtract|stole|soaked|remove"
)
_PLACES = "bin|trash|garbage|rubbish|skip|dump"
_OUTSIDE = (
    "shelter|food|foodbank|bank|school|library|charity|clinic"
    "|hospital|neighbor|neighbour|nursery|daycare|teacher|class|scouts|shop"
)

_VERBS = frozenset(_GONE.split("|")) | frozenset(
    "threw throw throwing thrown used dried drying fell come came fallen bin trash garbage rubbish skip dump take"
    " took taken taking minus less gave given brought donated sent lent ours usable good out off gone scrap write"
    " wet".split()
)
"""The words one of which says that things are gone."""

FORMS = (
    Form(
        "removed",
        "gone",
        _removed,
        cues=(
            _GONE,
            "threw|throw|throwing|thrown * out|away",
            "used * for|up|on|at",
            "used",
            "dried|drying out|up",
            "fell|come|came|fallen apart|off",
            "in|into the " + _PLACES,
            "take|took|taken|taking * off our|the count|stock|books|list",
            "take|took|taken|taking * off * stock",
            "^scrap",
            "^write off",
            "got wet|soaked|crushed|damaged|squashed|ruined|chewed",
            "was|were crushed|damaged|squashed|ruined|chewed|stolen",
            "ruined by",
            "take|took|taken|taking * out",
            "minus|less",
            "to|for|at a|the|our|their|his|her * " + _OUTSIDE,
            "had the|their * come|fall|break|snap off|apart|out",
            "not|arent|theyre|no * ours|usable|good any|anymore|now",
            "no good",
            "are|is|were|was|those|they|so out",
            "wheels|lids|teeth|caps|handles * off|missing|broken|gone",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "used|use to",
            "lost my|his|her|our|count|track|it",
            "cousin|kid|kids|son|daughter|husband|wife|laundry|baby|toddler|brother|sister|mum|mom|dad|roommate|hubby",
            "lets|maybe|perhaps|shall|tomorrow|should",
            "they lost|broke|used|ate|threw",
            "who|how|what|did|do|does|has|have|can|could|if|would|will anyone|anybody|we|you|i|many|the|that|took",
            "^did|does|do|is|are|can|could|if|who|how|what|when|why",
            "dont|didnt|not|never * lost|broke|used|throw",
            "each|every|per",
            "no|not missing",
            "still|whats|what|are|is|were missing",
            "from the kit|kits|pouch|pouches|bag|bags|box|boxes|sock|socks",
        ),
        strange=5,
        apart=True,
    ),
)
TEACH = (("used 12 pencils for the craft table", "out of stock"),)


def answer(slots: Removed, desk: Desk) -> Answer | Ask:
    """Take the units out of the holder's stock; ask where the books have too few there."""
    holder = slots.holder or desk.speaker
    if ask := unknown_item(slots.item, slots.says(slots.holder), desk):
        return ask
    supply = Supply(desk)
    held = supply.held.get(slots.item, {})
    there = max(0, held.get(holder, 0))
    if there < slots.count and not desk.sure:
        return _too_few(slots, holder, held)
    found = max(0, slots.count - there)
    records = [Move(slots.item, holder, -slots.count, Why.REMOVED, desk.today)]
    if found:
        records.insert(0, Move(slots.item, holder, found, Why.COUNTED, desk.today))
    text = wording.went_out(records[-1], supply.stock.get(slots.item, 0) + found - slots.count)
    return Answer(text, tuple(records), wording.out_summary(slots.item, slots.count, holder))


def _too_few(slots: Removed, holder: str, held: dict[str, int]) -> Ask:
    """The question whose they were, or whether the books had missed them."""
    others = [name for name, units in held.items() if name != holder and units >= slots.count]
    choices = [Choice(wording.take_from(name), slots.says(name)) for name in others]
    choices.append(Choice(wording.RECORD_ANYWAY, slots.says(holder), sure=True))
    there = max(0, held.get(holder, 0))
    return Ask(wording.too_few(slots.item, slots.count, holder, there, bool(others)), tuple(choices))


KIND = Kind("removed", FORMS, answer, TEACH)
