"""Money in every written form, with the part it plays in the sentence."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache, cached_property

from babel.numbers import get_currency_name, get_currency_symbol

from bot.reading.markdowns import ShareOff
from bot.reading.names import NameSort, named
from bot.reading.numbers import NUMBER_WORDS, Number, number_at
from bot.reading.spans import Found, Marked
from bot.reading.words import Sort, fold, lexicon


class Role(StrEnum):
    """The part an amount plays."""

    PRICE = "price"
    WAS = "was"
    NOW = "now"
    OFF = "off"
    EXTRA = "extra"
    """Tax, shipping or another charge on top."""
    LESS = "less"
    """A coupon or another amount taken off what is to pay."""
    WITHIN = "within"
    """Tax or another charge that the price holds already."""
    MOST = "most"
    """The most we would pay."""


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount in major units."""

    value: Fraction
    role: Role = Role.PRICE
    foreign: str = ""
    """The sign or word of another currency than the group's, where one was used."""


@dataclass(frozen=True)
class MoneyWords:
    """How people write a currency: its signs, the words for a major and a minor unit, slang for fixed sums."""

    signs: frozenset[str]
    major: frozenset[str]
    minor: frozenset[str]
    slang: dict[str, Fraction]
    digits: int

    @cached_property
    def starters(self) -> frozenset[str]:
        """The words an amount can begin with."""
        return self.signs | _OTHER_SIGNS | _OTHER_WORDS | frozenset(self.slang) | NUMBER_WORDS | self.major


_CENTS = frozenset("c cent cents ¢ ct".split()) - {"ct"}
_MINOR = {"GBP": frozenset("p pence pee penny".split()), "INR": frozenset(("paise", "paisa"))}
_DOLLARS = frozenset("USD CAD AUD NZD SGD HKD BBD JMD TTD BZD".split())
_DOLLAR_SLANG = {"nickel": 5, "dime": 10, "quarter": 25, "penny": 1, "buck": 100, "bucks": 100}
"""31 U.S.C. 5112(a) for the coins; WordNet 3.0 for the buck."""
_POUND_SLANG = {"quid": 100, "fiver": 500, "tenner": 1000, "penny": 1}
_OTHER_SIGNS = frozenset("$ £ € ¥ ₹ ₩".split())
_OTHER_WORDS = frozenset("usd eur gbp cad aud nzd jpy chf mxn inr euro euros quid pence yen rupees pesos".split())
"""Words of money; those that are not the group's own are of another currency."""


@cache
def money_words(code: str, digits: int) -> MoneyWords:
    """The written forms of a currency, from CLDR and the slang of its coins."""
    symbol = get_currency_symbol(code, locale="en")
    names = {fold(get_currency_name(code, count=count, locale="en").split()[-1]) for count in (1, 2)}
    signs = {symbol, symbol[-1]} if not symbol[-1].isalpha() else set()
    slang = _POUND_SLANG if code == "GBP" else _DOLLAR_SLANG if code in _DOLLARS else {"fiver": 500}
    return MoneyWords(
        frozenset(signs) | {code.lower()},
        frozenset(
            names
            | {code.lower()}
            | ({"buck", "bucks"} if code in _DOLLARS else set())
            | ({"quid"} if code == "GBP" else set())
        ),
        _MINOR.get(code, _CENTS) if digits else frozenset(),
        {word: Fraction(value, 100) for word, value in slang.items()},
        digits,
    )


def find_amounts(marked: Marked) -> None:
    """Mark every amount that is written as money, then the part each plays."""
    words = money_words(marked.settings.currency.code, marked.settings.currency.digits)
    marked.mark_where(words.starters, lambda index: amount_at(marked, index, words))
    for span in marked.each(Amount):
        give_role(marked, span)
    _give_results(marked)
    for span in marked.each(Amount):
        if span.value.role is Role.EXTRA and _is_within(marked, span):
            priced = any(one.value.role is Role.PRICE for one in marked.each(Amount))
            marked.unmark(span)
            marked.mark(span.start, span.end, replace(span.value, role=Role.WITHIN if priced else Role.PRICE))


def _give_results(marked: Marked) -> None:
    """What a share off comes to is what is to pay: "25% off, so the 2.00 pack comes out at 1.50"."""
    for span in marked.each(Amount):
        words = {marked.word(index) for index in range(span.start - _NEAR, span.start)}
        if span.value.role is Role.PRICE and words & _RESULTS and any(marked.each(ShareOff)):
            marked.unmark(span)
            marked.mark(span.start, span.end, replace(span.value, role=Role.NOW))


