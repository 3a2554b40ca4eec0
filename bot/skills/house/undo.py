"""``undo``: someone takes back the last entry."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.words import lexicon
from bot.skills.answering import Answer, Desk, Place
from bot.skills.bare import Bare
from bot.skills.house import wording
from bot.skills.house.setting_words import HEADS, setting_named
from bot.skills.house.settings_wording import SETTING_NAMES, who_can
from bot.storage.calendar import sets_something
from bot.storage.entries import entry, last_entries, last_entry, undo
from bot.storage.shares import resting_on, standing, touched_by
from bot.storage.stock import drawing_on
from bot.wording.things import plural
from core.money import Currency
from core.shares import State

_AWAY = (
    "delete|remove|erase|cancel|withdraw|retract|reverse|revert|void|strike|cross|wipe|bin|kill|drop|scrap|scratch|nix"
    "|ditch"
)
_LAST = "last|that|it|this|mine|my|entry|one|what|wrong|mistake"

_POINTS = frozenset("that the my this ur your his her these those".split())
_NAMING = frozenset("the ur your his her".split())
"""Words behind which a thing is named: "remove the tax rate"."""
_LEADING = frozenset("very other same most wrong actual".split())
"""Words that may stand between such a word and the entry."""
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


_CALLING = frozenset(("back", "that", "it", ","))
"""Words between which and the end a name calls a member: "take that back Tobias"."""


def _take_back(heard: Heard) -> Sequence[Bare]:
    """One reading, unless the words name another thing to take away: "delete that photo"."""
    away = set(_AWAY.split("|")) | {"undo", "take", "pull"}
    marked = heard.marked
    members = named(marked, heard.reach, NameSort.MEMBER)
    if members and members[-1].end == heard.reach[1] and marked.text_at(members[-1].start - 1) in _CALLING:
        return []
    for index in range(heard.reach[0], heard.reach[1] - 2):
        if marked.text_at(index) in away and marked.text_at(index + 1) in _POINTS:
            thing = marked.text_at(index + 2)
            other = marked.text_at(index + 1) in _NAMING and thing not in _LEADING
            plain = thing in lexicon()["filler"] and marked.text_at(index) != "undo" and not other
            if thing.isalpha() and thing not in _LAST_WORDS and not plain:
                return []
    return [Bare()]


@dataclass(frozen=True, slots=True)
class Named:
    """An entry to take back, by what it was: its sort, its item, whose it is."""

    sort: str = ""
    item: str | None = None
    member: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """No slots of the contract."""
        del currency
        return {}

    def is_meant(self, summary: str) -> bool:
        """Whether the line that names an entry can be what was meant."""
        starts = _SORTS.get(self.sort, "")
        of_sort = starts in summary and (self.sort != "purchase" or summary.startswith(starts))
        of_item = self.item is None or self.item in summary or plural(self.item) in summary
        return of_sort and of_item and (self.member is None or self.member in summary)


_SORTS = {
    "split": "split of",
    "payment": " paid ",
    "paid": " paid ",
    "purchase": "bought",
    "bought": "bought",
    "offer": "the offer of",
    "debt": " owes ",
    "note": "note on",
    "remark": "note on",
    "price": "",
    "claim": "",
    "case": "",
}
"""What the line that names an entry holds, by the word for it."""


def _named_entry(heard: Heard) -> Sequence[Named]:
    words = heard.said
    sort = next((word for word in reversed(words) if word in _SORTS), "")
    if setting := setting_named(set(words)):
        return [Named(item=SETTING_NAMES[setting])]
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    members = [span.value.name for span in named(heard.marked, heard.reach, NameSort.MEMBER)]
    other = next((name for name in members if name != heard.speaker), None)
    return [Named(sort, items[0].value.name if items else None, other)]


_SETTINGS = "|".join(sorted(word for heads in HEADS.values() for word in heads))
_SORT_WORDS = "|".join(_SORTS)

FORMS = (
    Form(
        "undo",
        "take back a named entry",
        _named_entry,
        cues=(
            "undo|reverse the|my|that|his|her|last * " + _SORT_WORDS,
            "take back the|my|that|his|her|last|what * " + _SORT_WORDS,
            "take back the|my",
            f"undo|reverse the|my|that * {_SETTINGS}",
            f"take back the|my|that * {_SETTINGS}",
        ),
        never=(
            "dont|not|never * take|undo",
            "how|why|when * undo|take",
            "can|could|should i|we * take|undo",
            "to the|a",
        ),
        strange=1,
    ),
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
            "dont|not|never|wont|cant|wouldnt * take|undo|delete|remove|drop",
            "had|have|has|going|went|need|needs|want to take",
            "that|it , ill|lets|dinner|you",
            "take back what|everything i|he|she|you said|say",
            "can|could|should|may i|we * take|undo",
            "i|we can take",
            "of mine|my|the",
            _AWAY + " my name|number",
            _AWAY + " * off|at|by|round|in",
        ),
    ),
    Form(
        "undo",
        "take that back, with a reason",
        _take_back,
        cues=("^" + _AWAY + " that|it|the|my|out", "ctrl + z", "^undo", "^forget what i"),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            _AWAY + " * off|at|by|round|in",
            "ill|lets|well|dinner|lunch|party|meeting|hall",
            "undo is|was|button",
            "im|were|youre free|late|early|home|here|busy|fine|ready",
            _AWAY + " the * that|which|and",
            _AWAY + " my name|number",
        ),
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


def answer(slots: Bare | Named, desk: Desk) -> Answer:
    """Take back the entry replied to, or named, else the speaker's last; another's is only offered."""
    if isinstance(slots, Named):
        return _take_back_named(slots, desk)
    if desk.replied_entry is not None:
        return take_back(desk.replied_entry, desk)
    own = last_entry(desk.books, desk.speaker)
    if own and (desk.only_asked or desk.is_reply):
        return Answer(wording.nothing_kept(own), offer_take_back=own.number)
    if own:
        return take_back(own.number, desk)
    newest = last_entry(desk.books, None)
    if newest is None:
        return Answer(wording.NOTHING_TO_TAKE_BACK)
    return Answer(wording.not_yours(newest), offer_take_back=newest.number)


def _take_back_named(slots: Named, desk: Desk) -> Answer:
    """The newest own entry that is meant; another's is only offered."""
    meant = [one for one in last_entries(desk.books, _SEARCHED) if slots.is_meant(one.summary)]
    own = [one for one in meant if one.by == desk.speaker and slots.member in (None, desk.speaker)] or [
        one for one in meant if one.by == desk.speaker
    ]
    if own:
        return take_back(own[0].number, desk)
    if meant:
        return Answer(wording.is_it_this(meant[0]), offer_take_back=meant[0].number)
    return Answer(wording.NO_SUCH_ENTRY)


_SEARCHED = 50
"""How many of the newest entries are looked through for one that is named."""


def take_back(number: int, desk: Desk) -> Answer:
    """Take an entry back, or say who has done so before, or what must be taken back first."""
    first = resting_on(desk.books, number) or drawing_on(desk.books, number)
    held = entry(desk.books, first) if first else None
    if held:
        return Answer(wording.taken_back_first(held), offer_take_back=held.number)
    if sets_something(desk.books, number) and not desk.may_set:
        return Answer(who_can(desk.administrators))
    split = touched_by(desk.books, number)
    was = standing(desk.books, split) if split else None
    undone = undo(desk.books, number, desk.speaker, desk.at)
    if undone:
        reopened = was is not None and was.state is State.CALLED_OFF
        open_again = was.case.item if was and reopened else None
        return Answer(wording.taken_back(undone, open_again), split=split, place=Place.INSTEAD, undone=number)
    before = entry(desk.books, number)
    return Answer(wording.taken_back_before(before) if before else wording.NOTHING_TO_TAKE_BACK)


def press(numbers: Sequence[int], desk: Desk) -> Answer:
    """The button that takes an entry back."""
    return take_back(numbers[0], desk)


KIND = Kind("undo", FORMS, answer, TEACH)
