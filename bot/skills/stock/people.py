"""Who is named in a sentence of the stock book, and whether units go from one member to another."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.form import Heard
from bot.reading.names import NameSort, named, owns
from bot.reading.spans import Marked
from bot.skills.stock.said import counted_in

ME = "me"
_OF_SELF = frozenset("me my myself mine i ive im ill we weve".split())
_OWN = frozenset(("my", "mine"))


@dataclass(frozen=True, slots=True)
class Who:
    """Somebody named at a token; the speaker is "me"."""

    name: str
    at: int
    end: int
    owns: bool = False
    """True for "Mei's": what stands behind is the member's, or the member's house."""


def people_in(heard: Heard) -> list[Who]:
    """Everybody named in a stretch, in order."""
    marked = heard.marked
    found = [
        Who(ME if span.value.name == heard.speaker else span.value.name, span.start, span.end, owns(marked, span))
        for span in named(marked, heard.reach, NameSort.MEMBER)
    ]
    found += [
        Who(ME, index, index + 1, marked.text_at(index) in _OWN)
        for index in range(*heard.reach)
        if marked.text_at(index) in _OF_SELF
    ]
    found.sort(key=lambda who: who.at)
    for index in range(*heard.reach):
        others = [who.name for who in found if who.at < index and who.name != ME]
        if others and marked.text_at(index) in _OTHERS and marked.word(index + 1) not in _HERS:
            found.append(Who(others[-1], index, index + 1))
    return sorted(found, key=lambda who: who.at)


_OTHERS = frozenset("he she him her".split())
_HERS = frozenset("stock house place garage closet own share".split())


def is_told_to_do(heard: Heard) -> bool:
    """Whether a member is asked to do something: "Ines, throw out the old crayons"."""
    marked, (start, end) = heard.marked, heard.reach
    called = [span.end for span in named(marked, (start, min(end, start + 3)), NameSort.MEMBER)]
    return any(marked.text_at(index) == "," and _is_request(marked, index + 1) for index in called)


def _is_request(marked: Marked, index: int) -> bool:
    return any(marked.text_at(at) in _DO for at in range(index, index + 3)) and marked.text_at(index) not in _OF_SELF


_DO = frozenset("give hand pass drop bring send take leave throw toss chuck put move carry collect fetch bin".split())


def changes_hands(heard: Heard) -> bool:
    """Whether things go from one to another: "got 12 combs off Ines", "left 12 combs in Tobias's car"."""
    marked, people = heard.marked, people_in(heard)
    first = min((thing.start for thing in counted_in(heard)), default=heard.reach[1])
    others = any(who.at < first and who.name != ME for who in people)
    to = [who for who in people if who.at > first and marked.text_at(who.at - 1) == "to"]
    ends = [who for who in people if marked.text_at(who.at - 1) in ("off", "from")]
    ends += [who for who in to if marked.text_at(who.at - 2) not in ("next", "close")]
    if any(others or who.name != ME for who in ends):
        return True
    before = {marked.text_at(index) for index in range(heard.reach[0], first)}
    along = {marked.text_at(index) for index in range(first - 6, first)} & {"with", "w"}
    if along and before & _COMES and any(who.at < first for who in people):
        return True
    return bool(before & _LEFT) and any(who.at > first and who.name != ME for who in people)


_COMES = frozenset("came come comes went popped showed turned stopped swung dropped called drove walked".split())
_LEFT = frozenset("left dropped gave handed brought took sent delivered carried passed".split())


def other_in(heard: Heard) -> str | None:
    """The first member named who is not the speaker."""
    return next((who.name for who in people_in(heard) if who.name != ME), None)
