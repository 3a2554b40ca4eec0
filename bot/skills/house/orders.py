"""Whether words that name a setting are an order to the clerk, or talk of another's season, alerts or tax."""

from __future__ import annotations

from functools import cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.reading.evidence import spoken_to_member
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.spans import Marked, Reach
from bot.reading.words import Sort, is_english, lexicon
from bot.skills.house import setting_words as words
from bot.skills.house.settings_said import value_words
from core.choices import Setting

_LONG_WORD = 5


def is_order(heard: Heard, setting: Setting) -> bool:
    """Whether a sentence tells the clerk how to work.

    In each statement that speaks of the setting, its noun must be nobody else's ("deer season", "alerts on my phone"),
    and every word must be one of such orders; where something is ordered or asked for, one other word is let pass.
    """
    statements = _statements(heard)
    if spoken_to_member(heard.marked, heard.reach) or any(_is_call(heard.marked, part) for part in statements):
        return False
    known = _known(setting)
    parts = [part for part in statements if _speaks_of(heard.marked, part, setting)] or statements
    if any(_is_anothers(heard, part, setting) or _is_aside(heard.marked, part, setting) for part in parts):
        return False
    strange = sum(not _explained(heard.marked, index, known) for part in parts for index in range(*part))
    ordered = any(token.text in words.ORDERING for token in heard.marked.tokens)
    return strange <= ordered


def owned_by_another(heard: Heard, setting: Setting) -> bool:
    """Whether one asks of another's thing: "the tax office", "a car alert", "quiet hours at the library"."""
    known = _known(setting) | words.ASKING
    places = [index for index in range(*heard.reach) if heard.marked.text_at(index) in words.HEADS.get(setting, ())]
    return any(not _stands_free(heard.marked, index, known) for index in places)


@cache
def _own(setting: Setting) -> frozenset[str]:
    """The words of a setting itself: its nouns, and what else an order about it may speak of."""
    return words.OWN_WORDS.get(setting, frozenset()) | words.HEADS.get(setting, frozenset())


@cache
def _known(setting: Setting) -> frozenset[str]:
    """Every word that an order about a setting may hold."""
    return words.PLAIN | words.JOINTS | words.DAYS_AND_NUMBERS | _own(setting) | value_words(setting)


def _statements(heard: Heard) -> list[Reach]:
    """The statements of a sentence: parted by commas and asides, and where a subject follows upon a value."""
    marked, (start, end) = heard.marked, heard.reach
    found: list[Reach] = []
    valued = False
    for index in range(start, end):
        text = marked.text_at(index)
        begins_anew = valued and text in words.SUBJECTS and marked.text_at(index - 1) not in words.LEADING_ON
        if text in words.JOINTS or begins_anew:
            found.append((start, index))
            start, valued = index + (text in words.JOINTS), False
        valued = valued or text in words.DAYS_AND_NUMBERS or marked.tokens[index].sort is Sort.NUMBER
    return [(begins, ends) for begins, ends in [*found, (start, end)] if begins < ends]


def _is_call(marked: Marked, part: Reach) -> bool:
    """Whether a statement is nothing but a word for somebody else: "stop the alerts, mum"."""
    return part[1] - part[0] == 1 and marked.text_at(part[0]) in lexicon()["talk"]


def _speaks_of(marked: Marked, part: Reach, setting: Setting) -> bool:
    """Whether a statement holds the setting's own words, or a number, which may be its value."""
    own = (_own(setting) - words.PLAIN) | words.DAYS_AND_NUMBERS | value_words(setting)
    return any(marked.tokens[index].sort is Sort.NUMBER or marked.text_at(index) in own for index in range(*part))


def _is_aside(marked: Marked, part: Reach, setting: Setting) -> bool:
    """Whether a statement that may hold a value speaks of the speaker: "summary please, on friday i am off"."""
    said = {marked.text_at(index) for index in range(*part)}
    return bool(said & {"i", "im", "ill", "ive"}) and not said & (_own(setting) | value_words(setting))


def _is_anothers(heard: Heard, part: Reach, setting: Setting) -> bool:
    said = {heard.marked.text_at(index) for index in range(*part)}
    if said & (words.ANOTHERS | lexicon()["talk"]) or named(heard.marked, part, NameSort.MEMBER):
        return True
    heads, known = words.HEADS.get(setting, frozenset()), _known(setting)
    if setting is Setting.CURRENCY:
        heads |= value_words(setting)  # "pounds for the weight"
    return any(
        not _stands_free(heard.marked, index, known) for index in range(*part) if heard.marked.text_at(index) in heads
    )


def _stands_free(marked: Marked, index: int, known: frozenset[str]) -> bool:
    """Whether no other noun is before a setting's noun, or behind it, or is what it is said to be of."""
    if not _explained(marked, index - 1, known):
        return False
    at = index + 1
    while marked.text_at(at) in words.NOUNS:
        at += 1
    if marked.text_at(at) in words.LEADING_ON:
        at += 1
    if marked.text_at(at) in words.ARTICLES:
        at += 1
    return _explained(marked, at, known)


def _explained(marked: Marked, index: int, known: frozenset[str]) -> bool:
    """Whether a token is no word, or one of those known, or a slip of one."""
    text = marked.text_at(index)
    if not text or marked.tokens[index].sort is not Sort.WORD or text in known:
        return True
    if len(text) < _LONG_WORD or is_english(text):
        return False
    return process.extractOne(text, known, scorer=OSA.distance, score_cutoff=1) is not None
