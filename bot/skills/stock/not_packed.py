"""``not_packed``: something goes on the list of what the group will not pack, or comes off it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk, NewBar
from bot.skills.stock import kit_wording
from bot.skills.stock.barring import things_told
from core.money import Currency


@dataclass(frozen=True, slots=True)
class NotPacked:
    """A thing that is not packed, or (``lifted``) may be packed again."""

    item: str
    lifted: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: what, and whether the rule is lifted."""
        del currency
        return {"item": self.item, "lifted": True} if self.lifted else {"item": self.item}


def _barred(heard: Heard) -> Sequence[NotPacked]:
    return [NotPacked(thing) for thing in things_told(heard)]


def _lifted(heard: Heard) -> Sequence[NotPacked]:
    return [NotPacked(thing, lifted=True) for thing in things_told(heard)]


FORMS = (
    Form(
        "not_packed",
        "we do not pack it",
        _barred,
        cues=(
            "we|lets dont|never|wont|cant|cannot|shouldnt|stop|not * pack|packing|put|include",
            "remember that|to|we * dont|never|not pack|put|include",
            "dont|dnt|never|not|wont|stop pack|packing|put|putting|include|send|sending",
            "do not pack",
            "not|no pack list",
            "no * in|for any|the|our|all kits|kit",
            "no * in|for kits|kit",
            "no more * in|for the|our|any|all|kits",
            "isnt|arent|not|never|no allowed|permitted",
            "keep * out of|off * kits|list",
            "are|is banned|forbidden",
            "on|onto the|our do|not|no|banned|forbidden * list",
            "are|is off ,|we|they|for|:",
            "ban",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(
            "who|whos|what|whats|how|why|when|where|did|are|is|can|could|should|may we|i|you|anyone|somebody",
            "^what|whats|which|who|why|when|where|how|did|do|does|is|are|r|can|could|may|should|if|show|see|read|send|whats",
            "i dont|never|wont|cant|cannot|do|pack|shouldnt|enough",
            "pack|packing on|at|enough|too",
            "your|my|his|her",
            "kids|children|pets|dogs|people|visitors|guests|parents|phones|shoes|smoking are|arent|not|no",
            "allowed|banned|forbidden here|there|inside|outside",
            "not|no|longer banned|forbidden",
            "not packed|pack yet|today|tonight|tomorrow|until|till",
            "have|has|havent|hasnt|didnt|did",
            "off|from the * list",
            "again|withdrawn|lifted|lift|unban",
            "shopping|price|guest|wish|christmas|mailing list",
            "lunch|suitcase|suitcases|car|tent|bags|boxes",
            "too late|early|much|many|heavy|full",
            "pack|packing up|until|till|without|light|late|early|before|after|on|at|for|in|with|tonight|today",
        ),
        strange=4,
    ),
    Form(
        "not_packed",
        "it may be packed again",
        _lifted,
        cues=(
            "pack|packing|packed|include * again|once",
            "fine|ok|okay|allowed * again",
            "can|may|could * pack|put|add|include * again|now|after|once",
            "can|may|could pack|put|add|include * again|now|after|once",
            "no longer|more banned|forbidden",
            "lift|drop|end the|our|that ban|rule",
            "unban",
            "take|remove * off|from the|our * list",
            "off the|our * list",
            "rule * withdrawn|lifted|gone|dropped",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(
            "who|whos|what|whats|how|why|when|where|did",
            "dont|never|cant|cannot",
            "not ok|okay|fine|allowed|to|be|yet",
            "shopping|price|guest|wish|christmas list",
        ),
        strange=4,
    ),
)
TEACH = (("we don't pack balloons", "asked about before it goes into a kit"),)


def answer(slots: NotPacked, desk: Desk) -> Answer:
    """Put the thing on the list, or take it off."""
    on_it = slots.item in desk.group.not_packed
    if slots.lifted != on_it:
        return Answer(kit_wording.list_unchanged(slots.item, on_it))
    inside = [kit.name for kit in desk.group.kits if slots.item in kit.contents]
    line = kit_wording.bar_line(slots.item, slots.lifted)
    text = kit_wording.bar_answer(line, slots.item, inside if not slots.lifted else [])
    return Answer(text, (NewBar(slots.item, slots.lifted),), line)


KIND = Kind("not_packed", FORMS, answer, TEACH)
