"""``ask_photo``: someone asks to see the photo that came with an entry, or what an item looks like."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.words import Sort, lexicon
from bot.skills.answering import Answer, Desk
from bot.skills.prices import wording
from bot.storage.entries import entry
from bot.storage.photos import newest_photo, photo_of
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo asked for: of an item, else the newest; ``of_that`` is one only meant of the post that is replied to."""

    item: str | None = None
    of_that: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``ask_photo``."""
        del currency
        return {"item": self.item} if self.item else {}


Build = Callable[[Heard], Sequence[Shown]]


def _only(heard: Heard, small: frozenset[str], *, adjectives: bool = False) -> bool:
    """Whether nothing else is said than small words, and what the names of the group and the cues take."""
    marked, passed = heard.marked, small | lexicon()["adjectives"] if adjectives else small
    free = [index for index in range(*heard.reach) if marked.is_sort(index, Sort.WORD)]
    return all(marked.word(index) in passed for index in free)


def _of_item(small: str, *, sure: bool = True) -> Build:
    """The item shown, the only one named; one that is not ``sure`` must be asked, or said please."""
    passed = frozenset(small.split())

    def build(heard: Heard) -> Sequence[Shown]:
        items = {span.value.name for span in named(heard.marked, heard.reach, NameSort.ITEM)}
        wished = sure or heard.asked or bool(_WISHES & set(heard.said))
        return [Shown(items.pop())] if len(items) == 1 and wished and _only(heard, passed, adjectives=True) else []

    return build


def _bare(small: str, *, of_that: bool) -> Build:
    """The newest photo, or that of the post replied to, where the whole message says no more."""
    passed = frozenset(small.split())

    def build(heard: Heard) -> Sequence[Shown]:
        whole = heard.reach[0] == 0 and heard.reach[1] >= len(heard.marked.tokens) - 1
        return [Shown(of_that=of_that)] if whole and not heard.marked.spans and _only(heard, passed) else []

    return build


_WISHES = frozenset("please pls plz show see is any do does".split())
_PHOTO = "photo|photos|foto|fotos|picture|pictures|pic|pics|pict|image|snapshot"
_PHOTOS = _PHOTO.replace("|", " ")
_POLITE = "please pls plz clerk bot hey hi hello again can could would may might you u"
_OF_ITEM = frozenset((Need.ITEM,))
_NOT_OF = frozenset((Need.AMOUNT, Need.COUNT, Need.MEMBER))
_NO_NAME = _NOT_OF | {Need.ITEM}

FORMS = (
    Form(
        "ask_photo",
        "a photo of it",
        _of_item(
            f"{_PHOTOS} {_POLITE} of the a an any some that those these our we i got have has is are there do does"
            " show me us see get newest last latest old",
            sure=False,
        ),
        cues=(_PHOTO, f"show|see * {_PHOTO}"),
        needs=_OF_ITEM,
        lacks=_NOT_OF,
        strange=3,
    ),
    Form(
        "ask_photo",
        "show it",
        _of_item(f"{_POLITE} show me us the those these that our ur your some any a an"),
        cues=("show me|us",),
        needs=_OF_ITEM,
        lacks=_NOT_OF,
        never=("show me|us the * we|you|i",),
        strange=1,
    ),
    Form(
        "ask_photo",
        "what does it look like?",
        _of_item(f"{_POLITE} what how wat wot do does did the those these that our look looks looked like show me us"),
        cues=("what|wat|wot|how do|does|did", "show me|us what|how"),
        also=(words("look looks"),),
        needs=_OF_ITEM,
        lacks=_NOT_OF,
        strange=2,
    ),
    Form(
        "ask_photo",
        "the newest photo",
        _bare(f"{_PHOTOS} {_POLITE} show me us the last latest newest", of_that=False),
        cues=(f"show me|us the * {_PHOTO}", f"show the * {_PHOTO}"),
        lacks=_NO_NAME,
    ),
    Form(
        "ask_photo",
        "the photo of that",
        _bare(f"{_PHOTOS} {_POLITE} show me us it them this that a the any got have is there see i we", of_that=True),
        cues=("^show me|us|it|them|that", f"^{_PHOTO}", f"^any|got|have|is|do|a|see * {_PHOTO}"),
        lacks=_NO_NAME,
    ),
    Form(
        "ask_photo",
        "what does that look like?",
        _bare(f"{_POLITE} what how do does it they that those these this look like", of_that=True),
        cues=("^what|how do|does it|they|that|those|these|this look",),
        lacks=_NO_NAME,
    ),
)
TEACH = (("show me the blue sharpeners", "the newest photo of them; or reply “show me” to what I said"),)


def answer(slots: Shown, desk: Desk) -> Answer | None:
    """Show the photo with what was entered with it; silent where only a reply would tell which."""
    if slots.item is None and desk.replied_entry is None and slots.of_that:
        return None
    found = _photo(slots, desk)
    told = entry(desk.books, found[0]) if found else None
    if found is None or told is None:
        return Answer(wording.no_photo(slots.item))
    return Answer(wording.photo_words(told, desk.settings, desk.today), picture=found[1])


def _photo(slots: Shown, desk: Desk) -> tuple[int, str] | None:
    """The entry and the photo that came with it."""
    if slots.item is None and desk.replied_entry is not None:
        photo = photo_of(desk.books, desk.replied_entry)
        return (desk.replied_entry, photo) if photo else None
    return newest_photo(desk.books, slots.item)


KIND = Kind("ask_photo", FORMS, answer, TEACH)
