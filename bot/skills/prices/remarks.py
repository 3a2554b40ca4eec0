"""What a message says a sort of item is like: that it breaks, is too thin, does not fit, is well made."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.evidence import one_item, spoken_to_member
from bot.reading.form import Heard, words
from bot.reading.names import Named, NameSort, named
from bot.reading.packs import Loose
from bot.reading.presence import counted, priced
from bot.reading.sizes import Size
from bot.reading.spans import Found, Marked
from bot.reading.strangers import named_as
from bot.reading.words import Sort, lexicon, singular
from core.counts import Quantity


def _verbs(text: str) -> frozenset[str]:
    """Verbs of the present, for one and for many: break, breaks."""
    return frozenset(form for verb in text.split() for form in (verb, verb + "s", verb + "es"))


def _inflected(particles: dict[str, str]) -> dict[str, frozenset[str]]:
    return {form: words(after) for verbs, after in particles.items() for form in verbs.split()}


_FAILING = _verbs(
    "break snap crack leak smudge smear rip tear jam melt crumble rust fade peel fray shed skip smell stink squeak"
    " splinter wobble deflate burst split bleed stain unravel shrink chip bend scratch snag dissolve curl warp clog blob"
    " itch shatter flake pill shred disintegrate drip buckle wilt"
)
_BROKEN = words("broke snapped cracked leaked ripped tore bent melted smudged faded frayed rusted shrank split crumbled")
_ONGOING = frozenset(form for verb in _FAILING for form in (verb + "ing", verb[:-1] + "ing", verb + verb[-1] + "ing"))
_COMING = _inflected(
    {
        "fall falls fell falling": "apart off out open to",
        "come comes coming": "apart off out loose undone unstuck open away",
        "came": "apart off loose undone unstuck",
        "pop pops popped": "open off out",
        "wear wears wore": "off out thin through",
        "dry dries dried drying": "out up fast quickly",
        "run runs ran": "dry",
        "lose loses lost": "its their the all",
        "turn turns turned": "to into",
    }
)
_DOING = _verbs(
    "fit work write sharpen close open hold last show erase foam lather cut stand survive lock click stay draw rub"
    " bounce"
)
_BAD = words(
    "flimsy weak scratchy itchy waxy greasy sticky dull blunt dead brittle bendy wonky crooked smelly leaky crumbly mushy"
    " soggy faded rubbish trash useless awful terrible horrible crap garbage junk lousy poor faulty defective unusable"
    " unsharpened stiff rough harsh bulky shoddy nasty hopeless faint watery mouldy moldy"
)
_GOOD = words(
    "great lovely excellent brilliant perfect fantastic amazing sturdy sturdier solid durable strong stronger superb"
    " decent nice beautiful smooth better best wonderful soft softer right wrong"
)
_MEASURES = words(
    "big small large little long short wide narrow thick thin heavy light hard soft sharp bright strong tiny huge loose"
    " tight fat slippery pale dark fragile flat dry soggy"
)
_ILL = words("badly poorly")
_MANNERS = words("nicely well great lovely long beautifully perfectly smoothly clean forever ages")
_MUCH = words("so very really super too way a bit kinda quite pretty all just far rather always totally rock the")
_BEING = words(
    "is are r was were be theyre its get gets go goes went come comes came arrive arrives feel feels look looks seem"
    " seems stay stays"
)
_TELLING = words("- : = ,")
_HAVING = words("have has had having got with w come comes arrive arrives")
_PARTS = words(
    "lead leads tip tips cap caps lid lids handle handles bristle bristles blade blades cover covers page pages tooth"
    " teeth eraser erasers rubber rubbers ink wrapper wrappers zip zips string strings spine spines binding spring"
    " springs clip clips edge edges seam seams staple staples pigment label labels paint paper wood point points lint"
)
_PIECES = words("singles packs pack ones bar bars sticks boxes")
_HARMS = words("itch itchy rash rashes hives headache headaches sneeze")
_BUYING = words("buy buying get getting order ordering")
_MAKING = words("make made makes give gave gives get gets got getting")
_KEEPING = words("keep keeps kept always constantly")
_DENYING = words("dont doesnt wont didnt cant cannot no not never barely hardly wouldnt")
_SHUNNING = words("skip avoid ditch")
_PEOPLE = words("i we he she you u kid kids people someone somebody everyone who im ive ill weve to can could might may")
_OF_SOMEBODY = words("my your ur his her mine yours mum mom son daughter sister brother nephew niece husband wife")
_ASKING = words("who what whats when where why how did do does is are can could should shall anyone if")
_BEFORE_A_NOUN = words("theyll itll will would a an the this my of for with at on in some any and")
_POINTING = words("they theyre these those it its some half most")
_SORTS = words("kind ones one sort type brand")
_FOR_ALL = words("record mind fyi psa note know heads tell say")
_DOUBTING = words("if whether why wonder wondering hope hopefully maybe perhaps bet wish unless love")
_NOT_YET = words("yet today now until till have has already enough tonight tomorrow")
_ENDING = words("anymore after before against straight compared unless tho though imo honestly everywhere inside")

CUES = "|".join(
    sorted(
        _FAILING
        | _BROKEN
        | _COMING.keys()
        | _DOING
        | _BAD
        | _GOOD
        | _MEASURES
        | _HARMS
        | _SHUNNING
        | _BUYING
        | words("thumbs bother recommend warn want wants need needs without missing no made quality use")
        | _KEEPING
        | _ONGOING
    )
)
"""The words, one of which every such remark says."""


def tells_what_it_is_like(heard: Heard) -> bool:
    """Whether a sentence tells something lasting of a sort of item, and nothing of somebody's own piece."""
    marked, reach = heard.marked, heard.reach
    said = set(heard.said)
    if heard.asked or heard.said[0] in _ASKING or spoken_to_member(marked, reach) or said & _OF_SOMEBODY:
        return False
    if any(marked.text_at(span.end) not in _GETTING for span in named(marked, reach, NameSort.MEMBER)):
        return False
    items = [span for span in named(marked, reach, NameSort.ITEM) if _is_sort(marked, span)]
    if not items and (named(marked, reach, NameSort.ITEM) or not _points(heard)):
        return False
    return _Telling(heard, items).any()


