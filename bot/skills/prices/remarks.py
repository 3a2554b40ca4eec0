"""What a message says a sort of item is like: that it breaks, is too thin, does not fit, is well made."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.evidence import one_item, spoken_to_member
from bot.reading.form import Heard
from bot.reading.names import Named, NameSort, named
from bot.reading.packs import Loose
from bot.reading.presence import counted, priced
from bot.reading.sizes import Size
from bot.reading.spans import Found, Marked
from bot.reading.strangers import named_as
from bot.reading.words import Sort, lexicon, singular
from bot.skills.prices import remark_words as words
from core.counts import Quantity

_NEAR = 14
"""How many words may stand between an item and what is told of it."""


def tells_what_it_is_like(heard: Heard) -> bool:
    """Whether a sentence tells something lasting of a sort of item, and nothing of somebody's own piece."""
    marked, reach = heard.marked, heard.reach
    said = set(heard.said)
    if heard.asked or heard.said[0] in words.ASKING or spoken_to_member(marked, reach) or said & words.OF_SOMEBODY:
        return False
    if any(marked.text_at(span.end) not in words.GETTING for span in named(marked, reach, NameSort.MEMBER)):
        return False
    items = [span for span in named(marked, reach, NameSort.ITEM) if _is_sort(marked, span)]
    if not items and (named(marked, reach, NameSort.ITEM) or not _points(heard)):
        return False
    return _Telling(heard, items).any()


def _points(heard: Heard) -> bool:
    """Whether "they" or "the jumbo kind" are a sort named before, and not just the pieces that were counted there."""
    whole = (0, len(heard.marked.tokens))
    opens = heard.said[0] in words.POINTING or (heard.said[0] == "the" and words.SORTS & set(heard.said))
    ours = priced(heard.marked, whole) or not counted(heard.marked, (0, heard.reach[0]))
    return bool(opens) and ours and one_item(heard.marked) is not None


def _is_sort(marked: Marked, item: Found[Named]) -> bool:
    """Whether an item is meant as such: not so many of it, and no noun behind it makes it a known other thing."""
    if any(span.end in (item.start, item.start - 1) and not _is_share(marked, span) for span in marked.each(Loose)):
        return False
    return named_as(marked, item) == item.value.name or marked.text_at(item.end) in words.PARTS


def _heads_noun(marked: Marked, item: Found[Named]) -> bool:
    """Whether an unknown noun stands behind an item, be it a part of it or another thing: "soap operas"."""
    after = marked.text_at(item.end)
    strange = marked.is_sort(item.end, Sort.WORD) and after not in lexicon()["filler"] | lexicon()["adjectives"]
    return strange and after not in words.BEHIND_ITEM and not after.endswith("ly")


def _is_share(marked: Marked, count: Found[Loose]) -> bool:
    """Whether a number is one in so many: "one in three sharpeners"."""
    return marked.text_at(count.start - 1) in ("in", "of") and any(
        span.end == count.start - 1 for span in marked.each(Loose)
    )


