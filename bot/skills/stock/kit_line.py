"""``kit_line``: someone says how many of an item go in each kit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Frame, Unclear
from bot.reading.packs import Loose
from bot.skills.answering import Answer, Ask, Desk, NewContents, NewName, Record
from bot.skills.judging import unknown_items
from bot.skills.stock import kit_wording
from bot.skills.stock.barring import barred_as
from bot.skills.stock.cautioning import cautions_of
from bot.skills.stock.said import Counted, above_nothing, counted_in, from_start, kits_in, which_kit
from core.counts import Quantity
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Line:
    """So many units of an item in each kit, 0 for none any more."""

    kit: str
    item: str
    count: int
    new: bool = False
    """True where the kit was called a new one."""
    more: bool = False
    """True where the count may be one on top of what is in it: "add 2 pencils"."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``kit_line``."""
        del currency
        return {"kit": self.kit, "item": self.item, "count": self.count}

    def says(self) -> str:
        """The same as a message."""
        return f"{'new kit ' if self.new else 'each '}{self.kit} gets {self.count} {self.item}"


def _lines(heard: Heard) -> Sequence[Line | Unclear]:
    kit = _kit(heard)
    sure = bool(named(heard.marked, (0, heard.reach[1]), NameSort.KIT)) or _new_kit(from_start(heard)) is not None
    things = [thing for thing in counted_in(heard, unknown=sure) if thing.item.lower() not in _no_items(heard)]
    if kit is None or not things or heard.asked:
        return []
    if _TAKE & set(heard.said) and _OUT & set(heard.said) and any(thing.count for thing in things):
        return []
    none = _is_left_out(heard, things)
    found: list[Line | Unclear] = []
    for thing in things:
        if none:
            found.append(_line(heard, kit, thing.item, 0))
        elif (changed := _changed_to(heard, thing)) is not None:
            found.append(_line(heard, kit, thing.item, changed))
        elif thing.count is not None:
            found.append(_counted(heard, kit, thing))
        elif heard.marked.text_at(thing.start - 1) in ("a", "an"):
            found.append(_line(heard, kit, thing.item, 1))
    return found


def _is_left_out(heard: Heard, things: Sequence[Counted]) -> bool:
    """Whether things are to be in the kit no more; a "no" must be said of them, not of a part: "with no lid"."""
    said = set(heard.said) & _NONE
    if not said or any(thing.count for thing in things):
        return False
    leads = {heard.marked.text_at(at) for thing in things for at in range(thing.start - _BEFORE, thing.start)}
    return said != {"no"} or "no" in leads or "longer" in heard.said


_BEFORE = 3
_MORE = frozenset("add more extra another additional".split())


def _changed_to(heard: Heard, thing: Counted) -> int | None:
    """The new count where a line is changed "from 8 to 6"; the only thing of the stretch."""
    marked = heard.marked
    counts = [span for span in marked.each(Loose, *heard.reach) if span.start >= thing.end and span.value.firm]
    leads = [marked.text_at(span.start - 1) for span in counts]
    return counts[-1].value.units if leads[-1:] == ["to"] and leads[:-1] in ([], ["from"]) else None


def _counted(heard: Heard, kit: str | tuple[str, ...], thing: Counted) -> Line | Unclear:
    if isinstance(thing.count, Quantity) and thing.units is None and thing.count.packs == 1:
        return _line(heard, kit, thing.item, 1)
    name = kit if isinstance(kit, str) else kit[0]
    lead = "each" if name in heard.kits else "new kit"
    return thing.unsure(Frame(f"{lead} {name} gets ")) or _line(heard, kit, thing.item, thing.units or 0)


def _line(heard: Heard, kit: str | tuple[str, ...], item: str, count: int) -> Line | Unclear:
    if isinstance(kit, tuple):
        return which_kit(kit, lambda name: Line(name, item, count).says())
    more = bool(_MORE & set(heard.said)) and count > 0
    return Line(kit, item, count, kit not in heard.kits, more)


def _kit(heard: Heard) -> str | tuple[str, ...] | None:
    """The kit that is spoken of: here, else in the sentence before; several where the words do not tell."""
    for start in (heard.reach[0], 0):
        before = replace(heard, reach=(start, heard.reach[1]))
        if new := _new_kit(before):
            return new
        if kits := kits_in(before):
            return kits[-1].rivals or kits[-1].name
    return None


def _new_kit(heard: Heard) -> str | None:
    """The name behind "new kit": up to a colon, dash, comma, "with" or "gets"."""
    marked = heard.marked
    for index in range(heard.reach[0], heard.reach[1] - 1):
        if marked.text_at(index) in ("new", "another") and marked.text_at(index + 1) in ("kit", "one"):
            first = index + 2
            while marked.text_at(first) in _CALLED:
                first += 1
            last = first
            while (
                last < len(marked.tokens) and marked.tokens[last].text.isalpha() and marked.text_at(last) not in _NAMED
            ):
                last += 1
            is_name = last > first and marked.text_at(first) not in _NO_NAME
            return marked.said(first, last).lower() if is_name else None
    return None


def _no_items(heard: Heard) -> set[str]:
    """Words that an unknown item cannot be: the names of kits, old and new."""
    new = _new_kit(from_start(heard))
    return {kit.lower() for kit in (*heard.kits, new or "")}