def _points(heard: Heard) -> bool:
    """Whether "they" or "the jumbo kind" are a sort named before, and not just the pieces that were counted there."""
    whole = (0, len(heard.marked.tokens))
    opens = heard.said[0] in _POINTING or (heard.said[0] == "the" and _SORTS & set(heard.said))
    ours = priced(heard.marked, whole) or not counted(heard.marked, (0, heard.reach[0]))
    return bool(opens) and ours and one_item(heard.marked) is not None


def _is_sort(marked: Marked, item: Found[Named]) -> bool:
    """Whether an item is meant as such: not so many of it, and no noun behind it makes it a known other thing."""
    if any(span.end in (item.start, item.start - 1) and not _is_share(marked, span) for span in marked.each(Loose)):
        return False
    return named_as(marked, item) == item.value.name or marked.text_at(item.end) in _PARTS


def _heads_noun(marked: Marked, item: Found[Named]) -> bool:
    """Whether an unknown noun stands behind an item, be it a part of it or another thing: "soap operas"."""
    after = marked.text_at(item.end)
    strange = marked.is_sort(item.end, Sort.WORD) and after not in lexicon()["filler"] | lexicon()["adjectives"]
    return strange and after not in _BEHIND_ITEM and not after.endswith("ly")


def _is_share(marked: Marked, count: Found[Loose]) -> bool:
    """Whether a number is one in so many: "one in three sharpeners"."""
    return marked.text_at(count.start - 1) in ("in", "of") and any(
        span.end == count.start - 1 for span in marked.each(Loose)
    )


