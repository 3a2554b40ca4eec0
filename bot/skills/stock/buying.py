"""``buying``: someone is about to buy what is needed, so that nobody else does; it lapses after a day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import plan_wording
from bot.skills.stock.people import ME, people_in
from bot.skills.stock.said import SOME, Counted, at_least_one, counted_in, from_start
from bot.skills.supply import Supply
from core.money import Currency
from core.stock import Reservation


@dataclass(frozen=True, slots=True)
class Buying:
    """So many units of an item (None: what is short) that somebody is about to buy; None is the speaker."""

    item: str
    count: int | None = None
    who: str | None = None
    off: bool = False
    """True where somebody will not buy it after all."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: what, how many, who."""
        del currency
        slots: dict[str, object] = {"item": self.item, "count": self.count, "who": self.who}
        slots["off"] = True if self.off else None
        return {name: value for name, value in slots.items() if value is not None}


def _frame(who: str | None) -> Frame:
    return Frame(f"{who} is buying " if who else "I'm buying ")


def _buying(heard: Heard) -> Sequence[Buying | Unclear]:
    if heard.asked or any(heard.marked.text_at(one.at - 1) == "from" for one in people_in(heard)):
        return []
    who = _who(heard)
    if not who and _somebody_else(heard):
        return []
    return [_one(thing, who) for thing in counted_in(heard)]


def _one(thing: Counted, who: str | None) -> Buying | Unclear:
    """So many of a thing; "some combs" are as many as are short."""
    if thing.count is None or thing.count == SOME:
        return Buying(thing.item, None, who)
    return thing.unsure(_frame(who)) or Buying(thing.item, thing.units, who)


def _somebody_else(heard: Heard) -> bool:
    """Whether somebody who is no member buys: "the school is buying 200 pencils"."""
    words = _GET.split("|")
    return any(heard.said[place - 1] in ("is", "s") for place, word in enumerate(heard.said) if place and word in words)


def _let_go(heard: Heard) -> Sequence[Buying]:
    """ "I'm not buying the pencils after all"."""
    if heard.asked:
        return []
    return [Buying(thing.item, None, _who(heard), off=True) for thing in counted_in(heard)]


def _left_to_me(heard: Heard) -> Sequence[Buying | Unclear]:
    """ "Leave the combs to me": the things may be named in the sentence before."""
    things = counted_in(heard) or counted_in(from_start(heard))
    people = [who.name for who in people_in(heard) if heard.marked.text_at(who.at - 1) in ("to", "for")]
    if set(heard.said) & {"leave", "leaves"} and not people:
        return []
    who = next((name for name in people if name != ME), None)
    return [Buying(thing.item, thing.units, who) for thing in things]


def _who(heard: Heard) -> str | None:
    people = [
        who
        for who in people_in(heard)
        if (not who.owns or heard.marked.text_at(who.end) in _SETS_OUT)
        and heard.marked.text_at(who.at - 1) not in ("for", "from", "to")
    ]
    return people[0].name if people and people[0].name != ME else None


_GET = "buying|getting|grabbing|fetching|ordering|purchasing|snagging|collecting"
_TO_GET = "buy|get|grab|fetch|pick|see|order|purchase|snag|nab|acquire|procure|collect"
_SETS_OUT = frozenset(f"{_GET}|off|gonna|going|picking|out|about|on".split("|"))
"""What may stand behind "Tobias's" that is short for "Tobias is"."""
_NEVER = (
    "^who|whos|what|whats|how|when|where|why|should|if",
    "should|shall we|i|you",
    "can|could|will|would you|u|someone|somebody|anyone|anybody",
    "not|dont|stop|never|isnt|arent buying|getting|buy|get",
    "not|never|wont be buying|getting|ordering",
    "was|were going|gonna|about|supposed|buying|getting",
    "getting better|worse|old|tired|late|cold|there|ready|married|dark|home|used|rid|up",
    "want|wants|like|love|need|needs to",
    "going|gonna be|eat|cook|watch|sleep|have",
    "some of the",
    "get some|my|back|home|there|you|him|her|them|used|rid|to",
    "buy|get|grab|fetch you|him|her|them|myself|my",
    "i|ill take|see a|that|it|you|my|him|her",
    "for my|his|her|their",
    "in my|his|her|your",
)

