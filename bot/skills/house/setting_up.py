"""A new group's first choices by a few buttons, one after another in the same post: currency, time zone, first kit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.messages import Button
from bot.skills.answering import Answer, Desk, NewContents, NewName, Place, Record
from bot.skills.house import welcome_wording as wording
from bot.skills.house.set_setting import SetTo, set_to
from bot.skills.house.settings_wording import who_can
from core.choices import Setting

SETUP = "setup"
"""Begins the action of a button of these."""


@dataclass(frozen=True, slots=True)
class _Zone:
    label: str
    name: str
    country: str


_CURRENCIES = ("USD", "CAD", "EUR", "GBP", "AUD", "NZD")
_ZONES = {
    "USD": (
        _Zone("Eastern", "America/New_York", "US"),
        _Zone("Central", "America/Chicago", "US"),
        _Zone("Mountain", "America/Denver", "US"),
        _Zone("Pacific", "America/Los_Angeles", "US"),
    ),
    "CAD": (
        _Zone("Atlantic", "America/Halifax", "CA"),
        _Zone("Eastern", "America/Toronto", "CA"),
        _Zone("Central", "America/Winnipeg", "CA"),
        _Zone("Mountain", "America/Edmonton", "CA"),
        _Zone("Pacific", "America/Vancouver", "CA"),
    ),
    "EUR": (
        _Zone("Dublin", "Europe/Dublin", "IE"),
        _Zone("Berlin", "Europe/Berlin", "DE"),
        _Zone("Paris", "Europe/Paris", "FR"),
        _Zone("Madrid", "Europe/Madrid", "ES"),
        _Zone("Rome", "Europe/Rome", "IT"),
    ),
    "GBP": (_Zone("London", "Europe/London", "GB"),),
    "AUD": (
        _Zone("Sydney", "Australia/Sydney", "AU"),
        _Zone("Brisbane", "Australia/Brisbane", "AU"),
        _Zone("Adelaide", "Australia/Adelaide", "AU"),
        _Zone("Perth", "Australia/Perth", "AU"),
    ),
    "NZD": (_Zone("Auckland", "Pacific/Auckland", "NZ"),),
}
"""The zones to choose from, by the group's currency; whoever lives in another writes it."""
_KITS = (
    ("school pouch", (("pencil", 4), ("notebook", 1), ("eraser", 1))),
    ("wash pouch", (("bar soap", 1), ("washcloth", 1), ("comb", 1))),
)
"""Kits to begin with; what is in them is changed in plain words."""
_CURRENCY, _ZONE, _KIT = range(3)


def first_question() -> tuple[str, tuple[Button, ...]]:
    """What a new group is asked first, and the buttons that answer it."""
    return wording.WHICH_CURRENCY, _buttons(_CURRENCY, _CURRENCIES)


def press(numbers: Sequence[int], desk: Desk) -> Answer | None:
    """A pressed choice: noted, and the next question with its buttons in the same post; administrators only."""
    if len(numbers) != len(("step", "choice")):
        return None
    if not desk.may_set:
        return Answer(who_can(desk.administrators))
    step, choice = numbers
    match step:
        case 0:
            return _then(_currency(choice, desk), *_ask_zone(_code(choice, desk)))
        case 1:
            return _then(_zone(choice, desk), wording.WHICH_KIT, _buttons(_KIT, [name for name, _ in _KITS]))
        case 2:
            return _then(_kit(choice, desk), wording.READY, ())
        case _:
            return None


def _then(noted: Answer, question: str, buttons: tuple[Button, ...]) -> Answer:
    return replace(noted, text=f"{noted.text}\n\n{question}", buttons=buttons, place=Place.INSTEAD)


def _code(choice: int, desk: Desk) -> str:
    return _CURRENCIES[choice] if choice < len(_CURRENCIES) else desk.settings.currency.code


def _currency(choice: int, desk: Desk) -> Answer:
    if choice >= len(_CURRENCIES):
        return Answer(wording.WRITE_CURRENCY)
    return set_to(SetTo(Setting.CURRENCY, _CURRENCIES[choice]), desk)


def _ask_zone(code: str) -> tuple[str, tuple[Button, ...]]:
    return wording.WHICH_ZONE, _buttons(_ZONE, [zone.label for zone in _ZONES.get(code, ())])


def _zone(choice: int, desk: Desk) -> Answer:
    """The zone, and with it the country whose feasts and sales count."""
    zones = _ZONES.get(desk.settings.currency.code, ())
    if choice >= len(zones):
        return Answer(wording.WRITE_ZONE)
    zone = zones[choice]
    noted = [set_to(SetTo(setting, value), desk) for setting, value in _settings_of(zone)]
    records = tuple(record for answer in noted for record in answer.records)
    summary = "; ".join(answer.summary for answer in noted)
    return Answer("\n".join(answer.text for answer in noted), records, summary)


def _settings_of(zone: _Zone) -> tuple[tuple[Setting, str], ...]:
    return (Setting.TIMEZONE, zone.name), (Setting.COUNTRY, zone.country)


def _kit(choice: int, desk: Desk) -> Answer:
    if choice >= len(_KITS):
        return Answer(wording.WRITE_KIT)
    name, contents = _KITS[choice]
    new: list[Record] = [NewName(item, item) for item, _ in contents if desk.group.item(item) is None]
    lines = [NewContents(name, item, count) for item, count in contents]
    return Answer(wording.first_kit(name, contents), (*new, *lines), wording.kit_summary(name))


def _buttons(step: int, labels: Sequence[str]) -> tuple[Button, ...]:
    """A button for each choice, and one for whoever wants none of them."""
    return tuple(Button(label, f"{SETUP}:{step}:{index}") for index, label in enumerate([*labels, wording.ANOTHER]))
