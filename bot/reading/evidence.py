"""What speaks for and against a reading: what a stretch of a message holds, and the words nothing explains."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bot.reading.cues import Hit
from bot.reading.form import Form, Need
from bot.reading.names import NameSort, named
from bot.reading.packs import Loose
from bot.reading.presence import counted, for_each, marked_down, money_named, packed
from bot.reading.sizes import Year
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import is_talk, is_talk_at, strange_words, unknown_item, unknown_store
from bot.reading.words import Sort

BOT_NAMES = frozenset(("clerk", "bot"))
_PLACED = frozenset(("at", "behind", "from", "of", "who"))
_SOME_CLERK = frozenset("a that another some which rude nice new young old checkout store shop desk sales".split())
_WORDS_AT_THE_EDGE = 3
_TALK_WEIGHT = 2
_WORDS_FOR_ONE_MORE = 12
_NAMING = frozenset(
    "to from by for with w of and n & or off on at about than is was are were does did do has have paid owe owes owed"
    " due gave give sent between not s like as".split()
)
"""Words behind which a member is named, not called."""
_ADDRESSING = frozenset((",", "are", "r", "did", "u", "you", "can", "could", "will", "do", "have"))


def has(marked: Marked, need: Need, reach: Reach) -> bool:
    """Whether a stretch holds what a form may need."""
    if need is Need.AMOUNT:
        return money_named(marked, reach)
    if need is Need.COUNT:
        return told_count(marked, reach)
    if need is Need.MEMBER:
        return bool(named(marked, reach, NameSort.MEMBER))
    known = bool(named(marked, reach, NameSort.ITEM))
    return known or (need is Need.THING and unknown_item(marked, reach) is not None)


def told_count(marked: Marked, reach: Reach) -> bool:
    """Whether units or packs are counted, or a price is said to be for each."""
    return counted(marked, reach) or for_each(marked, reach)


def bare_priced(marked: Marked, reach: Reach) -> bool:
    """Whether a number besides the count may be a price without its point: "12 pencils 47"."""
    if not named(marked, reach, NameSort.ITEM) or named(marked, reach, NameSort.KIT):
        return False
    numbers = [
        span
        for span in marked.each(Loose, *reach)
        if marked.tokens[span.start].sort is Sort.NUMBER and marked.text_at(span.start - 1) != "not"
    ]
    return len(numbers) > 1 or (packed(marked, reach) and bool(numbers))


def only_priced(marked: Marked, reach: Reach) -> bool:
    """Whether a price is named and nothing else: what an item asked about right before may cost."""
    holds = (has(marked, need, reach) for need in (Need.THING, Need.COUNT))
    return has(marked, Need.AMOUNT, reach) and not any(holds)


def one_item(marked: Marked) -> str | None:
    """The only item of the whole message, to which "it" and "them" must refer."""
    names = {span.value.name for span in named(marked, (0, len(marked.tokens)), NameSort.ITEM)}
    return names.pop() if len(names) == 1 else None


def fault(marked: Marked, form: Form, reach: Reach) -> str | None:
    """Why a form whose cue was said cannot be meant, None where it can."""
    said = {marked.tokens[index].text for index in range(*reach)}
    if not all(said & any_of for any_of in form.also):
        return "a word of it is missing"
    for need in form.needs:
        referred = need is Need.ITEM and one_item(marked) is not None
        later = form.offers and need is Need.AMOUNT and _worth_asking(marked, reach)
        if not (form.spreads or form.lists or referred or later or has(marked, need, reach)):
            return f"no {need.name.lower()}"
    return next((f"has {lack.name.lower()}" for lack in form.lacks if has(marked, lack, reach)), None)


def strangeness(marked: Marked, reach: Reach, said: list[Hit], kind: str = "", names: Iterable[int] = ()) -> int:
    """How many words of a stretch neither a span, nor a cue of the kind, nor an unknown name explains.

    ``names`` are the words of unknown names. Words of talk between people weigh three.
    """
    spoken = {index for hit in said if hit.form.kind == kind for index in range(hit.start, hit.end)}
    spoken.update(names)
    strange = [index for index in strange_words(marked, reach) if index not in spoken]
    talk = sum(is_talk_at(marked, index) for index in strange)
    return len(strange) + _TALK_WEIGHT * talk


def offer_fault(marked: Marked, form: Form, reach: Reach, said: list[Hit]) -> str | None:
    """Why a stretch is no offer that somebody tells the clerk of, None where it may be one."""
    if spoken_to_member(marked, reach):
        return "spoken to a member"
    if any(marked.each(Year, *reach)):
        return "of another year"
    known, store = bool(named(marked, reach, NameSort.ITEM)), bool(named(marked, reach, NameSort.STORE))
    count, price = told_count(marked, reach), money_named(marked, reach)
    strange = strangeness(marked, reach, said, form.kind)
    if not price and (strange or not _worth_asking(marked, reach)):
        return "no price"
    unknown = None if known else unknown_item(marked, reach)
    if not known and not unknown:
        return None if strange == 0 and (form.cues or count or store) else "no item"
    placed = store or unknown_store(marked, reach) is not None
    if not known and (not (counted(marked, reach) or (count and placed)) or is_talk(marked, unknown)):
        return "no item"
    allowed = form.strange + store + (reach[1] - reach[0]) // _WORDS_FOR_ONE_MORE
    allowed += 2 if known and count and price else 0 if known else -1
    allowed -= not count
    runs = (unknown, unknown_store(marked, reach))
    names = {index for run in runs if run for index in range(*run)}
    strange = strangeness(marked, reach, said, form.kind, names)
    return None if strange <= allowed else f"{strange} words that nothing explains, {allowed} allowed"


def _worth_asking(marked: Marked, reach: Reach) -> bool:
    """True for a report without its price, or with a number that may be one: it is worth a question."""
    if bare_priced(marked, reach):
        return True
    told = told_count(marked, reach) or marked_down(marked, reach)
    return told and all(named(marked, reach, sort) for sort in (NameSort.ITEM, NameSort.STORE))


def spoken_to_member(marked: Marked, reach: Reach) -> bool:
    """True where the words are spoken to a member: "Ines, ..." or "Ines are you ..."."""
    members = named(marked, (reach[0], reach[0] + 3), NameSort.MEMBER)
    if any(marked.text_at(span.end) == "," for span in members):
        return True
    return any(span.start == reach[0] and marked.text_at(span.end) in _ADDRESSING for span in members)


def calls_clerk(marked: Marked) -> bool:
    """True where a message calls the clerk, by its name among the first words or as the last."""
    words = [token.text for token in marked.tokens if token.sort in (Sort.WORD, Sort.NUMBER)]
    edges = {*range(_WORDS_AT_THE_EDGE), len(words) - 1}
    named = (at for at, word in enumerate(words) if word in BOT_NAMES and at in edges)
    return any(not _is_behind_a_counter(words, at) for at in named)


def _is_behind_a_counter(words: Sequence[str], at: int) -> bool:
    """Whether the clerk named is one who works in a shop: "the clerk at larkmoor"."""
    before, behind = words[at - 1] if at > 0 else "", words[at + 1 : at + 3]
    placed = len(behind) > 1 and behind[0] in _PLACED and not behind[1].isdigit()
    return placed or before in _SOME_CLERK


def calls_member(marked: Marked, reach: Reach) -> bool:
    """True where a stretch opens or ends by calling a member: "Ines, ...", "..., Ines", "help yourself Ines"."""
    before = (span for span in named(marked, reach, NameSort.MEMBER) if span.end == reach[1] and span.start > reach[0])
    return spoken_to_member(marked, reach) or any(marked.text_at(span.start - 1) not in _NAMING for span in before)
