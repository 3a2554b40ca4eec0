"""``moved``: units go from one member's house to another's, without money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.said import ME, Counted, Who, counted_in, is_told_to_do, people_in
from bot.skills.supply import Supply
from core.money import Currency
from core.stock import Move, Why


@dataclass(frozen=True, slots=True)
class Moved:
    """So many units of an item (None: all) that go from one to another; "me" is the speaker."""

    item: str
    giver: str
    taker: str
    count: int | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: what, how many, from whom, to whom."""
        del currency
        slots: dict[str, object] = {"item": self.item, "from": self.giver, "to": self.taker}
        return slots if self.count is None else {**slots, "count": self.count}


def _frame(giver: str, taker: str) -> Frame:
    to = f" to {'me' if taker == ME else taker}"
    return Frame("I gave " if giver == ME else f"{giver} gave ", to)


def _given(heard: Heard) -> Sequence[Moved | Unclear]:
    """Somebody gives, brings or hands over; the other one is named behind."""
    verb = _verb(heard, _GIVES)
    people = [who for who in people_in(heard) if not (who.owns and who.name == ME) or _is_house(heard, who)]
    before = [who for who in people if who.at < verb and not who.owns]
    behind = [who for who in people if who.at > verb]
    if "from" in heard.said:
        sources = [who for who in behind if heard.marked.text_at(who.at - 1) == "from"]
        behind = [who for who in behind if who not in sources]
        before = before or sources
    giver = before[-1].name if before else ME
    taker = next((who.name for who in behind if who.name != giver), None)
    if not taker and behind and giver != ME:
        giver, taker = ME, giver
    return _between(heard, giver, taker)


def _is_house(heard: Heard, who: Who) -> bool:
    """Whether "mine" or "my place" is meant."""
    return heard.marked.text_at(who.at) == "mine" or heard.marked.text_at(who.at + 1) in ("place", "house", "home")


