"""What a message says of units that change hands between members: slots, no books."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.reading.form import Heard
from bot.reading.offers import Frame, Unclear
from bot.reading.spans import Reach
from bot.skills.stock.people import ME, Who, is_told_to_do, people_in
from bot.skills.stock.said import Counted, counted_in, with_lone_count
from core.money import Currency

GIVES = (
    "gave|give|given|handed|hand|passed|pass|dropped|drop|brought|bring"
    "|drove|left|delivered|sent|moved|carried|lent|shipped|dropping|transferred|returned|shifted|ran|posted|entrusted"
    "|carry|carries|gives|brings|mailed|couriered|hauled|lugged|ferried|loaned|forwarded|dispatched|biked|cycled|walked"
    "|wheeled|trundled|relocated|slipped|presented|released|rehomed|rushed|hauling|schlepped|toted|popped|delivering"
)
TAKES = (
    "took|collected|picked|fetched|got|grabbed|has|have|collects|takes|take|taken|borrowed|nabbed|pinched|swiped|gathered"
    "|had|scooped|inherited|pick|retrieved|nicked"
)
RELIEVED = "relieved|relieves|unburdened|robbed|divested"


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


def frame_of(giver: str, taker: str) -> Frame:
    to = f" to {'me' if taker == ME else taker}"
    return Frame("I gave " if giver == ME else f"{giver} gave ", to)


def given(heard: Heard) -> Sequence[Moved | Unclear]:
    """Somebody gives, brings or hands over; the other one is named behind."""
    verb = _verb(heard, f"{GIVES}|took|taken|takes|let")
    people = [who for who in people_in(heard) if not (who.owns and who.name == ME) or _is_house(heard, who)]
    before = [who for who in people if who.at < verb and not who.owns]
    behind = [who for who in people if who.at > verb]
    if {"from", "off"} & set(heard.said):
        sources = [who for who in behind if heard.marked.text_at(who.at - 1) in ("from", "off")]
        behind = [who for who in behind if who not in sources]
        before = before or sources
    giver = before[-1].name if before else ME
    taker = next((who.name for who in behind if who.name != giver), None)
    if not taker and behind and giver != ME:
        giver, taker = ME, giver
    if not taker and giver == ME and _HAS_NOW & set(heard.said):
        taker = next((who.name for who in before if who.name != ME), None)
    return _between(heard, giver, taker, [who for who in behind if who.name != giver])


_HAS_NOW = frozenset(("has", "now", "keeps"))


def _is_house(heard: Heard, who: Who) -> bool:
    """Whether "mine" or "my place" is meant."""
    return heard.marked.text_at(who.at) == "mine" or bool(
        _HOUSE & {heard.marked.text_at(who.at + 1), heard.marked.text_at(who.at + 2)}
    )


_HOUSE = frozenset(
    "place house home porch garage doorstep door hall car trunk step hands stock pile box closet cupboard".split()
)


def from_to(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "12 combs from me to Tobias", "Tobias to Mei, 12 combs" and "tobias >> mei 12 combs", without a verb."""
    found = people_in(heard)
    people = {heard.marked.text_at(who.at - 1): who.name for who in reversed(found)}
    if "from" in people and "to" in people:
        return _between(heard, people["from"], people["to"])
    for one, other in pairwise(found):
        joint = {heard.marked.text_at(index) for index in range(one.end, other.at)}
        if joint & _TO and joint <= _TO | _STROKES:
            return _between(heard, one.name, other.name)
    things = counted_in(heard)
    plain = bool(things) and things[0].start - heard.reach[0] <= _OPENING and all(thing.count for thing in things)
    taker = people.get("to")
    return _between(heard, ME, taker) if plain and taker and len(found) == 1 else []


_OPENING = 4
"""Among how many first words a thing must be named where nothing else tells that it is handed over."""
_TO = frozenset(("to", ">", "→"))
_STROKES = frozenset(("-", "=", "over", "s"))


