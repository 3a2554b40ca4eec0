"""``packed``: someone reports finished kits; what they hold leaves the stock, the packer's first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.sizes import Year
from bot.reading.strangers import strange_words
from bot.skills.answering import Answer, Ask, Desk, Record
from bot.skills.stock import wording
from bot.skills.stock.kit_wording import no_such_kit
from bot.skills.stock.people import ME, people_in
from bot.skills.stock.said import Counted, KitSaid, at_least_one, kits_in, kits_with_counts, which_kit
from bot.skills.supply import Supply
from core.kits import KitNeed, needs_of
from core.money import Currency
from core.stock import Move, Packing, Pick, Why, picked_for


@dataclass(frozen=True, slots=True)
class Packed:
    """So many kits finished; no packer is the speaker."""

    kit: str
    count: int
    who: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``packed``."""
        del currency
        slots: dict[str, object] = {"kit": self.kit, "count": self.count}
        return {**slots, "who": self.who} if self.who else slots

    def says(self) -> str:
        """The same report as a message."""
        return _frame(self.who).says(f"{self.count} {self.kit}")


def _frame(who: str | None) -> Frame:
    return Frame(f"{who} packed " if who else "packed ")


def _packed(heard: Heard) -> Sequence[Packed | Unclear]:
    if heard.asked or _is_plan(heard) or _is_past(heard) or _is_other(heard):
        return []
    who = _packer(heard)
    found: list[Packed | Unclear] = []
    for kit, counted in _kits(heard):
        if counted.count is None or _to_go(heard):
            continue
        if counted.units is None:
            found += [unsure] if (unsure := counted.unsure(_frame(who))) and not kit.rivals else []
        elif kit.rivals:
            found.append(_which(kit.rivals, counted.units, who))
        else:
            found.append(Packed(kit.name, counted.units, who))
    return found


def _kits(heard: Heard) -> list[tuple[KitSaid, Counted]]:
    """The kits with their counts; the only one may have it at the end: "school bags done tonight, 6"."""
    found = kits_with_counts(heard)
    counts = heard.marked.each(Loose, *heard.reach)
    if any({heard.marked.text_at(one.end - 1), heard.marked.text_at(one.end)} & {"of"} for one in counts[:-1]):
        return []  # "12 of 40": these, or all so far
    if len(found) == len(counts) == 1 and found[0][1].count is None and counts[0].end == heard.reach[1]:
        return [(found[0][0], replace(found[0][1], count=counts[0].value))]
    return found


def _is_plan(heard: Heard) -> bool:
    """Whether they are still to be packed; "that will be another twenty" are done."""
    said = heard.said
    told = (*said[1:], ""), ("", *said[:-1])
    wills = [pair for pair in zip(said, *told, strict=True) if pair[0] in _WILLS]
    if any(not (after == "be" and before in ("that", "this", "it", "which")) for _, after, before in wills):
        return True
    done = set(said) & _WELL_DONE or {*pairwise(said)} & {(was, "finish") for was in ("am", "are", "is", "have")}
    return not done and bool(set(said) & _NOW_DOING) and not set(said) & {"today", "already"}


def _is_past(heard: Heard) -> bool:
    """Whether it was in another year: "two summers ago", "back in 2019"."""
    return any(heard.marked.each(Year, *heard.reach))


def _is_other(heard: Heard) -> bool:
    """Whether "bags" with many a strange word beside it may be no kit: "filled 2 bags with leaves"."""
    kits = kits_in(heard)
    marked = heard.marked
    if any(" " in marked.said(kit.start, kit.end) for kit in kits):
        return False
    strange = [index for index in strange_words(marked, heard.reach) if marked.text_at(index) not in _WELL_DONE]
    holds = any(marked.text_at(kit.end) in ("of", "with") and kit.end + 1 in strange for kit in kits)
    return holds or len(strange) > _STRANGE_BESIDE_A_PART


_STRANGE_BESIDE_A_PART = 3
"""How many unexplained words may stand beside a kit called by the last word of its name."""