def _is_within(marked: Marked, span: Found[Amount]) -> bool:
    """True where a charge is said to be in the price: "1.44 tax included", "of which 1.44 tax"."""
    behind = [marked.text_at(index) for index in range(span.end, span.end + _NEAR)]
    before = [marked.text_at(index) for index in range(span.start - 2, span.start)]
    return bool(_INCLUDED & set(behind) or {"which", "including", "incl"} & set(before))


_NEAR = 4
_RESULTS = frozenset("comes works brings makes ends turns".split())
_INCLUDED = frozenset("included incl inclusive already".split())


def amount_at(marked: Marked, index: int, words: MoneyWords) -> tuple[Amount, int] | None:
    """The amount that starts at a free token, and the index after it."""
    word = marked.word(index)
    if not word:
        return None
    if word in words.signs:
        return _after_sign(marked, index)
    if word in _OTHER_SIGNS or word in _OTHER_WORDS:
        return _foreign(_after_sign(marked, index), word)
    if word in ("a", "one", "half", "the") or word in words.slang or word in words.major:
        slang = _slang(marked, index, words)
        if slang:
            return slang
    number = number_at(marked, index)
    if number is None or number[0].collective:
        return None
    return (
        _with_unit(marked, number, words)
        or _or_another(marked, number, words)
        or _with_foreign_unit(marked, number, words)
        or _decimal(*number)
        or _spoken(marked, index, number)
        or _charge(marked, index, number)
    )


def _or_another(marked: Marked, number: tuple[Number, int], words: MoneyWords) -> tuple[Amount, int] | None:
    """The first of two amounts whose unit is said once: "3 or 4 cents"."""
    value, end = number[0].value, number[1]
    other = number_at(marked, end + 1) if marked.word(end) == "or" else None
    coins = other is not None and marked.word(other[1]) in words.minor
    return (Amount(value / 10**words.digits), end) if coins else None


def _foreign(found: tuple[Amount, int] | None, word: str) -> tuple[Amount, int] | None:
    return (replace(found[0], foreign=word), found[1]) if found else None


def _with_foreign_unit(marked: Marked, number: tuple[Number, int], words: MoneyWords) -> tuple[Amount, int] | None:
    unit, end = marked.word(number[1]), number[1]
    if unit in words.major or unit in words.signs or not (unit in _OTHER_SIGNS or unit in _OTHER_WORDS):
        return None
    return Amount(number[0].value, foreign=unit), end + 1


def _after_sign(marked: Marked, index: int) -> tuple[Amount, int] | None:
    number = number_at(marked, index + 1)
    if number is None or number[0].collective:
        return None
    return Amount(number[0].value), number[1]


def _slang(marked: Marked, index: int, words: MoneyWords) -> tuple[Amount, int] | None:
    start = index
    half = Fraction(1)
    if marked.word(index) == "half":
        half, index = Fraction(1, 2), index + 1
    if marked.word(index) in ("a", "one", "the"):
        index += 1
    word = marked.word(index)
    if index == start and not _each_follows(marked, index + 1) and not _minor_part(marked, index + 1, words):
        return None
    if word == "quarter" and (index == start or marked.word(index + 1) in ("off", "price", "of")):
        return None
    worth = words.slang.get(word)
    if worth is None and word in words.major:
        worth = Fraction(1)
    if worth is None:
        return None
    if half == 1 and worth >= 1 and (rest := _minor_part(marked, index + 1, words)):
        return Amount(worth + rest[0]), rest[1]
    return Amount(half * worth), index + 1


def _each_follows(marked: Marked, index: int) -> bool:
    return marked.word(index) in ("each", "ea", "apiece") or marked.has_phrase(index, ("a", "piece"))


def _with_unit(marked: Marked, number: tuple[Number, int], words: MoneyWords) -> tuple[Amount, int] | None:
    value, end = number[0].value, number[1]
    unit = marked.word(end)
    if unit in words.minor:
        return Amount(value / 10**words.digits), end + 1
    if unit in words.slang and unit not in words.major and not number[0].decimals:
        return Amount(value * words.slang[unit]), end + 1
    singular = unit.removesuffix("s")
    if singular in words.slang and singular not in words.major and not number[0].decimals:
        return Amount(value * words.slang[singular]), end + 1
    if unit in words.major or (unit in words.signs and marked.glued(end)):
        rest = _minor_part(marked, end + 1, words) if not number[0].decimals else None
        return (Amount(value + rest[0]), rest[1]) if rest else (Amount(value), end + 1)
    return None