def taken(heard: Heard) -> Sequence[Moved | Unclear]:
    """Somebody takes, fetches or picks up; the other one is named behind "from", by the house, or was visited."""
    verb = _verb(heard, TAKES)
    people = people_in(heard)
    before = [who for who in people if who.at < verb and not who.owns]
    taker = before[-1].name if before else ME
    sources = [who for who in people if who.at > verb and _is_source(heard, who) and who.name != taker]
    if not sources and any(heard.marked.text_at(who.at - 1) == "to" and who.at > verb for who in people):
        return given(heard)
    if not sources and taker == ME and _visited(heard, verb):
        sources = [who for who in people if who.at < verb and who.owns and who.name != ME]
    if not sources and taker != ME and (_visited(heard, verb) or _took_mine(heard)):
        return _between(heard, ME, taker)
    return _between(heard, sources[0].name if sources else None, taker, givers=sources)


def _is_source(heard: Heard, who: Who) -> bool:
    before = heard.marked.text_at(who.at - 1)
    if heard.marked.text_at(who.at) == "my" and not _is_house(heard, who):
        return False
    if who.owns and heard.marked.text_at(who.end) in _KIN:
        return False
    return before in ("from", "off") or (before == "at" and who.owns) or heard.marked.text_at(who.at) == "mine"


_KIN = frozenset(
    "mum mom dad mother father sister brother wife husband son daughter kids friend boss aunt uncle".split()
)


def _visited(heard: Heard, verb: int) -> bool:
    """Whether somebody came by before taking things: they were the speaker's."""
    return any(heard.marked.text_at(index) in _CAME for index in range(heard.reach[0], verb))


_CAME = frozenset("came come swung popped stopped dropped called nipped swooped visited turned showed here".split())


def _took_mine(heard: Heard) -> bool:
    """Whether the speaker's things are meant, several of them: "my pen" is a pen of one's own."""
    things = counted_in(heard)
    several = bool(things) and (things[0].count is not None or heard.marked.text_at(things[0].end - 1).endswith("s"))
    return several and _owner(heard) == ME


def _owner(heard: Heard) -> str | None:
    """Whose the first thing is: "my 12 combs", "Mei's combs", "the 20 hats of Mei"."""
    things = counted_in(heard)
    for who in people_in(heard):
        before = bool(things) and who.owns and who.end <= things[0].start <= who.end + _OWNED
        behind = bool(things) and heard.marked.text_at(who.at - 1) == "of" and who.at == things[0].end + 1
        if before or behind:
            return who.name
    return None


_OWNED = 4