_BEHIND_ITEM = (
    _FAILING | _BROKEN | _COMING.keys() | _DOING | _BAD | _GOOD | _MEASURES | _PARTS | _PIECES | _BEING | _MAKING | _DENYING
    | _KEEPING | _ENDING | words("w")
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
        return any(self.tells(index) for index in range(*self.heard.reach))

    def tells(self, at: int) -> bool:
        """Whether a word tells it, of the item or a part of it."""
        if not self.marked.word(at) or self.around(self.heard.reach[0], at) & _DOUBTING:
            return False
        if self.advises(at) or self.harms(at) or self.is_made(at):
            return True
        if not self.is_said_of_it(at):
            return False
        if self.fails(at):
            return True
        plain = self.is_particular or self.word(at) in _STANDING
        itself = not any(_heads_noun(self.marked, span) for span in self.items)
        return itself and (self.is_bad(at) or self.lacks(at) or (plain and self.is_good(at)))

    def word(self, at: int) -> str:
        return self.marked.text_at(at)

    def around(self, start: int, end: int) -> set[str]:
        return {self.word(index) for index in range(max(start, self.heard.reach[0]), min(end, self.heard.reach[1]))}

    def is_said_of_it(self, at: int) -> bool:
        """Whether an item, a part of it, or "they" stands before a word, and nobody in between."""
        anchors = [span.end for span in self.items if not self.is_beside(span)]
        anchors += [index + 1 for index in range(*self.heard.reach) if self.word(index) in _PARTS | _SORTS]
        if not self.items:
            anchors.append(self.heard.reach[0])
        return any(0 <= at - anchor <= _NEAR and not self.parted(anchor, at) for anchor in anchors)

    def parted(self, start: int, end: int) -> bool:
        """Whether somebody, or another thing, does what is told: "bring a hat, the heating is dead"."""
        commas = [index for index in range(start, end) if self.word(index) == ","]
        another = any(self.word(index + 1) in _ARTICLES for index in commas if index + 1 < end)
        people = [index for index in range(start, end) if self.word(index) in _PEOPLE]
        return another or any(self.word(index + 1) not in _GETTING for index in people)

    def is_beside(self, item: Found[Named]) -> bool:
        """Whether an item only tells of what it is that is spoken of: "the line for soap"."""
        at = item.start - 1
        while at > self.heard.reach[0] and (self.word(at) in _ARTICLES or self.word(at) in lexicon()["adjectives"]):
            at -= 1
        return self.word(at) in _BESIDE or (self.word(at) == "of" and self.word(at - 1) not in _SHARES)

    def fails(self, at: int) -> bool:
        """ "Crack", "keep snapping", "fall apart", "wont close"."""
        word, before = self.word(at), self.word(at - 1)
        if word in _FAILING:
            noun = before in _BEFORE_A_NOUN or (before == singular(before) and word == singular(word) and self.names(at))
            return not noun and not (word.startswith("smell") and self.word(at + 1) in ("like", "of"))
        if word in _BROKEN:
            return self.is_particular and bool(set(self.heard.said) & _SOON)
        if word in _COMING:
            return bool(self.around(at + 1, at + 3) & _COMING[word])
        if word in _ONGOING:
            return bool(self.around(at - 2, at) & (_KEEPING | _BEING))
        if word in _DOING and self.around(at + 1, at + 3) & _ILL:
            return True
        return word in _DOING | {"use"} and bool(self.around(at - 2, at) & _DENYING)

    def names(self, end: int) -> bool:
        """Whether an item's name ends right before a word."""
        return any(span.end == end for span in self.items)

    def is_bad(self, at: int) -> bool:
        """ "Are flimsy", "too big", "not sharp enough", "have hard bristles"."""
        start = self.degree(at)
        too = "too" in self.around(start, at) or self.word(at + 1) == "enough" or self.word(start - 1) in _TURNING
        if self.word(at + 1) in _PARTS and self.word(at) in _BAD | _MEASURES:
            return self.word(start - 1) in _HAVING
        if self.word(at) not in _BAD and not (self.word(at) in _MEASURES and too):
            return False
        return self.ends_there(at) and (too or self.is_predicate(start)) and not self.is_a_piece

    def is_good(self, at: int) -> bool:
        """ "Are lovely", "actually work", "last forever", "are the best ones", "r what the teachers want"."""
        word = self.word(at)
        if word in _DOING:
            return bool(self.around(at + 1, at + 3) & _MANNERS) or self.word(at - 1) in ("actually", "really")
        if word in ("want", "wants", "need", "needs") and "what" in self.around(at - 3, at):
            return True
        behind = self.word(at + 1) in _SORTS | {"size"}
        return word in _GOOD and self.is_predicate(self.degree(at)) and (behind or self.ends_there(at))

    def lacks(self, at: int) -> bool:
        """ "Have no wrapper", "come without caps"."""
        word = self.word(at)
        if word not in ("no", "without", "missing") or not self.around(at + 1, at + 3) & _PARTS:
            return False
        return bool(self.around(at - 2, at) & (_HAVING | _BEING))

    def advises(self, at: int) -> bool:
        """ "Dont get the clear ones", "lets skip that one", "wouldnt recommend them", "thumbs down"."""
        word, after = self.word(at), self.word(at + 1)
        if set(self.heard.said) & _NOT_YET:
            return False
        if word == "thumbs" and after in ("up", "down"):
            return True
        before = self.around(at - 3, at)
        points = after in _MEANT or any(self.is_meant(span, at) for span in self.items)
        if word in _BUYING:
            return points and bool(before & _NEVER) and not before & _PEOPLE - {"to"}
        if word == "bother" and after == "with":
            return bool(before & _NEVER)
        if word in _SHUNNING:
            return (points or at + 1 == self.heard.reach[1]) and not before & _PEOPLE
        return (word == "recommend" and points) or (word == "warn" and bool(self.around(at, at + 5) & _OFF))

    def is_meant(self, item: Found[Named], at: int) -> bool:
        """Whether it is an item that is to be bought or not, and none of it "on the couch"."""
        return item.start in (at + 1, at + 2) and self.word(item.end) not in ("on", "in", "to", "all")

    def harms(self, at: int) -> bool:
        """ "Gave the kids a rash"."""
        return self.word(at) in _HARMS and bool(self.around(at - 7, at) & _MAKING)

    def is_made(self, at: int) -> bool:
        """ "Well made", "poor quality"."""
        before = self.word(at - 1)
        if self.word(at) == "made":
            return before in _MANNERS | _ILL
        return self.word(at) == "quality" and before in _GOOD | _BAD | {"good", "bad", "cheap"}

    def degree(self, at: int) -> int:
        """Where the words of degree before a word begin: "way too thin"."""
        while self.word(at - 1) in _MUCH:
            at -= 1
        return at

    def is_predicate(self, start: int) -> bool:
        """Whether a word, its degree included, is told of what stands before it: "are thin", "pencils: great"."""
        told = self.word(start - 1) in _BEING | _TELLING or self.word(start - 2) in _BEING
        return told or self.names(start)

    def ends_there(self, at: int) -> bool:
        """Whether no noun follows that a word only describes: "great fun", "dead batteries"."""
        word = self.word(at + 1)
        plain = word in lexicon()["filler"] or word in _ENDING
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
        if set(self.heard.said) & (_SORTS | _FOR_ALL) or named(marked, reach, NameSort.STORE):
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


_NEAR = 14
"""How many words may stand between an item and what is told of it."""
_ARTICLES = words("a an the these those our")
_BESIDE = words("for with in at to by behind")
_SHARES = words("half some most all lots many any none one both box pack bag kind sort type batch")
_NEVER = words("dont never not stop wont wouldnt")
_GETTING = words("got bought get buy have had has tried used use using found ordered picked opened brought grabbed")
"""What somebody did who is only named to tell which are meant: "the pens we got last time leak"."""
_SOON = words("after within straight right already first")
_TURNING = words("go goes went get gets turn turns turned")
_STANDING = words("sturdy sturdier durable solid strong stronger")
_OFF = words("off about against")
_MEANT = words("the those these that them this")