def _minor_part(marked: Marked, index: int, words: MoneyWords) -> tuple[Fraction, int] | None:
    """The cents after the dollars: "twelve dollars sixty", "one dollar and fifty-two cents"."""
    joined = marked.word(index) == "and"
    for share, part in (("half", Fraction(1, 2)), ("quarter", Fraction(1, 4))):
        if joined and marked.word(index + 1) == "a" and marked.word(index + 2) == share:
            return part, index + 3
    found = number_at(marked, index + joined)
    if found is None or found[0].collective or found[0].other is not None:
        return None
    number, end = found
    if not 0 < number.value < 10**words.digits:
        return None
    if marked.word(end) in words.minor:
        return number.value / 10**words.digits, end + 1
    if joined or (number.value < 10 and number.decimals is not None) or _names_a_thing(marked, end):
        return None
    return number.value / 10**words.digits, end


def _names_a_thing(marked: Marked, index: int) -> bool:
    """True where the token after a number makes it a count: a name, a pack word or an unknown word."""
    if index >= len(marked.tokens):
        return False
    if not marked.word(index):
        return bool(named(marked, (index, index + 1), NameSort.ITEM))
    word = marked.word(index)
    return marked.is_sort(index, Sort.WORD) and word not in lexicon()["filler"] and word not in _ENDS


_ENDS = frozenset("ea flat limit thru til till plus minus less".split())
"""Words that end a price and are no things, beside the small words of speech."""


def _decimal(number: Number, end: int) -> tuple[Amount, int] | None:
    return (Amount(number.value), end) if number.decimals else None


_CHARGE_WORDS = "tax vat hst gst shipping delivery postage post freight carriage ship gas petrol tip fee".split()
_CHARGES = "|".join(_CHARGE_WORDS)
_NAMED_CHARGES = frozenset(_CHARGE_WORDS) - {"post", "ship"}
_OF_CHARGES = "|".join(f"{word}|{word} of|{word} was" for word in _CHARGE_WORDS if word not in ("ship", "post"))
_FOR_CHARGES = "|".join(f"for {word}|for the {word}" for word in _CHARGE_WORDS)
_TAKEN = frozenset(("minus", "less", "take", "-"))
_TAKEN_OFF = frozenset(("off", "coupon", "voucher", "discount"))


def _spoken(marked: Marked, index: int, number: tuple[Number, int]) -> tuple[Amount, int] | None:
    """A price in words without its units: "three seventy-five", "ten fifty-six"."""
    major, end = number
    cents = number_at(marked, end)
    if major.decimals is not None or cents is None or marked.word(index - 1) in _BEFORE_A_TIME or marked.glued(end):
        return None
    if marked.is_sort(index, Sort.NUMBER) or marked.is_sort(end, Sort.NUMBER) or cents[0].collective:
        return None
    if major.value == cents[0].value:
        return None  # fifty fifty
    if not (1 <= major.value < 100 and 10 <= cents[0].value < 100) or _names_a_thing(marked, cents[1]):
        return None
    return Amount(major.value + cents[0].value / 100), cents[1]


_BEFORE_A_TIME = frozenset("at by until till before after around quarter half".split())


def _charge(marked: Marked, index: int, number: tuple[Number, int]) -> tuple[Amount, int] | None:
    """A whole number that a word makes a charge or a deduction: "4 shipping", "take 2 off", "less a 3 coupon"."""
    before, after = marked.word(index - 1), marked.word(number[1])
    if before == "a":
        before = marked.word(index - 2)
    priced = any(span.end in range(index - _NEAR, index) for span in marked.each(Amount))
    taken = after in _TAKEN_OFF and (before in _TAKEN or before == "with")
    taken = taken or (before in ("minus", "less") and priced and _ends_there(marked, number[1]))
    charged = after in _CHARGE_WORDS and before in ("+", "plus", "and", ",", "with")
    charged = charged or before in _NAMED_CHARGES
    charged = charged or (before in ("+", "plus") and priced and after == "for")
    return (Amount(number[0].value), number[1]) if (taken or charged) and number[0].whole else None