def now_has(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "Priya now has the 40 combs that were at mine", "Ines has my 30 combs now"."""
    people = people_in(heard)
    if len(people) < 2 or people[0].name == people[-1].name or people[0].owns:
        return []
    owned = people[-1].owns or heard.marked.text_at(people[-1].at - 1) in ("from", "off", "at", "with", "by", "in")
    return _between(heard, people[-1].name, people[0].name) if owned else []


def now_at(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "Mei's combs are at my place now": from whom they belong to, to whom they are with."""
    owner, things = _owner(heard), counted_in(heard)
    behind = [who for who in people_in(heard) if things and who.at > things[-1].end and who.name != owner]
    placed = [who for who in behind if heard.marked.text_at(who.at - 1) in ("at", "with", "in", "by", "on", "to")]
    return _between(heard, owner, placed[0].name if placed else None)


def came_with(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "Odile came round with 12 combs": they are the speaker's now; who comes to a member's brings them there."""
    along = _verb(heard, "with|w|bringing|carrying")
    people, things = [who for who in people_in(heard) if who.at < along], counted_in(heard)
    between = range(along, things[0].start) if things else range(0)
    far = len(between) > _NEAR or any(heard.marked.text_at(index) in ("and", ",") for index in between)
    if not people or far or "home" in heard.said:
        return []
    giver = people[0].name
    others = [who.name for who in people_in(heard) if who.name not in (giver, ME)]
    return _between(heard, giver, others[0] if others else ME)


_NEAR = 7


def went_off(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "I no longer have the combs, Priya drove off with them"."""
    gone = next((index for index in range(*heard.reach) if heard.marked.text_at(index) in ("off", "away")), None)
    takers = [who for who in people_in(heard) if gone and who.at < gone and who.name != ME]
    mine = _owner(heard) == ME or "longer" in heard.said or _visited(heard, gone or heard.reach[0])
    return _between(heard, ME if mine else None, takers[-1].name if takers else None)


def relieved(heard: Heard) -> Sequence[Moved | Unclear]:
    """ "Junia relieved Dilys of her marbles"; who did it may be told in the next sentence."""
    verb = _verb(heard, RELIEVED)
    people = people_in(heard)
    takers = [who.name for who in people if who.at < verb]
    givers = [who.name for who in people if who.at > verb]
    told = {who.name for who in people_in(_all_of(heard))} - {*givers, ME}
    if not takers and len(told) == 1:
        takers = [*told]
    return _between(heard, givers[0] if givers else None, takers[-1] if takers else None)


def _all_of(heard: Heard) -> Heard:
    return replace(heard, reach=(0, len(heard.marked.tokens)))


def _between(
    heard: Heard, giver: str | None, taker: str | None, takers: Sequence[Who] = (), givers: Sequence[Who] = ()
) -> list[Moved | Unclear]:
    """Each thing as it goes from one to the other; those of a list may each have their own taker or giver."""
    if not giver or not taker or giver == taker or heard.asked:
        return []
    if is_told_to_do(heard):
        return []
    things = [thing for thing in with_lone_count(heard, counted_in(heard)) if not _is_beside(heard, thing)]
    bounds = [heard.reach[0], *(thing.end for thing in things)]
    untils = [*(thing.start for thing in things), heard.reach[1]][1:]
    return [
        _one(heard, thing, _own(heard, givers, thing, reach) or giver, _own(heard, takers, thing, reach) or taker)
        for thing, reach in zip(things, zip(bounds, untils, strict=False), strict=False)
    ]


def _own(heard: Heard, people: Sequence[Who], thing: Counted, reach: Reach) -> str | None:
    """Who is named for one thing of a list: right before it, "Ines 12 pens", or behind it, "12 pens to Ines"."""
    before = [who for who in people if reach[0] <= who.at < thing.start]
    ahead = bool(people) and people[0].at < min(one.start for one in counted_in(heard))
    dative = [who.name for who in before if ahead or (heard.marked.text_at(who.at - 1) not in _LEADS and not who.owns)]
    behind = [who for who in people if thing.end <= who.at < reach[1]]
    led = [who.name for who in behind if heard.marked.text_at(who.at - 1) in _LEADS]
    return next(iter([*dative[-1:], *led]), None)


_LEADS = frozenset("to at with on in for from off by".split())


def _is_beside(heard: Heard, thing: Counted) -> bool:
    """Whether a thing is only spoken about, "a talk about combs", or is one's own: "my pen"."""
    before = [heard.marked.text_at(thing.start - ago) for ago in (1, 2)]
    own = before[0] == "my" and not heard.marked.text_at(thing.end - 1).endswith("s")
    return thing.count is None and (own or bool(_BESIDE & {*before}))


def _one(heard: Heard, thing: Counted, giver: str, taker: str) -> Moved | Unclear:
    """So many of a thing; all of it where it is called "the combs", "all my combs"; else the question how many."""
    before = [heard.marked.text_at(index) for index in range(max(heard.reach[0], thing.start - 4), thing.start)]
    if thing.count is None and before[-1:] in (["a"], ["an"]):
        return Moved(thing.item, giver, taker, 1)
    if thing.count is None and any(who.owns and who.end == thing.start for who in people_in(heard)):
        return Moved(thing.item, giver, taker)
    if thing.count is None and _ALL & {*before, *heard.said[-2:]}:
        return Moved(thing.item, giver, taker)
    return thing.unsure(frame_of(giver, taker)) or Moved(thing.item, giver, taker, thing.units)


_ALL = frozenset("the all my his her hers their our your those these them every whole lot everything rest".split())
_BESIDE = frozenset("for toward towards about with".split())


def _verb(heard: Heard, verbs: str) -> int:
    words = set(verbs.split("|"))
    return next((index for index in range(*heard.reach) if heard.marked.text_at(index) in words), heard.reach[0])