def _to_go(heard: Heard) -> bool:
    """ "14 pouches to go" and "14 pouches left" are not packed, "ready to go" are."""
    said = heard.said
    if "left" in said and not set(said) & set(_DONE.split("|")):
        return True
    return any(
        said[index : index + 2] == ["to", "go"] and said[index - 1] not in ("ready", "good", "set")
        for index in range(len(said))
    )


def _bare(heard: Heard) -> Sequence[Packed | Unclear]:
    """ "We packed 21 more": of the only kit; of several, a question."""
    marked = heard.marked
    counts = [span.value for span in marked.each(Loose, *heard.reach) if span.value.firm and span.value.other is None]
    strange = [index for index in strange_words(marked, heard.reach) if not marked.text_at(index).startswith("pack")]
    if len(counts) != 1 or strange or not heard.kits or heard.asked:
        return []
    who = _packer(heard)
    if len(heard.kits) == 1:
        return [Packed(heard.kits[0], counts[0].units, who)]
    return [_which(heard.kits, counts[0].units, who)]


def _which(kits: Sequence[str], count: int, who: str | None) -> Unclear:
    return which_kit(kits, lambda kit: Packed(kit, count, who).says())


def _packer(heard: Heard) -> str | None:
    """The member who packed, where that is another one: "Tobias packed 12"."""
    before = [who for who in people_in(heard) if not who.owns and heard.marked.text_at(who.at - 1) not in _BESIDE]
    return before[0].name if before and before[0].name != ME else None


_BESIDE = frozenset("with for and to at".split())
_WILLS = frozenset("will ill gonna shall".split())
_DONE = (
    "packed|pack'd|packd|paked|finished|completed|stuffed|filled|assembled|bagged|taped|done|made|did|built|sealed"
    "|zipped|boxed|closed|labelled|labeled|wrapped|stitched|tied|knotted|stacked|prepped|prepared|produced|crated"
    "|fastened|buttoned|loaded|complete|packaged"
)
_DOING = "make|finish|fill|complete|pack|do|assemble|seal"
_WELL_DONE = frozenset(_DONE.split("|")) | frozenset(
    "ready completion knocked smashed banged churned cranked polished rattled blitzed whipped ploughed plowed got been"
    " together packing".split()
)
_NOW_DOING = frozenset(_DOING.split("|"))
_NOT_YET = (
    "well|going|want|need|needs|must|should|can|could|lets|let|hope|plan|trying|try|aim|wants|needed|wanted|may|might",
    "havent|hasnt|didnt|not|never|dont|wasnt|arent|isnt|werent * " + _DONE + "|" + _DOING + "|ready|yet|enough|all",
    "nobody",
    "how|who|whos|what|whats|when|did|have|has|is|are many|we|you|anyone|anybody|all|the|i",
    "goal|target|for|by|in|into each|every|per|until|till",
    "to be",
    "last|previous|past|every|one year|years|season|spring|summer|autumn|fall|winter|christmas",
    "ages|years|months|year|summers|winters|springs|christmases|decades ago|back",
    "remember|imagine|dreamt|dreamed|suppose",
    "trip|holiday|holidays|vacation|suitcase|suitcases|luggage|flight|lunches|picnic",
    "pack|packed|for * lunch",
    "if|when|before|after|until|once we|i|they",
    "if",
    "to pack|do|finish|make",
    "goal|target",
    "tomorrow",
    "^who|does",
    "^did you|we|i|they|anyone|somebody",
    "my bag|bags|box|boxes|sock|socks|pouch",
    "weighs|weigh",
)