def _from_to(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "12 combs from me to Tobias", without a verb."""
    people = {heard.marked.text_at(who.at - 1): who.name for who in reversed(people_in(heard))}
    return _between(heard, people.get("from"), people.get("to"))


def _taken(heard: Heard) -> Sequence[Moved | Unclear]:
    """Somebody takes, fetches or picks up; the other one is named behind "from", or by the house."""
    verb = _verb(heard, _TAKES)
    people = people_in(heard)
    before = [who for who in people if who.at < verb and not who.owns]
    taker = before[-1].name if before else ME
    sources = [who for who in people if who.at > verb and _is_source(heard, who) and who.name != taker]
    return _between(heard, sources[0].name if sources else None, taker)


def _is_source(heard: Heard, who: Who) -> bool:
    before = heard.marked.text_at(who.at - 1)
    return before in ("from", "off") or (before == "at" and who.owns) or heard.marked.text_at(who.at) == "mine"


def _now_has(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "Priya now has the 40 combs that were at mine"."""
    people = people_in(heard)
    if len(people) < 2 or people[0].name == people[-1].name:
        return []
    return _between(heard, people[-1].name, people[0].name)


def _between(heard: Heard, giver: str | None, taker: str | None) -> list[Moved | Unclear]:
    if not giver or not taker or giver == taker or "?" in heard.marked.text_at(heard.reach[1]):
        return []
    if is_told_to_do(heard):
        return []
    return [
        _one(heard, thing, giver, taker)
        for thing in counted_in(heard)
        if heard.marked.text_at(thing.start - 1) not in _BESIDE and heard.marked.text_at(thing.start - 2) not in _BESIDE
    ]


def _one(heard: Heard, thing: Counted, giver: str, taker: str) -> Moved | Unclear:
    """So many of a thing; all of it where it is called "the combs", "all my combs"; else the question how many."""
    before = [heard.marked.text_at(index) for index in range(max(heard.reach[0], thing.start - 4), thing.start)]
    if thing.count is None and before[-1:] in (["a"], ["an"]):
        return Moved(thing.item, giver, taker, 1)
    if thing.count is None and _ALL & {*before, *heard.said[-2:]}:
        return Moved(thing.item, giver, taker)
    return thing.unsure(_frame(giver, taker)) or Moved(thing.item, giver, taker, thing.units)


_ALL = frozenset("the all my his her hers their our your those these them every whole lot everything rest".split())
_BESIDE = frozenset("for toward towards about with".split())


def _verb(heard: Heard, verbs: str) -> int:
    words = set(verbs.split("|"))
    return next((index for index in range(*heard.reach) if heard.marked.text_at(index) in words), heard.reach[0])


_GIVES = (
    "gave|give|given|handed|hand|passed|pass|dropped|drop|brought|bring"
    "|drove|left|delivered|sent|moved|carried|lent|shipped|dropping|transferred|returned"
)
_TAKES = "took|collected|picked|fetched|got|grabbed|has|have|collects|takes"
_NOT = (
    "who|whos|what|whats|how|why|when|where|which",
    "anyone|anybody|somebody|someone",
    "did|does|do|can|could|will|would|should|if|please|pls someone|somebody|anyone|anybody|you|i|we|u",
    "ill|well|gonna|going|want|wants|need|needs|must|should|lets|let|to give|bring|hand|drop|take|pick|collect|send",
    "dont|didnt|not|never|wont|havent|hasnt",
    "can|could|would|will|may give|bring|hand|drop|take|pick|collect|send|you|i",
    "picked|left * on|off|out|alone|behind|over from",
    "^give|hand|pass|drop|bring|send|take|leave",
    "a|the lift|ride|hug|call|ring|shout|look|break|kiss|talk|piece",
)

FORMS = (
    Form(
        "moved",
        "given to a member",
        _given,
        cues=(
            _GIVES,
            "gave|handed|passed|given|brought|dropped|sent|left me|her|him",
            "gave|handed|passed|given|brought|dropped|drove|moved|sent|carried|left * over|along|round|off|back|to",
            "took|taken * over|round to",
            "left|dropped|brought|put * at mine",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=4,
        apart=True,
    ),
    Form(
        "moved",
        "taken from a member",
        _taken,
        cues=(
            "took|collected|picked|fetched|got|grabbed * from|off|at",
            "collected|fetched",
            "picked up",
            "took",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=4,
        apart=True,
    ),
    Form(
        "moved",
        "somebody has them now",
        _now_has,
        cues=("now has|have|got * from|that", "has|have * now|that * from|at|were|was", "has|got my"),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=3,
        apart=True,
    ),
    Form(
        "moved",
        "from one to another",
        _from_to,
        cues=("from * to",),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=1,
        apart=True,
    ),
)
TEACH = (("gave Tobias 20 crayons", "from your house to his"),)


def answer(slots: Moved, desk: Desk) -> Answer | Ask:
    """Move the units from one to the other; ask where the books have too few at the giver's."""
    giver, taker = (desk.speaker if name == ME else name for name in (slots.giver, slots.taker))
    says = _frame(giver, taker).says(f"{'all the' if slots.count is None else slots.count} {slots.item}")
    if ask := unknown_item(slots.item, says, desk):
        return ask
    there = max(0, Supply(desk).held.get(slots.item, {}).get(giver, 0))
    count = there if slots.count is None else slots.count
    if not count:
        return Answer(wording.none_to_move(slots.item, giver))
    if there < count and not desk.sure:
        question = wording.too_few(slots.item, count, giver, there)
        return Ask(question, (Choice(wording.RECORD_ANYWAY, says, sure=True),))
    found = [Move(slots.item, giver, count - there, Why.COUNTED, desk.today)] if there < count else []
    moves = (
        *found,
        *(Move(slots.item, who, units, Why.MOVED, desk.today) for who, units in ((giver, -count), (taker, count))),
    )
    line = wording.handed_over(slots.item, count, giver, taker)
    return Answer(wording.moved_answer(line, slots.item, _held_then(desk, slots.item, moves)), moves, line)


def _held_then(desk: Desk, item: str, moves: Sequence[Move]) -> dict[str, int]:
    """What each member holds of an item after some moves."""
    held = dict(Supply(desk).held.get(item, {}))
    for moved in moves:
        held[moved.member] = held.get(moved.member, 0) + moved.units
    return {name: units for name, units in held.items() if units}


KIND = Kind("moved", FORMS, answer, TEACH)
