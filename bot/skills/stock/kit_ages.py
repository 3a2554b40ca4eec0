"""``kit_ages``: the ages that a kit is for, by which its cautions are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.numbers import numbers_in
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Desk, NewAges
from bot.skills.stock import kit_wording
from bot.skills.stock.cautioning import cautions_of
from bot.skills.stock.said import kits_in, which_kit
from core.cautions import Ages
from core.money import Currency


@dataclass(frozen=True, slots=True)
class KitAges:
    """The ages, in years, both included; no upper one is "and up"."""

    kit: str
    ages: Ages

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: which kit, from which age, to which."""
        del currency
        slots: dict[str, object] = {"kit": self.kit, "from": self.ages.low}
        return slots if self.ages.high is None else {**slots, "to": self.ages.high}


def _ages(heard: Heard) -> Sequence[KitAges | Unclear]:
    if heard.asked:
        return []
    starts = [heard.reach[0], *(kit.start for kit in kits_in(heard)[1:]), heard.reach[1]]
    return [one for reach in pairwise(starts) for one in _of_kit(replace(heard, reach=reach))]


def _of_kit(heard: Heard) -> Sequence[KitAges | Unclear]:
    """The ages of the only kit in a stretch."""
    kits, numbers = kits_in(heard), _numbers(heard)
    if not kits or not 1 <= len(numbers) <= 2:
        return []
    if len(numbers) == 1 and not set(heard.said) & _AND_UP:
        numbers *= 2
    try:
        ages = Ages(numbers[0], numbers[1] if len(numbers) > 1 else None)
    except ValueError:
        return [Unclear(kit_wording.AGES_SAID_AGAIN)]
    if kits[0].rivals:
        return [which_kit(kits[0].rivals, lambda kit: f"{kit}: {kit_wording.ages(ages)}")]
    return [KitAges(kits[0].name, ages)]


def _numbers(heard: Heard) -> list[int]:
    """The whole numbers said."""
    numbers = numbers_in(heard.marked, heard.reach, _ARTICLES)
    return [number.whole for number in numbers if number.whole is not None]


_ARTICLES = frozenset(("a", "an", "the", "per"))
_AND_UP = frozenset("up older over plus + above".split())

FORMS = (
    Form(
        "kit_ages",
        "for which ages",
        _ages,
        cues=(
            "ages|age|aged",
            "year|years|yr|yrs|yo old|olds",
            "years of age",
            "go|are|is|meant|for|intended to|for|kids|children|boys|girls",
            "kids|children from|aged|between",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "how|what|whats|who|does|do|did|why|which|if",
            "ages ago",
            "packed|finished|took",
            "my|his|her|our|turned|turns|is|am * years|yrs old",
        ),
        strange=2,
    ),
)
TEACH = (("school pouches are for ages 5 to 9", "told with its cautions"),)


def answer(slots: KitAges, desk: Desk) -> Answer:
    """Note the ages, and tell the cautions that then matter."""
    kit = desk.group.kit(slots.kit)
    if kit is None:
        return Answer(kit_wording.no_such_kit(slots.kit, desk.group.kits))
    line = kit_wording.ages_line(slots.kit, slots.ages)
    said = kit_wording.ages_answer(line, kit.ages if kit.ages != slots.ages else None)
    text = "\n".join([said, *cautions_of(kit.contents, slots.ages, desk.group)])
    return Answer(text, (NewAges(slots.kit, slots.ages),), line)


KIND = Kind("kit_ages", FORMS, answer, TEACH)