FORMS = (
    Form(
        "packed",
        "finished kits",
        at_least_one(_packed),
        cues=(
            _DONE,
            "packed|finished|done|made|filled up|off|today|tonight|so",
            "put together",
            "put * together",
            "all|now ready",
            "kits|pouches|bags|boxes|socks|bundles|packs ready",
            "ready|good|set to go",
            "stand|stands|standing|sit|sitting ready",
            "ready|set for|to * van|truck|lorry|collection|pickup|delivery|courier|go|drop|driver|roll|car",
            "in the * van|truck|lorry",
            "are|is|were|was packed|finished|done|completed|ready|filled|finish",
            "have|has been packed|finished|done|completed|filled|made|closed|assembled",
            _DONE + " * up|off|shut|tight|away|out",
            "knocked|smashed|banged|churned|cranked|polished|rattled|blitzed|whipped|bashed off|out|up|through|thru",
            "got|get|getting|ploughed|plowed|powered|went through|thru|done",
            "completion|making|assembly|packing of",
            "thats|this|is|was|were|for * packing|haul|tally|output|batch|effort",
            "tonights|todays|yesterdays|mornings|evenings|this packing|haul|tally|output|batch|total|count|effort|work",
            "we|i|am|are|is * make|finish|fill|complete * today|already",
            "today * make|finish|fill|complete",
            "kit|kits|pouches|bags|boxes|socks|bundles|packs : * " + _DONE,
            "tally|haul|output|count tonight|today|so",
            "managed|nailed",
            "lids on",
        ),
        needs=frozenset((Need.COUNT,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT_YET,
        strange=8,
        lists=True,
        apart=True,
    ),
    Form(
        "packed",
        "packed so many",
        at_least_one(_bare),
        cues=("packed|packd",),
        needs=frozenset((Need.COUNT,)),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NOT_YET,
        strange=1,
        apart=True,
    ),
)
TEACH = (("packed 14 school pouches", "what they hold leaves the stock"),)


def answer(slots: Packed, desk: Desk) -> Answer | Ask:
    """Take what the kits hold out of the stock; ask first where the books lack some of it."""
    supply = Supply(desk)
    kit = supply.kit(slots.kit)
    if kit is None:
        return Answer(no_such_kit(slots.kit, desk.group.kits))
    packer = slots.who or desk.speaker
    says = Packed(kit.name, slots.count, packer).says()
    if not kit.contents and not desk.sure:
        return Ask(wording.no_contents(kit.name), (Choice(wording.RECORD_ANYWAY, says, sure=True),))
    picks, missing = picked_for(kit.contents, slots.count, supply.held, packer)
    if missing and not desk.sure:
        wanted = {item: kit.contents[item] * slots.count for item in missing}
        question = wording.not_all_there(kit.name, slots.count, missing, wanted)
        return Ask(question, (Choice(wording.RECORD_ANYWAY, says, sure=True),))
    packing = Packing(kit.name, slots.count, packer, desk.today)
    moves = [*_found(missing, packing), *_drawn(picks, packing)]
    return Answer(
        wording.packed_answer(_standing(supply, packing, moves), packing, picks, desk.settings),
        (packing, *moves),
        wording.packed_summary(kit.name, slots.count, packer),
    )


def _found(missing: dict[str, int], packing: Packing) -> list[Move]:
    """What the books lacked and the kits must hold: counted in at the packer's, and straight out again."""
    found = [Move(item, packing.packer, units, Why.COUNTED, packing.on) for item, units in missing.items()]
    return found + _drawn([Pick(one.item, one.member, one.units) for one in found], packing)


def _drawn(picks: Sequence[Pick], packing: Packing) -> list[Move]:
    return [Move(one.item, one.member, -one.units, Why.PACKED, packing.on, None, packing.kit) for one in picks]


def _standing(supply: Supply, packing: Packing, moves: Sequence[Record]) -> KitNeed:
    """Where the kit stands once these are packed."""
    stock = dict(supply.stock)
    for moved in moves:
        if isinstance(moved, Move):
            stock[moved.item] = stock.get(moved.item, 0) + moved.units
    packed = {**supply.packed, packing.kit: supply.packed.get(packing.kit, 0) + packing.count}
    return next(need for need in needs_of(supply.kits, packed, stock).kits if need.kit.name == packing.kit)


KIND = Kind("packed", FORMS, answer, TEACH)
