"""``delete_group``: an administrator has all data of the group deleted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.house import leaving_wording as wording
from bot.skills.house.wholly import wholly, words_said
from bot.storage.leaving import erase, extent
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Deletion:
    """All data of the group is to go; ``really`` as the second question has it."""

    really: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """Nothing to show, but for the second question's word."""
        del currency
        return {"really": True} if self.really else {}


SAYS, REALLY_SAYS = "delete all our data", "delete really all our data"
_VERBS = "delete|erase|wipe|purge|remove|destroy|clear|forget"
_AWAY = f"(?P<away>{_VERBS})"
_ALL = r"(?:(?P<really>really )?(?:all|everything|all of|all the|the whole|the|every bit of) )?"
_DATA = r"(?:data|records|books|information|info|entries|data and books|books and data)"
_WE = r"(?:us|our (?:whole )?(?:group|packers)|(?:this|the) (?:whole )?(?:group|chat))"
_PATTERNS = (
    rf"{_AWAY} {_ALL}(?:our|(?:this|the|our) groups) (?:whole |entire |own )?{_DATA}",
    rf"{_AWAY} {_ALL}(?:the )?{_DATA} (?:of|about|on|for) {_WE}",
    rf"{_AWAY} (?:all|everything|anything|all data|all the data|whatever|what) (?:that )?"
    rf"(?:you|u|the clerk) (?:know|have|keep|hold|store|stored|kept|remember)s? (?:about|on|of|for) {_WE}",
    rf"{_AWAY} (?:all|everything) (?:about|of|on) {_WE}",
    rf"{_AWAY} {_WE} (?:out of|from|off) your (?:books|records|memory|database)",
)


def _deletion(heard: Heard) -> Sequence[Deletion]:
    found = wholly(words_said(heard), _PATTERNS)
    return [Deletion(bool(found.groupdict().get("really")))] if found else []


_WHOLE = Form(
    "delete_group",
    "delete the group's data",
    _deletion,
    cues=(f"{_VERBS} * data|records|books|information|info|entries|everything|all|anything|us|group|whatever|what",),
    strange=9,
    whole=True,
    first=True,
)
FORMS = (_WHOLE, replace(_WHOLE, whole=False, first=False))
TEACH = (("delete this group's data", "administrators only; asked twice, and then all of it is gone"),)


def answer(slots: Deletion, desk: Desk) -> Answer | Ask | None:
    """Ask twice, and delete it all; nothing is said then, for no post can be kept where there are no books."""
    if desk.books.chat != desk.books.home:
        return Answer(wording.SAY_IT_THERE)
    if not desk.may_set:
        return Answer(wording.who_can_delete(desk.administrators))
    if desk.sure and slots.really:
        erase(desk.books)
        return None
    return _question(wording.REALLY, wording.DELETE_ALL, REALLY_SAYS) if desk.sure else _asked(desk)


def _asked(desk: Desk) -> Ask:
    held = extent(desk.books)
    since = desk.settings.day(held.since) if held.since else None
    question = wording.shall_i_delete(desk.group.name, len(desk.group.members), held.entries, since, desk.settings)
    return _question(question, wording.DELETE, SAYS)


def _question(question: str, label: str, says: str) -> Ask:
    choices = (Choice(label, says, sure=True, own=True), Choice(wording.DELETE_NOTHING, "", own=True))
    return Ask(question, choices, declined=wording.NOTHING_DELETED)


KIND = Kind("delete_group", FORMS, answer, TEACH)
