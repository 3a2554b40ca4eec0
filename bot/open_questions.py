"""Questions that wait for an answer: what a pressed button or a typed "24" refers to."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import astuple, dataclass, replace
from datetime import datetime, timedelta

PATIENCE = timedelta(minutes=30)
"""How long a typed word alone still answers the last question; buttons answer for ever."""

NEW_ITEM = ""
"""What an unknown word is taught to be the same as, where it is a new item."""

NEXT_MESSAGE = "\x1e"
"""Stands between the messages that wait for the same answer."""
_NUMBER_WORDS = (
    "an?|half|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|sixteen|eighteen|twenty|thirty"
    "|forty|fifty|sixty|seventy|eighty|ninety|hundred|and|dozen|gross|cents?|pence|dollars?|pounds?"
)
_BARE_ANSWER = re.compile(
    r"[^\w.$£€-]*(?:no\b,?\s*)?(?:about|it was|its|it's|for|there are|there were|there's)?\s*"
    r"(?:an?\s+)?(?:packs?|pks?|box(?:es)?|bags?|packets?)?(?:\s+of)?\s*"
    rf"(?P<value>[$£€]?\s?[\d.][\d.,]*\s?(?:c|p|¢|cents?|pence|dollars?|pounds?)?|(?:(?:{_NUMBER_WORDS})[ -]?)+)"
    r"\s?(?:each|in a pack|in each|in one|per pack|a pack|packs?|pk|ct|pcs|of them|in all)?\W*",
    re.IGNORECASE,
)
_NAMES = re.compile(r"[^\W\d_]+(?:(?:\s*[,&:]\s*|\s+)(?:[^\W\d_]+|\d+))*[.!]?", re.IGNORECASE)
_MOST_WORDS = 10
_YES = frozenset("yes y yep yeah right correct sure ok okay keep please do".split())
_NO = frozenset(("no", "n", "nope", "wrong", "cancel", "never mind", "forget it", "nvm"))
_NAMED = re.compile(
    r"(?:(?:yes|yep|yeah|yup|no|nope|ok|sorry|oh|its|it s|it is|theyre|they are|thats|that is|those are|these are|they"
    r"|i meant?|we mean|means?|just|really|all|the same(?: thing)? as|same(?: thing)? as|same|like|as"
    r"|another (?:name|word) for|other name for|an?|the|our|my) )*"
    r"(?P<name>.+?)(?: (?:pls|plz|please|thanks|thx|ty|then|actually|again))*"
)
"""An item's name, or "new", as it is typed to the question about an unknown word."""
_NEW = frozenset("new|new item|new one|new thing|brand new|new item yes|new yes|new to us|new for us".split("|"))


