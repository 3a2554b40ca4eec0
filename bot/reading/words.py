"""Cleaned text and its tokens; what a plain English word is, and what its singular is."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache
from importlib import resources

_UNSEEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]")
_PLAIN = str.maketrans(
    {"’": "'", "‘": "'", "`": "'", "“": '"', "”": '"', "–": "-", "—": " - ", "\u00a0": " ", "⁄": "/"}
)
_TOKEN = re.compile(
    r"(?P<number>\d{1,3}(?:[. ]\d{3})+,\d{2}(?!\d)|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+,\d{2}(?!\d|,\d)|\d+\.\d+|\.\d+|\d+)"
    r"|(?P<word>[^\W\d_]+(?:'[^\W\d_]+)*'?)"
    r"|(?P<stop>[\n;!?]+|\.{2,}|…|\.(?=\s|$))"
    r"|(?P<sign>[^\w\s'\"])"
)
_DRAWN_OUT = re.compile(r"(.)\1{2,}")
COMMON_ENGLISH = 100
_OUR_OWN = 1_000_000


class Sort(Enum):
    """What a token is."""

    NUMBER = "number"
    WORD = "word"
    SIGN = "sign"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Token:
    """One token of a message: ``text`` folded to plain lower-case letters without apostrophes."""

    text: str
    sort: Sort
    start: int
    end: int
    glued: bool
    """True where nothing, or only a hyphen, stands between this token and the one before it."""


def unseen_marks(text: str) -> bool:
    """True where text holds control characters or direction marks, which can make a number look like another."""
    return bool(_UNSEEN.search(text))


def clean(text: str) -> str:
    """Text in composed form, with plain quotes and dashes and without marks that cannot be seen."""
    plain = _UNSEEN.sub("", unicodedata.normalize("NFKC", text.replace("½", " 1/2").translate(_PLAIN)))
    return _SAINT.sub(r"\1 ", _HALF_OF_DAY.sub(r"\1m", plain))


_HALF_OF_DAY = re.compile(r"\b([ap])\.\s?m\b\.?", re.IGNORECASE)
"""The "p.m." whose full stops end no sentence."""
_SAINT = re.compile(r"\b(st)\. (?=[a-z])", re.IGNORECASE)
"""The "St." before a saint's name."""


@lru_cache(maxsize=4096)
def fold(word: str) -> str:
    """A word without case, accents and apostrophes, drawn-out letters shortened: Lúcia's is lucias, sooo is so."""
    decomposed = unicodedata.normalize("NFKD", word.lower())
    return _DRAWN_OUT.sub(r"\1", "".join(letter for letter in decomposed if letter.isalpha()))


def tokens_of(text: str) -> list[Token]:
    """The tokens of a cleaned text; a hyphen between letters or digits only glues its two sides."""
    found: list[Token] = []
    previous_end = 0
    for match in _TOKEN.finditer(text):
        raw, start, end = match.group(), match.start(), match.end()
        sort = Sort(match.lastgroup)
        if raw == "-" and start == previous_end and found and end < len(text) and text[end].isalnum():
            previous_end = end
            continue
        if sort is Sort.SIGN and unicodedata.category(raw) in ("So", "Sk", "Mn", "Cn", "Cf", "Me"):
            previous_end = end
            continue
        plain = fold(raw) if sort is Sort.WORD else raw
        found.append(Token(plain, sort, start, end, start == previous_end and start > 0))
        previous_end = end
    return found


@cache
def lexicon() -> Mapping[str, frozenset[str]]:
    """The word lists of lexicon.toml, each by its name."""
    raw = tomllib.loads(resources.files(__package__).joinpath("lexicon.toml").read_text("utf-8"))
    return {name: frozenset(words.split()) for name, words in raw["words"].items()}


@cache
def irregular() -> Mapping[str, str]:
    """Plurals that follow no rule, to their singular."""
    raw = tomllib.loads(resources.files(__package__).joinpath("lexicon.toml").read_text("utf-8"))
    return dict(raw["irregular"])


@lru_cache(maxsize=8192)
def singular(word: str) -> str:
    """The singular of a folded word: brushes is brush, dice stays dice."""
    if word in irregular():
        return irregular()[word]
    if len(word) < 4 or word.endswith(("ss", "us", "is")) or not word.endswith("s"):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes", "zzes")):
        return word[:-2]
    return word[:-1]


@cache
def _frequencies() -> Mapping[str, int]:
    from spellchecker import SpellChecker

    return dict(SpellChecker(distance=1).word_frequency.dictionary)


@lru_cache(maxsize=8192)
def frequency(word: str) -> int:
    """How often a word stands in the English word list of pyspellchecker; our own plain words count as common."""
    if any(word in words for words in lexicon().values()):
        return _OUR_OWN
    return _frequencies().get(word, 0)


def is_english(word: str) -> bool:
    """True for an English word, which is therefore no slip of another."""
    return frequency(word) >= COMMON_ENGLISH