def _ends_there(marked: Marked, index: int) -> bool:
    """True where no thing that a number could count follows it."""
    return not marked.is_sort(index, Sort.WORD) or marked.word(index) in lexicon()["filler"]


def _phrases(by_role: dict[Role, tuple[str, ...]]) -> dict[tuple[str, ...], Role]:
    return {
        tuple(phrase.split()): role for role, lines in by_role.items() for line in lines for phrase in line.split("|")
    }


_BEFORE = _phrases(
    {
        Role.WAS: (
            "was|were|reg|regular|regularly|usually|normally|normal|orig|originally|list|used to be",
            "from|down from|instead of",
        ),
        Role.NOW: ("now|now only|now just|sale|on sale for|down to|marked down to|reduced to|is now|are now",),
        Role.EXTRA: ("+|plus|and tax|with tax", _OF_CHARGES),
        Role.LESS: (
            "minus|less|minus a|less a|coupon minus|take off",
            "coupon of|discount of|voucher of|rebate of|coupon|discount|voucher|rebate",
        ),
        Role.MOST: (
            "max|max of|at most|most|at the most|at the very most|maximum|limit|limit of|ceiling|cap|tops|highest",
            "no more than|not more than|never more than|not over|never over|go over|never go over|never above",
            "not above|stretch to",
        ),
    }
)
_AFTER = _phrases(
    {
        Role.WAS: ("reg|regular|regularly|normally|usually|before",),
        Role.NOW: ("now",),
        Role.OFF: ("off",),
        Role.EXTRA: ("sales tax|in tax|for tax|tax on top|p & p", _CHARGES, _FOR_CHARGES),
        Role.LESS: (
            "coupon|voucher|discount|rebate|loyalty discount|off for the coupon|off with a coupon|off the lot",
        ),
        Role.MOST: (
            "max|maximum|absolute max|tops|top|at a push|at the outside|the utmost|at the utmost",
            "most|the most|at most|at the most|at the very most|the very most|as the most|is the most",
        ),
    }
)
_COUNTING = frozenset("for / @ ct count pk pack pc pcs".split())
_GAP = frozenset(": = is just only at the price .".split())


def give_role(marked: Marked, span: Found[Amount]) -> None:
    """Set the part an amount plays by the words right after or before it; those words are taken."""
    start = span.start
    before = _role_before(marked, start)
    if before is None and marked.word(start - 1) in _GAP:
        before = _role_before(marked, start - 1)
    if before:
        _give(marked, span, before[0], (before[1], span.end))
        return
    if len(marked.each(Amount)) > 1 and _was_for_count(marked, start):
        _give(marked, span, Role.WAS, (start, span.end))
        return
    after = _role_after(marked, span.end)
    if after and (after[0] is Role.OFF or not _goes_with_next(marked, after[1])):
        _give(marked, span, after[0], (span.start, after[1]))


def _was_for_count(marked: Marked, start: int) -> bool:
    """True where a count stands between a word of what was and its price: "was 4 for 1.90", "normally 10ct 1.20"."""
    at = start - 2
    number = marked.is_sort(at, Sort.NUMBER) or marked.word(at) in NUMBER_WORDS
    before = _role_before(marked, at) if number and marked.word(start - 1) in _COUNTING else None
    return before is not None and before[0] is Role.WAS


def _goes_with_next(marked: Marked, index: int) -> bool:
    """True where a role word stands before another number, whose part it names."""
    return marked.is_sort(index, Sort.NUMBER) or any(span.start == index for span in marked.each(Amount))


def _role_after(marked: Marked, end: int) -> tuple[Role, int] | None:
    for length in (4, 3, 2, 1):
        role = _AFTER.get(tuple(marked.word(end + offset) for offset in range(length)))
        if role:
            return role, end + length
    return None


def _role_before(marked: Marked, start: int) -> tuple[Role, int] | None:
    for length in (4, 3, 2, 1):
        role = _BEFORE.get(tuple(marked.word(start - length + offset) for offset in range(length)))
        if role:
            return role, start - length
    return None


def _give(marked: Marked, span: Found[Amount], role: Role, reach: tuple[int, int]) -> None:
    marked.unmark(span)
    marked.mark(*reach, replace(span.value, role=role))