_CALLED = frozenset((":", "-", "called", "named", "the", "a"))
_NO_NAME = frozenset("on in at to from is was came arrived got looks".split())
_NAMED = frozenset("with gets has holds contains takes and of for each is".split())
_TAKE = frozenset("take remove drop cut".split())
_OUT = frozenset("out from".split())
"""With one of each and a count it is open how many stay in: "take 3 crayons out of each pouch"."""
_NONE = frozenset("no drop remove without out stop skip leave off none take".split())
_GETS = "gets|get|has|have|holds|hold|needs|contains|contain|includes|include|takes|take|carries"

FORMS = (
    Form(
        "kit_line",
        "each kit gets so many",
        above_nothing(_lines),
        cues=(
            "each|every|per|a|the|one|all * " + _GETS,
            _GETS + " * each|apiece|inside",
            "gets|get|contains|includes|holds",
            "in|into|for each|every",
            "each|every|per|a|the kit|pouch|bag|box|sock|pack|bundle|roll|set",
            "per",
            "put|we|add|pack|include * in|into|to each|every|the|a",
            "should|will|to be|have|hold|get|contain|include",
            "list|contents is|are|:|=",
            "make it|that * per|each|in",
            "pouch|pouches|bag|bags|box|boxes|sock|socks|kit|kits|pack =|:",
            "take|bring|down|up * down|up|to * per|each",
            "cut|reduce|raise|lower|lift|change|swap|up|double|halve|increase * to",
            "stick|throw|pop|slip|toss|pack|tuck|drop|include * in|into the|each|every|our|a",
            "let * carry|have|hold|get|take",
            "carry|carries|carrying",
            "to|in|for the|each|every|our kit|pouch|bag|box|sock|pack|bundle|roll|set",
            "recipe|contents|agreed|usual",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "how|what|whats|who|does|do|did|can|could|why",
            "packed|finished|completed|stuffed|filled|taped",
            "pop|pops|come|comes|fall|falls|break|breaks|open|opens|stick|sticks off|out|open|apart|loose|up",
            "dont|doesnt|wont|cant|not|never|too * fit|fits|close|closes",
            "goal|target",
            "need|needs|want",
            "ages|aged|age|old|olds|year|years",
            "maybe|perhaps|would|id|wish|might|if",
        ),
        strange=3,
        lists=True,
    ),
    Form(
        "kit_line",
        "a new kit",
        above_nothing(_lines),
        cues=("new|another kit", "new one :|called|named"),
        lacks=frozenset((Need.AMOUNT,)),
        never=("need|want|buy a new kit", "how|what|whats|who|does|should|shall|could"),
        strange=4,
        lists=True,
    ),
    Form(
        "kit_line",
        "no longer in the kit",
        above_nothing(_lines),
        cues=(
            "no * in|into|for|with the|each|our|a",
            "no more * in",
            "no * in|into * anymore",
            "skip|drop * in the|each|every|our",
            "drop|remove|take|leave|cut|skip * from|out|of|off",
            "without",
            "stop putting|packing * in",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=("how|what|whats|who|does|do|did|can|could|should|why|if", "all our|the kits"),
        strange=3,
    ),
)
TEACH = (("each school pouch gets 4 pencils", "what goes in a kit"),)


def answer(slots: Line, desk: Desk) -> Answer | Ask | None:
    """Note the line; ask about new items, once for all of the kit, or about something the group does not pack."""
    lines = _together(slots, desk)
    unknown = list(dict.fromkeys(line.item for line in lines if desk.group.item(line.item) is None))
    if unknown and not desk.sure:
        return unknown_items(unknown, _says(lines), desk) if slots is lines[0] else None
    kit = desk.group.kit(slots.kit)
    if slots.count and not desk.sure and (bar := barred_as(slots.item, desk.group)):
        return Ask(kit_wording.on_the_list(slots.item, bar), (Choice(kit_wording.PACK_IT, slots.says(), sure=True),))
    was = kit.contents.get(slots.item, 0) if kit else 0
    if was and slots.more and not desk.sure:
        return _on_top(slots, was)
    if kit and not was and not slots.count:
        return Answer(kit_wording.not_in_it(slots.kit, slots.item))
    new = kit is None and not any(isinstance(one, NewContents) and one.kit == slots.kit for one in desk.said)
    text = kit_wording.line_answer(slots.kit, slots.item, slots.count, was, new)
    if slots.count and not was:
        text = "\n".join([text, *cautions_of([slots.item], kit.ages if kit else None, desk.group)])
    records: tuple[Record, ...] = (NewContents(slots.kit, slots.item, slots.count),)
    item = NewName(slots.item, slots.item)
    if slots.item in unknown and item not in desk.said:
        records = (item, *records)
    return Answer(text, records, kit_wording.line_summary(slots.kit, slots.item, slots.count))


def _together(slots: Line, desk: Desk) -> list[Line]:
    """The lines of the kit in the same message, to be kept together; the line alone where one asks of its own."""
    lines = [one for one in desk.heard if isinstance(one, Line) and one.kit == slots.kit]
    return [slots] if any(barred_as(one.item, desk.group) or one.more for one in lines) else lines or [slots]


def _says(lines: Sequence[Line]) -> str:
    """All lines of a kit as a message."""
    return ", ".join([lines[0].says(), *(f"{line.count} {line.item}" for line in lines[1:])])


def _on_top(slots: Line, was: int) -> Ask:
    """The question whether a count is the new one, or one on top."""
    counts = (was + slots.count, slots.count)
    choices = tuple(
        Choice(kit_wording.in_each(count), replace(slots, count=count, more=False).says(), sure=True)
        for count in counts
    )
    return Ask(kit_wording.on_top(slots.kit, slots.item, was, slots.count), choices)


KIND = Kind("kit_line", FORMS, answer, TEACH)