@dataclass(frozen=True, slots=True)
class Option:
    """One answer: its label, the message it amounts to (none: nothing is to be kept), and what it teaches.

    ``same_as`` is the item that the unknown word means, NEW_ITEM for a new one, None where nothing is to be
    learnt. ``sure`` confirms what was asked about; ``joins`` names somebody whom it makes a member;
    ``own`` leaves it to whoever was asked.
    """

    label: str
    says: str
    same_as: str | None = None
    sure: bool = False
    joins: str | None = None
    own: bool = False


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """A question as it is kept.

    ``at`` is the moment of the message it is about; ``hole`` that message with "{}" where a number is wanted;
    ``unknown`` the word that the group has no name for.
    """

    text: str
    at: datetime
    options: tuple[Option, ...] = ()
    hole: str | None = None
    unknown: str | None = None
    names: bool = False
    """True where it is names that fill the hole: "me and Ines"."""
    words: bool = False
    """True where it is a few words that fill the hole: "friday at 5pm"."""
    corrects: int | None = None
    """The entry that the answer takes the place of; it stands until then."""
    declined: str | None = None
    """What is said where the answer is no."""
    refs: tuple[str, ...] = ()
    """The messages that wait for the answer, each by its ref."""

    def to_json(self) -> str:
        """The question as text for the books."""
        options = [astuple(option) for option in self.options]
        rest = [self.hole, self.unknown, self.names, self.words, self.corrects, self.declined, self.refs]
        return json.dumps([self.text, self.at.isoformat(), options, *rest], ensure_ascii=False)

    def with_message(self, says: str, ref: str) -> OpenQuestion:
        """The same question about another message too; one said again word for word is taken once."""
        if says in self.options[0].says.split(NEXT_MESSAGE):
            return self
        options = tuple(replace(one, says=f"{one.says}{NEXT_MESSAGE}{says}") for one in self.options)
        return replace(self, options=options, refs=(*self.refs, ref))

    def without_message(self, ref: str) -> OpenQuestion | None:
        """The same question without one of its messages; None where it is about no other."""
        if len(self.refs) < 2:
            return None
        left = [place for place, one in enumerate(self.refs) if one != ref]
        options = []
        for one in self.options:
            says = one.says.split(NEXT_MESSAGE)
            options.append(replace(one, says=NEXT_MESSAGE.join(says[place] for place in left)))
        return replace(self, options=tuple(options), refs=tuple(self.refs[place] for place in left))

    @property
    def messages(self) -> int:
        """How many messages wait for the answer."""
        return len(self.options[0].says.split(NEXT_MESSAGE))

    @classmethod
    def from_json(cls, written: str) -> OpenQuestion:
        """The question back from its text."""
        text, at, options, *rest = json.loads(written)
        made = cls(text, datetime.fromisoformat(at), tuple(Option(*option) for option in options), *rest)
        return replace(made, refs=tuple(made.refs))

    def typed(self, words: str, item_of: Callable[[str], str | None]) -> Option | None:
        """The answer that typed words give: a label, yes or no, what fills the hole, or an item's name.

        ``item_of`` gives the item that some words are a name of, None for others.
        """
        plain = words.strip().casefold().strip(" .!").removeprefix("the ").removeprefix("all ")
        for option in self.options:
            label = option.label.casefold()
            is_new = plain == "new" and label.startswith("new ")
            if is_new or plain in (label, f"{label}s", f"{label}es") or (option.sure and plain in _YES):
                return option
        if plain in _YES and self._is_yes_or_no:
            return self.options[0]
        if plain in _NO:
            return Option(words, "")
        if self.words and self.hole and len(words.split()) <= _MOST_WORDS:
            return Option(words, self.hole.replace("{}", words.strip()))
        bare = _BARE_ANSWER.fullmatch(words)
        if self.names and self.hole and len(words.split()) <= _MOST_WORDS and _NAMES.fullmatch(words):
            return Option(words, self.hole.replace("{}", _as_list(words)))
        if self.hole and bare and not self.names:
            return Option(words, self.hole.replace("{}", bare["value"].strip()))
        return self._named(words, plain, item_of) if self.unknown is not None and self.options else None

    def _named(self, words: str, plain: str, item_of: Callable[[str], str | None]) -> Option | None:
        """What the unknown word is said to be: an item of ours, or a new one."""
        said = _NAMED.fullmatch(re.sub(r"[^\w]+", " ", re.sub("[’']", "", plain)).strip())
        name = said["name"] if said else plain
        if name in _NEW:
            return self.options[0]
        known = item_of(name)
        return Option(words, self.options[0].says, known) if known else None

    @property
    def _is_yes_or_no(self) -> bool:
        """True where "yes" can only mean the first answer."""
        first = self.options[0] if self.options else None
        others = self.options[1:]
        alone = not others and self.hole is None
        return first is not None and (alone or first.joins is not None or (len(others) == 1 and not others[0].says))


def _as_list(words: str) -> str:
    """Typed names as a split says them: "me and Ines" is "between me and Ines", "Ines 40, rest me" ": Ines 40 ..."."""
    plain = re.sub(r"^(between|among|with)\s+", "", words.strip(" .!"), flags=re.IGNORECASE)
    parts = re.search(r"\d|\brest\b", plain, re.IGNORECASE)
    return f": {plain}" if parts else f"between {plain}"