@dataclass(frozen=True, slots=True)
class _Telling:
    """A sentence of items, looked at word by word."""

    heard: Heard
    items: list[Found[Named]]

    @property
    def marked(self) -> Marked:
        return self.heard.marked

    def any(self) -> bool:
        """Whether any word of it tells what the items are like."""
        return any(self.tells(at) for at in range(*self.heard.reach) if self.word(at) in words.TELLING_WORDS)

    def tells(self, at: int) -> bool:
        """Whether a word tells it, of the item or a part of it."""
        if not self.marked.word(at) or self.around(self.heard.reach[0], at) & words.DOUBTING:
            return False
        if self.advises(at) or self.harms(at) or self.is_made(at) or self.is_wanted(at):
            return True
        if not self.is_said_of_it(at):
            return False
        if self.fails(at):
            return True
        plain = self.is_particular or self.word(at) in words.STANDING
        itself = not any(_heads_noun(self.marked, span) for span in self.items)
        return itself and (self.is_bad(at) or self.lacks(at) or (plain and self.is_good(at)))

    def word(self, at: int) -> str:
        return self.marked.text_at(at)

    def around(self, start: int, end: int) -> set[str]:
        return {self.word(index) for index in range(max(start, self.heard.reach[0]), min(end, self.heard.reach[1]))}

    def is_said_of_it(self, at: int) -> bool:
        """Whether an item, a part of it, or "they" stands before a word, and nobody in between."""
        anchors = [span.end for span in self.items if not self.is_beside(span)]
        anchors += [index + 1 for index in range(*self.heard.reach) if self.word(index) in words.PARTS | words.SORTS]
        if not self.items:
            anchors.append(self.heard.reach[0])
        return any(0 <= at - anchor <= _NEAR and not self.parted(anchor, at) for anchor in anchors)

    def parted(self, start: int, end: int) -> bool:
        """Whether somebody, or another thing, does what is told: "bring a hat, the heating is dead"."""
        commas = [index for index in range(start, end) if self.word(index) == ","]
        another = any(self.word(index + 1) in ("a", "an", "the", "our") for index in commas if index + 1 < end)
        people = [index for index in range(start, end) if self.word(index) in words.PEOPLE]
        return another or any(self.word(index + 1) not in words.GETTING for index in people)

    def is_beside(self, item: Found[Named]) -> bool:
        """Whether an item only tells of what it is that is spoken of: "the line for soap"."""
        at = item.start - 1
        while at > self.heard.reach[0] and (
            self.word(at) in words.ARTICLES or self.word(at) in lexicon()["adjectives"]
        ):
            at -= 1
        return self.word(at) in words.BESIDE or (self.word(at) == "of" and self.word(at - 1) not in words.SHARES)

    def fails(self, at: int) -> bool:
        """ "Crack", "keep snapping", "fall apart", "wont close"."""
        word, before = self.word(at), self.word(at - 1)
        if word in words.FAILING:
            noun = before in words.BEFORE_A_NOUN or (
                before == singular(before) and word == singular(word) and self.names(at)
            )
            return not noun and not (word.startswith("smell") and self.word(at + 1) in ("like", "of"))
        if word in words.BROKEN:
            soon = self.is_particular and set(self.heard.said) & words.SOON
            return bool(soon or self.around(at - 2, at) & words.ARRIVING)
        if word in words.COMING:
            return bool(self.around(at + 1, at + 3) & words.COMING[word])
        if word in words.ONGOING:
            return bool(self.around(at - 2, at) & (words.KEEPING | words.BEING))
        if word in words.DOING and self.around(at + 1, at + 3) & words.ILL:
            return True
        return word in words.DOING | {"use"} and bool(self.around(at - 2, at) & words.DENYING)

    def names(self, end: int) -> bool:
        """Whether an item's name ends right before a word."""
        return any(span.end == end for span in self.items)

    def is_bad(self, at: int) -> bool:
        """ "Are flimsy", "too big", "not sharp enough", "have hard bristles"."""
        start = self.degree(at)
        too = "too" in self.around(start, at) or self.word(at + 1) == "enough" or self.word(start - 1) in words.TURNING
        if self.word(at + 1) in words.PARTS and self.word(at) in words.BAD | words.MEASURES:
            return self.word(start - 1) in words.HAVING
        if self.word(at) not in words.BAD and not (self.word(at) in words.MEASURES and too):
            return False
        return self.ends_there(at) and (too or self.is_predicate(start)) and not self.is_a_piece

    def is_good(self, at: int) -> bool:
        """ "Are lovely", "actually work", "last forever", "are the best ones", "r what the teachers want"."""
        word = self.word(at)
        if word in words.DOING:
            return bool(self.around(at + 1, at + 3) & words.MANNERS) or self.word(at - 1) in ("actually", "really")
        behind = self.word(at + 1) in words.SORTS | {"size"}
        return word in words.GOOD and self.is_predicate(self.degree(at)) and (behind or self.ends_there(at))

    def lacks(self, at: int) -> bool:
        """ "Have no wrapper", "come without caps"."""
        word = self.word(at)
        if word not in ("no", "without", "missing") or not self.around(at + 1, at + 3) & words.PARTS:
            return False
        return bool(self.around(at - 2, at) & (words.HAVING | words.BEING))

    def advises(self, at: int) -> bool:
        """ "Dont get the clear ones", "lets skip that one", "wouldnt recommend them", "thumbs down"."""
        word, after = self.word(at), self.word(at + 1)
        if set(self.heard.said) & words.NOT_YET:
            return False
        if word == "thumbs" and after in ("up", "down"):
            return True
        before = self.around(at - 3, at)
        points = after in words.MEANT or any(self.is_meant(span, at) for span in self.items)
        if word in words.BUYING:
            told = (self.word(at - 2), self.word(at - 1)) == ("not", "to")
            return points and (told or (bool(before & words.NEVER) and not before & words.PEOPLE))
        if word == "bother" and after == "with":
            return bool(before & words.NEVER)
        if word in words.SHUNNING:
            return (points or at + 1 == self.heard.reach[1]) and not before & words.PEOPLE
        return (word == "recommend" and points) or (word == "warn" and bool(self.around(at, at + 5) & words.OFF))

    def is_meant(self, item: Found[Named], at: int) -> bool:
        """Whether it is an item that is to be bought or not, and none of it "on the couch"."""
        return item.start in (at + 1, at + 2) and self.word(item.end) not in ("on", "in", "to", "all")

    def harms(self, at: int) -> bool:
        """ "Gave the kids a rash"."""
        return self.word(at) in words.HARMS and bool(self.around(at - 7, at) & words.MAKING)

    def is_made(self, at: int) -> bool:
        """ "Well made", "poor quality"."""
        before = self.word(at - 1)
        if self.word(at) == "made":
            return before in words.MANNERS | words.ILL
        return self.word(at) == "quality" and before in words.GOOD | words.BAD | {"good", "bad", "cheap"}

    def is_wanted(self, at: int) -> bool:
        """ "Are what the teachers want"."""
        behind = range(at - 3, at)
        return self.word(at) in words.WANTED and any(
            self.word(index) == "what" and self.around(index - 2, index) & words.BEING for index in behind
        )

    def degree(self, at: int) -> int:
        """Where the words of degree before a word begin: "way too thin"."""
        while self.word(at - 1) in words.MUCH:
            at -= 1
        return at

    def is_predicate(self, start: int) -> bool:
        """Whether a word, its degree included, is told of what stands before it: "are thin", "pencils: great"."""
        told = self.word(start - 1) in words.BEING | words.TELLING or self.word(start - 2) in words.BEING
        return told or self.names(start)

    def ends_there(self, at: int) -> bool:
        """Whether no noun follows that a word only describes: "great fun", "dead batteries"."""
        word = self.word(at + 1)
        plain = word in lexicon()["filler"] or word in words.ENDING
        return plain or not self.marked.is_sort(at + 1, Sort.WORD)

    @property
    def is_a_piece(self) -> bool:
        """Whether one piece at hand is spoken of, no sort: "the pen is dead"."""
        if self.is_particular or len(self.items) != 1:
            return False
        item = self.items[0]
        last = self.word(item.end - 1)
        return last == singular(last) and self.word(item.start - 1) in ("the", "this", "that")

    @property
    def is_particular(self) -> bool:
        """Whether the words tell which sort is meant, or that it is told for all to know."""
        marked, reach = self.marked, self.heard.reach
        if set(self.heard.said) & (words.SORTS | words.FOR_ALL) or named(marked, reach, NameSort.STORE):
            return True
        if any(True for sort in (Size, Quantity) for _ in marked.each(sort, *reach)):
            return True
        return any(self.is_described(span) for span in self.items)

    def is_described(self, item: Found[Named]) -> bool:
        """Whether words beside an item tell its sort: "the metal combs", "the pencils in the tin"."""
        before = item.start - 1
        word = self.word(before)
        plain = word in lexicon()["filler"] - lexicon()["adjectives"]
        if item.end - item.start > 1:
            return True
        described = before >= self.heard.reach[0] and self.marked.is_sort(before, Sort.WORD) and not plain
        return described or self.word(item.end) in ("in", "with", "w", "from", "of")
