"""What speaks for and against a reading: what a stretch of a message holds, and the words nothing explains."""

from __future__ import annotations

from collections.abc import Iterable

from bot.reading.amounts import Amount, Role
from bot.reading.clauses import Reach, strange_words, unknown_item, unknown_store
from bot.reading.cues import Hit
from bot.reading.form import Form, Need
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.names import Named, NameSort
from bot.reading.packs import Each, Loose, Multi
from bot.reading.spans import Marked
from bot.reading.words import Sort, lexicon
from core.counts import Quantity

_TALK_WEIGHT = 2
_WORDS_FOR_ONE_MORE = 12
_ADDRESSING = frozenset((",", "are", "r", "did", "u", "you", "can", "could", "will", "do", "have"))


def has(marked: Marked, need: Need, reach: Reach) -> bool:
    """Whether a stretch holds what a form may need."""
    if need is Need.AMOUNT:
        return priced(marked, reach)
    if need is Need.ITEM:
        return NameSort.ITEM in named(marked, reach)
    if need is Need.COUNT:
        return counted(marked, reach)
    return NameSort.ITEM in named(marked, reach) or unknown_item(marked, reach) is not None


def named(marked: Marked, reach: Reach) -> set[NameSort]:
    """The sorts of the group's names in a stretch."""
    return {span.value.sort for span in marked.each(Named, *reach)}


def priced(marked: Marked, reach: Reach) -> bool:
    """Whether an amount of money is named that could be a price."""
    roles = (Role.PRICE, Role.NOW, Role.WAS, Role.MOST)
    return any(span.value.role in roles for span in marked.each(Amount, *reach))


def counted(marked: Marked, reach: Reach) -> bool:
    """Whether units or packs are counted, or a price is said to be for each."""
    return any(True for sort in (Quantity, Multi, Loose, Each) for _ in marked.each(sort, *reach))


def marked_down(marked: Marked, reach: Reach) -> bool:
    """Whether a markdown is named."""
    return any(True for sort in (ShareOff, BuyGet) for _ in marked.each(sort, *reach))


def bare_priced(marked: Marked, reach: Reach) -> bool:
    """Whether a number besides the count may be a price without its point: "12 pencils 47"."""
    sorts = named(marked, reach)
    if NameSort.ITEM not in sorts or NameSort.KIT in sorts:
        return False
    numbers = [span for span in marked.each(Loose, *reach) if marked.tokens[span.start].sort is Sort.NUMBER]
    packed = any(marked.each(Quantity, *reach)) or any(marked.each(Multi, *reach))
    return len(numbers) > 1 or (packed and bool(numbers))


def one_item(marked: Marked) -> str | None:
    """The only item of the whole message, to which "it" and "them" must refer."""
    names = {span.value.name for span in marked.each(Named) if span.value.sort is NameSort.ITEM}
    return names.pop() if len(names) == 1 else None


def fault(marked: Marked, form: Form, reach: Reach) -> str | None:
    """Why a form whose cue was said cannot be meant, None where it can."""
    said = {marked.tokens[index].text for index in range(*reach)}
    if not all(said & any_of for any_of in form.also):
        return "a word of it is missing"
    for need in form.needs:
        referred = need is Need.ITEM and one_item(marked) is not None
        if not (form.spreads or referred or has(marked, need, reach)):
            return f"no {need.name.lower()}"
    return next((f"has {lack.name.lower()}" for lack in form.lacks if has(marked, lack, reach)), None)


def strangeness(marked: Marked, reach: Reach, said: list[Hit], kind: str = "", named: Iterable[int] = ()) -> int:
    """How many words of a stretch neither a span, nor a cue of the kind, nor an unknown name explains.

    ``named`` are the words of unknown names. Words of talk between people weigh three.
    """
    spoken = {index for hit in said if hit.form.kind == kind for index in range(hit.start, hit.end)}
    spoken.update(named)
    strange = [index for index in strange_words(marked, reach) if index not in spoken]
    talk = sum(marked.text_at(index) in lexicon()["talk"] for index in strange)
    return len(strange) + _TALK_WEIGHT * talk


def offer_fault(marked: Marked, form: Form, reach: Reach, said: list[Hit]) -> str | None:
    """Why a stretch is no offer that somebody tells the clerk of, None where it may be one."""
    if spoken_to_member(marked, reach):
        return "spoken to a member"
    sorts = named(marked, reach)
    known, count, price = NameSort.ITEM in sorts, counted(marked, reach), priced(marked, reach)
    strange = strangeness(marked, reach, said, form.kind)
    if not price and not _misses_only_a_price(marked, reach, strange):
        return "no price"
    if not known and not unknown_item(marked, reach):
        told = form.cues or count or NameSort.STORE in sorts
        return None if strange == 0 and told else "no item"
    if not known and (not count or _is_talk(marked, reach)):
        return "no item"
    store = NameSort.STORE in sorts
    allowed = form.strange + store + (reach[1] - reach[0]) // _WORDS_FOR_ONE_MORE
    allowed += 2 if known and count and price else 0 if known else -1
    allowed -= not count
    strange = strangeness(marked, reach, said, form.kind, _words_of_unknown_names(marked, reach, known))
    return None if strange <= allowed else f"{strange} words that nothing explains, {allowed} allowed"


def _misses_only_a_price(marked: Marked, reach: Reach, strange: int) -> bool:
    """True for a plain report without its price, or with a number that may be one: it is worth a question."""
    if strange:
        return False
    if bare_priced(marked, reach):
        return True
    sorts = named(marked, reach)
    told = counted(marked, reach) or marked_down(marked, reach)
    return NameSort.ITEM in sorts and NameSort.STORE in sorts and told


def _is_talk(marked: Marked, reach: Reach) -> bool:
    """True where the unknown item is a thing that people talk about and nobody packs."""
    unknown = unknown_item(marked, reach)
    return unknown is not None and any(marked.text_at(index) in lexicon()["talk"] for index in range(*unknown))


def _words_of_unknown_names(marked: Marked, reach: Reach, known: bool) -> set[int]:
    """The words that are the name of an unknown item or shop."""
    runs = (None if known else unknown_item(marked, reach), unknown_store(marked, reach))
    return {index for run in runs if run for index in range(*run)}


def spoken_to_member(marked: Marked, reach: Reach) -> bool:
    """True where the words are spoken to a member: "Ines, ..." or "Ines are you ..."."""
    members = [span for span in marked.each(Named, reach[0], reach[0] + 3) if span.value.sort is NameSort.MEMBER]
    if any(marked.text_at(span.end) == "," for span in members):
        return True
    return any(span.start == reach[0] and marked.text_at(span.end) in _ADDRESSING for span in members)