FORMS = (
    Form(
        "buying",
        "not after all",
        _let_go,
        cues=(
            "im|i|we|am|are|will * not|wont|cant|couldnt|cannot * buying|buy|getting|get|find|bringing the|any|those",
            "im|i|we|am|are|will * not|wont|cant|couldnt|cannot * buying|buy|getting|get|find * after all",
            "not|wont|cant|couldnt|cannot buying|buy|getting|get|find the|any|those|them",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("should|shall|why|who|if", "need|needs"),
        strange=3,
    ),
    Form(
        "buying",
        "about to buy",
        at_least_one(_buying),
        cues=(
            "im|i'm|am|is|s|whos|well|were|be " + _GET,
            _GET + " * now|today|tonight|tomorrow|this|on",
            "im|is|am|s picking up",
            "im|am * " + _GET,
            "picking up * today|tonight|tomorrow|now|on|this|at|from",
            "ill|i will|shall|can|gonna|going * " + _TO_GET,
            "ill|i " + _TO_GET,
            "i|ill will|shall|can|go|gonna|going|ll * " + _TO_GET,
            "gonna|gunna|about|going|off|way|heading to * " + _TO_GET,
            "gonna|gunna * " + _TO_GET,
            "off to * for",
            "got|have the|all * covered",
            "ill do|handle|cover|sort",
            "i will|shall|can do|handle|cover|sort",
            "let|leave me|it * buy|get|grab|fetch|pick",
            "let me handle|do|sort|cover|take",
            "dibs|bagsy|bags|shotgun on|the|getting|all|for",
            "i|ive called|claimed|bagsied",
            "am|im|are|is|shes|hes going for",
            "headed|heading|popping|nipping|running|going|off * for",
            "nip|pop|run|head|go out|over|down|round|to * for",
            "will|ll|am|im|is taking|take care of",
            "volunteered|offered|promised|agreed|propose|undertake|intend|plan|planning|mean|aim to * " + _TO_GET,
            "says|said|say|told * " + _TO_GET + "|" + _GET,
            "= me",
            "is|are mine to get|buy|fetch",
            "gonna|gunna|will|ll snag|nab",
            "^im|i on",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=3,
    ),
    Form(
        "buying",
        "buying so many now",
        at_least_one(_buying),
        cues=("^" + _GET, "^picking up"),
        needs=frozenset((Need.ITEM, Need.COUNT)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=2,
    ),
    Form(
        "buying",
        "a member will buy",
        at_least_one(_buying),
        cues=("will|ll * " + _TO_GET, "is off|out to|for"),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=2,
    ),
    Form(
        "buying",
        "leave it to me",
        at_least_one(_left_to_me),
        cues=(
            "leave|leaving the|them|those|it|that|all|some",
            "leave|leaving * to me",
            "dont|do|nobody|no * buy * ill|i|leave",
            "ill do|get|buy|see it|them|that|those",
            "dont|nobody|no * buy * im",
            "i|ill * myself",
            "mine to buy",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("packed|paid|owe", "who|whos|what|whats"),
        strange=4,
    ),
)
TEACH = (("I'm buying the pencils", "so that nobody else does; for a day"),)


def answer(slots: Buying, desk: Desk) -> Answer | Ask | None:
    """Reserve what is short for the buyer; say so where somebody else is buying it already."""
    buyer = slots.who or desk.speaker
    if slots.off:
        return _release(slots.item, buyer, desk)
    says = _frame(slots.who).says(f"{slots.count or 'the'} {slots.item}")
    if ask := unknown_item(slots.item, says, desk):
        return ask
    supply = Supply(desk)
    others = [one for one in supply.reserved if one.item == slots.item and one.member != buyer]
    short = supply.needs.short.get(slots.item, 0)
    still = max(0, short - sum(one.units for one in others))
    if others and not desk.sure and ((slots.count or 0) > still or not still):
        question = plan_wording.bought_by_others(slots.item, others, still, desk.at)
        rest = Choice(plan_wording.buy_the_rest(still), _frame(slots.who).says(f"{still} {slots.item}"))
        return Ask(question, (*[rest] * bool(still), Choice(plan_wording.BUY_AS_WELL, says, sure=True)))
    units = slots.count or still or short
    if not units:
        return Answer(plan_wording.none_needed(slots.item))
    text = plan_wording.buying_answer(slots.item, units, buyer, still)
    reservation = Reservation(slots.item, buyer, units, desk.at)
    return Answer(text, (reservation,), plan_wording.buying_summary(slots.item, units, buyer))


def _release(item: str, buyer: str, desk: Desk) -> Answer | None:
    """Let go of what a member was about to buy; nothing is said where that was nothing."""
    supply = Supply(desk)
    if not any(one.item == item and one.member == buyer for one in supply.reserved):
        return None
    line = plan_wording.not_buying(item, buyer)
    text = plan_wording.open_again(line, item, supply.needs.short.get(item, 0))
    return Answer(text, (Reservation(item, buyer, 0, desk.at),), line)


KIND = Kind("buying", FORMS, answer, TEACH)
