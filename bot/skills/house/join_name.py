"""``join_name``: a name that somebody was first spoken of by is joined to the account that they write from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.reading.words import frequency
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.house import leaving_wording as wording
from bot.skills.house.wholly import people_named, wholly, words_said
from bot.storage.leaving import FORMER, both_claimed, join, with_account
from bot.storage.ledger import balances
from core.money import Currency


@dataclass(frozen=True, slots=True)
class SamePerson:
    """A name is also the speaker's, or that of ``other``; ``keeps`` where the speaker is not to be called by it."""

    name: str
    other: str | None = None
    keeps: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``join_name``."""
        del currency
        return {"name": self.name, "other": self.other, "keeps": self.keeps or None}


_IN_BOOKS = r"(?: (?:in|on|of) (?:your|ur|yr|the|our) (?:books?|list|notes|records|entries))"
_ALSO = r"(?:also |really |actually |the |that |your |called |known as |listed as |in fact )*"
_OF_SPEAKER = (
    rf"(?:im|i am|i m|i go by|im down as|i am down as) {_ALSO}@{_IN_BOOKS}?",
    rf"(?:im|i am) {_ALSO}@{_IN_BOOKS} call me @",
    rf"(?:you|the books) (?:know|have|list|call) me as @{_IN_BOOKS}?",
    rf"my (?:other|real|full|first|given|nick|own|proper)? ?name is {_ALSO}@{_IN_BOOKS}?",
    r"@ is (?:also )?my (?:other |real |full |first |given |nick |own |proper )?(?:name|nickname)",
    rf"(?:that |the |your )?@{_IN_BOOKS}? (?:is|was|thats|thats just|is also|is really) me",
    r"(?:that )?@ and (?:i|me) are (?:the same(?: person)?|one(?: person| and the same(?: person)?)?)",
    r"(?:me and|i and) @ are (?:the same(?: person)?|one(?: person| and the same(?: person)?)?)",
)
_OF_TWO = (
    rf"@ is (?:also |really |actually )?(?:called |known as |the same as |the same person as )?@{_IN_BOOKS}?",
    r"@ and @ are (?:both )?(?:the same(?: person)?|one(?: person| and the same(?: person)?)?)",
    rf"(?:join|merge|combine) @ (?:and|with|into|to) @{_IN_BOOKS}?",
)
_PLAIN_WORD = 10_000
"""How often a word stands in the English word list before it is hardly a name, even of somebody "in your books"."""
_UNKNOWN = rf"(?:im|i am) {_ALSO}(?P<name>[a-z]+){_IN_BOOKS}"


def _same_person(heard: Heard) -> Sequence[SamePerson]:
    """One reading where names of the group are all that is said; "I'm Ines" of Ines herself says nothing."""
    people = people_named(heard)
    names = [span.value.name for span in people]
    said = words_said(heard, people)
    if len(set(names)) == 2 and wholly(said, _OF_TWO) and heard.speaker not in names:
        return [SamePerson(names[1], names[0])]
    if len(set(names)) == 2 and wholly(said, _OF_TWO):
        return [SamePerson(next(name for name in names if name != heard.speaker))]
    if names and wholly(said, _OF_SPEAKER):
        others = [name for name in names if name != heard.speaker]
        return [SamePerson(names[0], keeps=len(names) > 1)] if others == names[:1] else []
    unknown = wholly(said, (_UNKNOWN,))
    return [SamePerson(unknown["name"])] if unknown and frequency(unknown["name"]) < _PLAIN_WORD else []


_WHOLE = Form(
    "join_name",
    "one person under two names",
    _same_person,
    cues=(
        "im",
        "i am|m|go",
        "know|have|list|call me as",
        "my * name is",
        "is|was|thats * me",
        "is * my * name|nickname",
        "are * same|one",
        "is",
        "join|merge|combine",
    ),
    strange=9,
    whole=True,
    first=True,
)
FORMS = (_WHOLE, replace(_WHOLE, whole=False, first=False))
TEACH = (("I am Amara in your books", "joins to you a name that others have used for you"),)


def answer(slots: SamePerson, desk: Desk) -> Answer | Ask | None:
    """Ask once, and join the two; silence where there is no account to join a name to."""
    accounts = with_account(desk.books)
    one, name = slots.other or desk.speaker, slots.name
    if name not in desk.group.members:
        return Answer(wording.nobody_called(name.title()))
    if slots.other and one not in accounts:
        one, name = name, one
    if one not in accounts or name.startswith(FORMER):
        return None
    if name in accounts:
        return Answer(wording.has_account(name))
    if items := both_claimed(desk.books, one, name):
        return Answer(wording.both_asked(one, name, items))
    return _joined(one, name, one if slots.keeps else name, desk) if desk.sure else _asked(one, name, desk)


def _asked(account: str, name: str, desk: Desk) -> Ask:
    own = account == desk.speaker
    label = wording.yes_i_am(name) if own else wording.yes_is(account, name)
    says = f"I am {name} in your books" if own else f"{account} is {name} in your books"
    choices = [Choice(label, says, sure=True, own=True)]
    if own:
        choices.append(Choice(wording.but_called(account), f"{says}, call me {account}", sure=True, own=True))
    question = wording.shall_i_join(account, name, balances(desk.books).get(name, 0), desk.settings)
    return Ask(question, (*choices, Choice(wording.KEEP, "", own=True)))


def _joined(account: str, name: str, called: str, desk: Desk) -> Answer:
    join(desk.books, name, account, called)
    return Answer(wording.joined(account, name, called))


KIND = Kind("join_name", FORMS, answer, TEACH)
