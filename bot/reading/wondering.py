"""What makes an offer a question: words that wonder whether it is good, wherever they stand beside it.

Each rule is one of English grammar rather than a list of sentences: a verb before its subject ("should we"), an "if"
with a verdict behind it, a choice that names nothing to buy ("keep or put back"), somebody who is not sure.
"""

from __future__ import annotations

from collections.abc import Iterator

from bot.reading.amounts import Amount
from bot.reading.form import words
from bot.reading.names import Named
from bot.reading.packs import Loose
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import is_talk_at, strange_words
from bot.reading.words import Sort, lexicon

_SHOULD = words("should shall shld shd shud shoud shuld ought must dare shouldnt")
_DO = words("do dont did didnt would wouldnt could can couldnt may might have")
_DID = words("did didnt")
_DOES = words("is are isnt arent was were does doesnt do would wouldnt will could can has have")
_WE, _YOU, _THEY = words("i we"), words("you u ya"), words("he she they")
_IT, _POINTED_AT = words("it that this these those they"), words("that this these those")
_BEFORE = _WE | _YOU | _THEY | _IT | words("who which where when why what how")
"""What before a verb makes the word behind it no subject, or asks of something else than an offer."""
_DECIDING = words(
    "think reckon say call consider agree recommend advise suggest pay bother buy take get grab go do jump pass find"
    " rate judge make feel choose pick keep"
)
"""What others do where it is an offer that is asked about: "would you take", "should she get"."""
_PAYING = words("happy overpaying paying buying getting taking grabbing missing robbed")
_PEOPLE = words("you u ya anyone anybody everyone everybody him her meet text phone tell ask email invite")
"""Behind "shall I": it is people that are spoken of."""
_HAVING = words("need needs have got owe lack")
_LIKENS = words("sound sounds look looks seem seems feel compare compares strike stack fare rate beat beats")
_BE = words("is are was be s its thats theyre isnt arent seems sounds looks counts as")
_UNSURE = words(
    "idk tempted unsure undecided decide deciding torn hesitating hesitant dithering debating wondering wonder"
)
_UNSURE_PAIRS = frozenset((("not", "sure"), ("not", "convinced"), ("cant", "tell"), ("the", "fence"), ("two", "minds")))
_SURELY = words("its thats theyre was were so well totally definitely def defo really super very certainly")
_WORTH_SAYING = words("noting mentioning knowing saying remembering")
_WORTH_IT = words("it the a our my while")
_NO_CHOICE = _PEOPLE | words("so less more few two three online call message come bring share")
_TAGS = words("eh innit huh hey right no yeah yes")
_WEAK = words("yes no nah nope yeah buy wait pass walk grab snag snatch skip rate right wrong kind over under")
_SUBJECTS_OF_TALK = _PEOPLE | _THEY | words("who whos where wheres when why whats what how someone somebody")
_ANYONE = words("anyone anybody someone somebody who whos you u ya yall")
_WANTING = words("want wants wanted need needs needed interested fancy fancies like some any takers")
_WITHIN = 4
"""Words within which a verdict follows its verb, or a person the "should I" about them."""
_SIDE = 4
"""Most words on one side of a choice, or of a brief question."""
_STRANGE = 2
"""Unexplained words of a brief question."""


def wondered(marked: Marked) -> Iterator[Reach]:
    """The words of a message that ask what to think of an offer."""
    start = 0
    for end in range(len(marked.tokens) + 1):
        if end == len(marked.tokens) or marked.tokens[end].sort is Sort.STOP:
            for index in range(start, end):
                found = (rule(marked, index, (start, end)) for rule in _RULES)
                yield from filter(None, found)
            start = end + 1


def only_asks(marked: Marked, reach: Reach) -> bool:
    """Whether a few words with a question mark behind them name nobody and nothing: "stock up?", "really?"."""
    if "?" not in marked.text_at(reach[1]) or reach[1] - reach[0] > _SIDE:
        return False
    if _SUBJECTS_OF_TALK & set(_said(marked, reach)) or not all(_is_plain(marked, index) for index in range(*reach)):
        return False
    strange = strange_words(marked, reach)
    return len(strange) <= _STRANGE and not any(is_talk_at(marked, index) for index in strange)


def asks_others(marked: Marked, reach: Reach) -> bool:
    """Whether a sentence without a thing or a price of its own asks who wants what was told right before."""
    said = set(_said(marked, reach))
    of_its_own = bool(marked.each(Named, *reach)) or bool(marked.each(Amount, *reach))
    return bool(said & _ANYONE and said & _WANTING) and not of_its_own


def asks_if_good(marked: Marked, reach: Reach) -> bool:
    """Whether an "if" or "whether" with a verdict behind it stands in a stretch."""
    return any(_conditioned(marked, index, reach) for index in range(*reach))


def _said(marked: Marked, reach: Reach) -> list[str]:
    return [marked.text_at(index) for index in range(*reach)]


def _verdicts() -> frozenset[str]:
    """Words that judge a price and hardly mean anything else."""
    return lexicon()["opinion"] - _WEAK


