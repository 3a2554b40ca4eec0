"""Numbers that are no counts and no prices: sizes, ages, times, model numbers, telephones, addresses."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_lowercase

from bot.reading.names import Named
from bot.reading.numbers import NUMBER_WORDS, number_at
from bot.reading.spans import Marked
from bot.reading.words import Sort

_UNITS = frozenset(
    "pt pint pints oz ozs ounce ounces fl qt quart quarts gal gallon gallons gm gms g l sq ft foot feet inch"
    " inches cm mm ml ltr litre litres liter liters kg gram grams lb lbs yd yds yard yards yr yrs year years yo month"
    " months min mins minute minutes hour hours hr hrs week weeks day days page pages sheet sheets mile miles"
    " degree degrees am pm color colors colour colours watt watts ply grit tonight people ppl folks kids times".split()
)
_GLUED_UNITS = frozenset("g m l w in b h st nd rd th y".split())
_COIN_DECIMALS = 2
_MARKERS = frozenset(
    "# no num number nr age ages aged size sizes aisle room model year grade type page route bus line row phone"
    " tel call ring".split()
)
_STARTERS = NUMBER_WORDS | _MARKERS | frozenset(ascii_lowercase)


@dataclass(frozen=True, slots=True)
class Size:
    """A number with what it measures."""


@dataclass(frozen=True, slots=True)
class Year:
    """A year: whoever names one tells a story of another time."""


def find_sizes(marked: Marked) -> None:
    """Mark the numbers that are neither counts nor prices."""
    marked.mark_where(_STARTERS, lambda index: _size(marked, index))


def _size(marked: Marked, index: int) -> tuple[Size | Year, int] | None:
    if year := _year(marked, index):
        return Year(), year
    end = _time(marked, index) or _telephone(marked, index) or _marker(marked, index)
    end = end or _measure(marked, index) or _model(marked, index)
    return (Size(), end) if end else None


def _number(marked: Marked, index: int) -> int | None:
    return index + 1 if marked.is_sort(index, Sort.NUMBER) else None


def _time(marked: Marked, index: int) -> int | None:
    if not (_number(marked, index) and marked.word(index + 1) == ":" and marked.glued(index + 1)):
        return None
    return index + 3 if _number(marked, index + 2) and marked.glued(index + 2) else None


def _telephone(marked: Marked, index: int) -> int | None:
    end = index
    digits = 0
    while _number(marked, end) and "." not in marked.word(end):
        digits += len(marked.word(end))
        end += 1
    return end if end - index >= 2 and digits >= 7 and min(map(len, _words(marked, index, end))) >= 3 else None


def _words(marked: Marked, start: int, end: int) -> list[str]:
    return [marked.word(index) for index in range(start, end)]


def _marker(marked: Marked, index: int) -> int | None:
    if marked.word(index) not in _MARKERS:
        return None
    at = index + 1
    while marked.word(at) in (".", "#", "for"):
        at += 1
    end = _number(marked, at)
    if end is None or "." in marked.word(at):
        return None
    calls = marked.word(index) in ("phone", "tel", "call", "ring")
    while _number(marked, end) and (calls or marked.glued(end)):
        end += 1
    return end + 1 if marked.word(end) == "+" and marked.glued(end) else end


def _measure(marked: Marked, index: int) -> int | None:
    found = number_at(marked, index)
    if found is None or found[0].collective:
        return None
    end = found[1]
    if marked.word(end) == "+" and marked.glued(end) and not _number(marked, end + 1):
        return end + 1
    while _number(marked, end) and marked.glued(end):
        end += 1
    unit = marked.word(end)
    if unit in ("sheet", "sheets") and any("paper" in span.value.name for span in marked.each(Named)):
        return None
    if unit in _UNITS and not _per_unit(marked, index):
        return end + 1 + (marked.word(end + 1) in ("old", "olds", "oz", "ft", "in"))
    if unit == "in" and found[0].decimals != _COIN_DECIMALS and not _holds(marked, end):
        return end + 1
    if unit in _GLUED_UNITS and marked.glued(end) and found[0].decimals is not None:
        return end + 1
    return None


def _year(marked: Marked, index: int) -> int | None:
    """A year is no count: "in 1971", "like 1987"."""
    word, before = marked.word(index), marked.word(index - 1)
    if not (word.isdigit() and len(word) == 4 and word[:2] in ("19", "20")):
        return None
    lone = before in ("like", "from", "was") and not marked.is_sort(index + 1, Sort.WORD)
    return index + 1 if lone or before in ("in", "since") else None


def _holds(marked: Marked, index: int) -> bool:
    """True where "in" says what a number of units lie in, or where; else it is inches: "5 in a box"."""
    after = marked.word(index + 1)
    return not (
        marked.glued(index) or marked.is_sort(index + 1, Sort.NUMBER) or after in ("", ",", "/", "long", "wide")
    )


def _per_unit(marked: Marked, index: int) -> bool:
    return marked.word(index - 1) in ("$", "£", "€")


def _model(marked: Marked, index: int) -> int | None:
    if _number(marked, index) and all(marked.glued(at) for at in (index + 1, index + 2)):
        between = marked.is_sort(index + 1, Sort.WORD) and marked.word(index + 1) not in ("x", "for")
        return index + 3 if between and _number(marked, index + 2) else None
    single = marked.is_sort(index, Sort.WORD) and len(marked.word(index)) == 1 and marked.word(index) != "x"
    if single and _number(marked, index + 1) and marked.glued(index + 1):
        return index + 2
    return None
