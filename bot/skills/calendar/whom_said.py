"""Whom a reminder is for: the group, the speaker, or members of the group by name."""

from __future__ import annotations

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.words import Sort, lexicon

US, ME = "us", "me"
NOBODY = ""
"""Whom "her" means where no name was said before it."""


def others_said(heard: Heard, end: int) -> tuple[list[str], int]:
    """Whom to remind besides: "Tobias and Ines", "me, Ines and Mei"; and where their names end."""
    marked, found = heard.marked, []
    while marked.text_at(end) in ("and", "&", ",", "n"):
        members = [span for span in named(marked, (end + 1, end + 2), NameSort.MEMBER) if span.start == end + 1]
        if members:
            name = members[0].value.name
            found.append(ME if name == heard.speaker else name)
        elif marked.text_at(end + 1) in _ONESELF:
            found.append(ME)
        else:
            break
        end = members[0].end if members else end + 2
    return found, end


def whom_said(heard: Heard, cue: int) -> tuple[str, int]:
    """Whom to remind, and where the words for them end."""
    marked = heard.marked
    before = marked.text_at(cue - 1)
    doers = [span.value.name for span in named(marked, (0, cue), NameSort.MEMBER) if span.end == cue]
    if doers and marked.text_at(cue) in _FORGET | REMEMBER:
        return doers[0], cue + 1
    if marked.text_at(cue) in _FORGET:
        ahead = {marked.text_at(at) for at in range(cue - 3, cue)}
        return (before if before in (US, ME) else US if ahead & _OF_ALL else ME), cue + 1
    at = cue + 1
    while marked.text_at(at) in _FILLERS:
        at += 1
    members = [span for span in named(marked, (at, at + 1), NameSort.MEMBER) if span.start == at]
    if members:
        name = members[0].value.name
        return ME if name == heard.speaker else name, members[0].end
    other = marked.text_at(at) in _THEM
    if other or marked.text_at(cue) == "reminded":
        told = [span.value.name for span in named(marked, (0, cue), NameSort.MEMBER)]
        return told[-1] if told else NOBODY if other else ME, at + other
    return _group_or_speaker(heard, cue, at)


def stranger_said(heard: Heard, cue: int) -> str:
    """The word for whom to remind, where it is none of a member's: "remind zed on friday"."""
    at = cue + 1
    plain = heard.marked.is_sort(at, Sort.WORD) and not any(heard.marked.text_at(at) in words for words in _known())
    return heard.marked.said(at, at + 1) if plain else ""


def _known() -> tuple[frozenset[str], ...]:
    return lexicon()["filler"], lexicon()["talk"], _ALL, _ONESELF, _THEM, _FILLERS


def _group_or_speaker(heard: Heard, cue: int, at: int) -> tuple[str, int]:
    """The group or the speaker, as said right behind the cue, else around it."""
    marked = heard.marked
    for place in range(at, at + _NEAR):
        word = marked.text_at(place)
        if word in _ALL and (place == at or marked.text_at(place - 1) in ("of", "for", "the", "all")):
            return US, place + 1 + (marked.text_at(place + 1) in ("of", "all", "group", "team", "whole", "gang"))
        if word in _ONESELF and (place == at or marked.text_at(place - 1) in ("for", "to")):
            return ME, place + 1
    around = {marked.text_at(index) for index in range(sentence_start(heard), min(cue + 1, heard.reach[1]))}
    return (US if around & _ALL else ME if around & {*_ONESELF, "i", "id", "im", "my"} else US), cue + 1


def sentence_start(heard: Heard) -> int:
    """Where the sentence begins that the stretch begins in, with the one before where it goes on with that."""
    start = heard.reach[0]
    while start and heard.marked.tokens[start - 1].sort is not Sort.STOP:
        start -= 1
    return 0 if heard.marked.text_at(start) in ("and", "then", "also") else start


REMEMBER = frozenset(("remember", "remembers"))
_FORGET = frozenset(("forget", "foregt", "forgets"))
_NEAR = 4
_THEM = frozenset(("him", "her", "them"))
_FILLERS = frozenset(("please", "pls", "plz", "kindly", "to", "for", "um", "uh"))
_ALL = frozenset("us everyone everybody all we group team folks ourselves".split())
_OF_ALL = _ALL | {"nobody"}
_ONESELF = frozenset(("me", "myself"))
