"""``undo``: someone takes back the last entry."""

from __future__ import annotations

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.house import wording
from bot.skills.house.bare import Bare, bare
from bot.storage.entries import entry, last_entry, undo

_LAST = "last|that|it|this|mine|my|entry|one|what|wrong|mistake"

FORMS = (
    Form(
        "undo",
        "take it back",
        bare,
        cues=(
            "take that|it|this|them|those back",
            "take back that|my|the|it|what|last|this",
            "take my|the last * back",
            "undo",
            "undo that|it|this|last|the|my",
            "scratch that|tht|last|the|it|my",
            "scrap that|last|the|it",
            "delete|remove|erase|cancel|forget that|it|this|last|my|the|what|mine * " + _LAST,
            "delete|remove|erase|cancel|scrap that|it|last|what|mine",
            "never|nvm mind * last|that|one",
            "strike that|it|last",
            "ignore|disregard that|my|the|last * price|entry|one|message",
            "that was|is a mistake|wrong",
            "withdraw|retract|reverse|revert|void|strike|cross * last|that|it|what|mine|entry",
            "drop my|the|that * last|one|entry",
            "pretend i never",
            "ctrl z",
            "cross out that|it|the|my",
            "take * away again",
            "forget what i",
        ),
        lacks=frozenset((Need.AMOUNT,)),
        strange=3,
        never=("button", "undo the", "wish i|we", "need an|a undo", "cant|could|could undo"),
    ),
    Form(
        "undo",
        "please undo",
        bare,
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
    """Take an entry back, or say who has done so before."""
    undone = undo(desk.books, number, desk.speaker, desk.at)
    if undone:
        return Answer(wording.taken_back(undone))
    before = entry(desk.books, number)
    return Answer(wording.taken_back_before(before) if before else wording.NOTHING_TO_TAKE_BACK)


KIND = Kind("undo", FORMS, answer, TEACH)