def _turned(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """A verb before its subject: "should we", "would you say", "is that"; of plain "do we" only the verb counts."""
    verb, subject = marked.text_at(index), marked.text_at(index + 1)
    if index > sentence[0] and marked.text_at(index - 1) in _BEFORE:
        return None
    rest = _said(marked, (index + 2, sentence[1]))
    part = rest[: rest.index(",")] if "," in rest else rest
    if subject in _WE:
        return _asked_of_us(verb, part, index)
    if subject in _YOU:
        return (index, index + 3) if verb in _SHOULD | _DO - _DID and _DECIDING & set(part[:1]) else None
    if verb in _SHOULD and (
        subject in ("a", "the", "one")
        or _counted(marked, index + 1)
        or (subject in _THEY and _DECIDING & set(part[:_WITHIN]))
    ):
        return index, index + 2
    judged = subject in _POINTED_AT or (_verdicts() | _LIKENS) & set(part)
    return (index, index + 2) if verb in _DOES and subject in _IT and judged else None


def _asked_of_us(verb: str, part: list[str], index: int) -> Reach | None:
    if verb in ("am", "are"):
        return (index, index + 2) if (lexicon()["opinion"] | _PAYING) & set(part) else None
    if verb not in _SHOULD | _DO or _HAVING & set(part[:2]) or _PEOPLE & set(part[:_WITHIN]):
        return None
    return index, index + 1 + (verb in _SHOULD)


def _conditioned(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """An "if" or "whether" with a verdict behind it: "whether 3.00 for 8 is fair", "if we should", "whether to"."""
    if marked.text_at(index) not in ("if", "whether"):
        return None
    behind = _said(marked, (index + 1, sentence[1]))
    if behind[:1] == ["to"] or (_WE & set(behind[:1]) and _SHOULD & set(behind[1:2])):
        return index, index + 3
    return (index, index + 1) if _judges(behind) else None


def _judges(said: list[str]) -> bool:
    """Whether something is said to be good, cheap or worth it."""
    verbs = (at + 1 for at, word in enumerate(said) if word in _BE)
    return "worth" in said or any(_verdicts() & set(said[at : at + _WITHIN]) for at in verbs)


def _likened(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """A "how" about an offer: "how does 35 cents a comb sound", "how is 35c for a comb", "what about 8 for 3.00"."""
    word, verb, behind = marked.text_at(index), marked.text_at(index + 1), index + 2
    if word == "hows":
        return (index, behind) if verb in _POINTED_AT or _counted(marked, index + 1) else None
    counted = _counted(marked, behind)
    if word in ("how", "what") and verb == "about":
        return (index, behind) if counted else None
    likens = counted or _LIKENS & set(_said(marked, (behind, sentence[1])))
    return (index, behind) if word == "how" and verb in _DOES and likens else None


def _counted(marked: Marked, index: int) -> bool:
    """Whether an amount or a count begins at a token."""
    return bool(marked.each(Amount, index, index + 1)) or bool(marked.each(Loose, index, index + 1))


def _unsure(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """Somebody who cannot make up their mind: "not sure", "can't decide", "debating 8 for 3.00"."""
    word = marked.text_at(index)
    if word not in _UNSURE and (marked.text_at(index - 1), word) not in _UNSURE_PAIRS:
        return None
    behind = _said(marked, (index + 1, sentence[1]))
    of_it = not behind or behind[0] in (",", ":", "about", "on", "over") or word == "debating"
    return (index, index + 1) if of_it or _judges(behind) else None


def _worth(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """A "worth it" or "worth going back", where it is not said to be "so worth it"."""
    behind = marked.text_at(index + 1)
    if marked.text_at(index) != "worth" or marked.text_at(index - 1) in _SURELY or behind in _WORTH_SAYING:
        return None
    asks = index + 1 < sentence[1] and (behind in _WORTH_IT or behind.endswith("ing"))
    return (index, index + 2) if asks else None


def _choice(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """A choice that names nothing to buy: "keep or put back", "y/n"; of signs as well, which are no tokens."""
    start, end = index, index + 1
    while start > sentence[0] and _is_plain(marked, start - 1):
        start -= 1
    while end < sentence[1] and _is_plain(marked, end):
        end += 1
    sides = set(_said(marked, (start, index)) + _said(marked, (index + 1, end)))
    if marked.word(index) == "/":
        return (start, end) if sides and sides <= lexicon()["opinion"] | {"y", "n"} else None
    if marked.word(index) not in ("or", "orr") or _NO_CHOICE & sides:
        return None
    if not sides:
        return (start, end) if end == len(marked.tokens) and marked.text[marked.tokens[index].end :].strip() else None
    if not (0 < index - start <= _SIDE and 0 < end - index - 1 <= _SIDE):
        return None
    of_kinds = sides <= lexicon()["adjectives"] and not _verdicts() & sides
    return None if of_kinds else (start, end)


def _is_plain(marked: Marked, index: int) -> bool:
    """Whether a word names nothing; "load" and "few" count nothing surely."""
    vague = any(not span.value.firm for span in marked.each(Loose, index, index + 1))
    return marked.tokens[index].sort is Sort.WORD and (vague or bool(marked.word(index)))


def _tagged(marked: Marked, index: int, sentence: Reach) -> Reach | None:
    """A verdict with a tag behind it: "cheap eh", "a bargain, right", "steep isn't it"."""
    if marked.text_at(index) not in _verdicts():
        return None
    at = index + 1 + (marked.text_at(index + 1) == ",")
    ends = marked.text_at(at) in _TAGS and at + 1 == sentence[1]
    turned = marked.text_at(at) in ("isnt", "arent") and marked.text_at(at + 1) in _IT
    return (index, at + 1) if ends or turned else None


_RULES = (_turned, _conditioned, _likened, _unsure, _worth, _choice, _tagged)
