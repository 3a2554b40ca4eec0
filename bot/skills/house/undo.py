"""``undo``: someone takes back the last entry."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.words import lexicon
from bot.skills.answering import Answer, Desk
from bot.skills.house import wording
from bot.skills.house.bare import Bare
from bot.storage.entries import entry, last_entry, undo
from bot.storage.shares import resting_on, touched_by

_AWAY = (
    "delete|remove|erase|cancel|withdraw|retract|reverse|revert|void|strike|cross|wipe|bin|kill|drop|scrap|scratch|nix"
    "|ditch"
)
_LAST = "last|that|it|this|mine|my|entry|one|what|wrong|mistake"

_POINTS = frozenset("that the my this ur your his her these those".split())
_LAST_WORDS = frozenset(
    [
        *_LAST.split("|"),
        "entries",
        "price",
        "prices",
        "message",
        "please",
        "pls",
        "first",
        "two",
        "back",
        "out",
        "off",
        "away",
        "from",
        "again",
    ]
)


def _take_back(heard: Heard) -> Sequence[Bare]:
    """One reading, unless the words name another thing to take away: "delete that photo"."""
    away = set(_AWAY.split("|")) | {"undo", "take", "pull"}
    marked = heard.marked
    for index in range(heard.reach[0], heard.reach[1] - 2):
        if marked.text_at(index) in away and marked.text_at(index + 1) in _POINTS:
            thing = marked.text_at(index + 2)
            plain = thing in lexicon()["filler"] and marked.text_at(index) != "undo"
            if thing.isalpha() and thing not in _LAST_WORDS and not plain:
                return []
    return [Bare()]


FORMS = (
    Form(
        "undo",
        "take it back",
        _take_back,
        cues=(
            "undo",
            "take|pull that|it|this|them|those * back|off|out|away",
            "take back that|my|the|it|what|last|this",
            "take|pull my|the|that last * back|off|out|away",
            _AWAY + " that|tht|it|this|my|the last|one|entry|mine",
            _AWAY + " * last|entry|mine",
            _AWAY + " that|tht|it|this|mine|what",
            "cross out that|it|the|my",
            "never mind * last|that|one",
            "nvm that|last|the",
            "ignore|disregard|forget that|my|the|what * price|entry|one|message|put|said|sent|last",
            "forget what i",
            "get rid of it|that|the|my|this",
            "take off what|that",
            "off the record|books|list",
            "please|kindly take back",
            "could|can it|that be removed|deleted|undone|cancelled|erased|withdrawn",
            "ctrl z",
            _AWAY + " the entry",
            "disregard and",
            "that was|is a mistake|wrong",
            "pretend i never",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        strange=1,
        never=(
            "button",
            "wish i|we",
            "need an|a undo",
            "that|it|them|this|those back to|at|in|with|for",
            "cant|could|could undo",
            "can|could someone|somebody|you|anyone * take|drop",
            "how|why|when * undo|take|took",
            "dont|not|never * take|undo|delete|remove|drop",
            "can|could|should|may i|we * take|undo",
            "i|we can take",
            "of mine|my|the",
            _AWAY + " * off|at|by|round|in",
        ),
    ),
    Form(
        "undo",
        "take that back, with a reason",
        _take_back,
        cues=("^" + _AWAY + " that|it|the|my|out", "ctrl + z", "^undo", "^forget what i"),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(_AWAY + " * off|at|by|round|in", _AWAY + " the * that|which|and"),
        strange=4,
    ),
    Form(
        "undo",
        "please undo",
        _take_back,
        cues=("please|pls|plz|so|, undo", "undo please|pls|that|it"),
        never=("wish i|we", "could undo"),
        strange=9,
    ),
)
TEACH = (("take that back", "your last entry goes out of the books"),)


def answer(slots: Bare, desk: Desk) -> Answer:
    """Take back the entry replied to, else the speaker's last; another's is only offered."""
    del slots
    if desk.replied_entry is not None:
        return take_back(desk.replied_entry, desk)
    own = last_entry(desk.books, desk.speaker)
    if own:
        return take_back(own.number, desk)
    newest = last_entry(desk.books, None)
    if newest is None:
        return Answer(wording.NOTHING_TO_TAKE_BACK)
    return Answer(wording.not_yours(newest), offer_take_back=newest.number)


def take_back(number: int, desk: Desk) -> Answer:
    """Take an entry back, or say who has done so before, or what must be taken back first."""
    first = resting_on(desk.books, number)
    held = entry(desk.books, first) if first else None
    if held:
        return Answer(wording.taken_back_first(held), offer_take_back=held.number)
    split = touched_by(desk.books, number)
    undone = undo(desk.books, number, desk.speaker, desk.at)
    if undone:
        return Answer(wording.taken_back(undone), split=split)
    before = entry(desk.books, number)
    return Answer(wording.taken_back_before(before) if before else wording.NOTHING_TO_TAKE_BACK)


def press(numbers: Sequence[int], desk: Desk) -> Answer:
    """The button that takes an entry back."""
    return take_back(numbers[0], desk)


KIND = Kind("undo", FORMS, answer, TEACH)
