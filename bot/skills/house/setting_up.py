"""A new group's first choices by a few buttons, one after another in the same post: currency, time zone, first kit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bot.messages import Button, Post
from bot.skills.answering import Answer, Desk, NewContents, NewName, NewSetting, Place, Record
from bot.skills.house import welcome_wording as wording
from bot.skills.house.set_setting import SetTo, set_to
from bot.skills.house.settings_wording import who_can
from bot.skills.house.setup_said import answer_in, country_of, currency_typed, label_typed, says_where, zone_typed
from bot.storage.calendar import said_settings
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
_MOST_WORDS = 3
"""Of a currency or a place that is typed."""


_SETTINGS = {_CURRENCY: Setting.CURRENCY, _ZONE: Setting.TIMEZONE}


def first_question() -> tuple[str, tuple[Button, ...]]:
    """What a new group is asked first, and the buttons that answer it."""
    return wording.WHICH_CURRENCY, _buttons(_CURRENCY, _CURRENCIES)


def press(numbers: Sequence[int], desk: Desk) -> Answer | None:
    """A pressed choice: noted, and the next question with its buttons in the same post; administrators only."""
    if len(numbers) != len(("step", "choice")) or numbers[0] not in _STEPS:
        return None
    if not desk.may_set:
        return Answer(who_can(desk.administrators))
    step, choice = numbers
    noted = _STEPS[step](choice, desk)
    return None if _is_known(noted, desk) else _then(noted, step, desk)


def _is_known(noted: Answer, desk: Desk) -> bool:
    """Whether a choice is pressed again: it is as it was said before."""
    said = said_settings(desk.books)
    settings = [one for one in noted.records if isinstance(one, NewSetting)]
    lines = [one for one in noted.records if isinstance(one, NewContents)]
    contents = {kit.name: kit.contents for kit in desk.group.kits}
    return bool(settings or lines) and (
        all(said.get(one.setting) == one.value for one in settings)
        and all(contents.get(one.kit, {}).get(one.item) == one.count for one in lines)
    )


def asked_in(post: Post) -> int | None:
    """The question that a post puts, by its number; None where it is none of these."""
    what, *numbers = post.buttons[0].action.split(":") if post.buttons else [""]
    return int(numbers[0]) if what == SETUP else None


def open_steps(desk: Desk) -> tuple[int, ...]:
    """The questions that nobody has answered yet, by pressing or in words."""
    said = said_settings(desk.books)
    unsaid = tuple(step for step, setting in _SETTINGS.items() if setting not in said)
    return unsaid if desk.group.kits else (*unsaid, _KIT)


def typed(text: str, replied_to: int | None, still_open: Sequence[int], desk: Desk) -> Answer | None:
    """What typed words answer: the question replied to, else one that is open; None where they answer none."""
    words = answer_in(text)
    for step in (*([] if replied_to is None else [replied_to]), *still_open):
        if words and (choice := _choice_typed(step, words, desk)) is not None:
            return _then(_STEPS[step](choice, desk), step, desk) if desk.may_set else _refused(replied_to, desk)
    return None


def not_known(text: str, replied_to: int | None, still_open: Sequence[int], desk: Desk) -> Answer | None:
    """That a currency or place typed in answer to a question is none that the clerk knows; None where it is no answer.

    Without a reply only words such as "we're in boston" are taken for one.
    """
    words = answer_in(text)
    step = replied_to if replied_to is not None else next(iter(still_open), None)
    is_answer = replied_to is not None or (step == _ZONE and says_where(text))
    if step not in _SETTINGS or not is_answer or not 0 < len(words.split()) <= _MOST_WORDS or not desk.may_set:
        return None
    return Answer(wording.no_such_zone(words) if step == _ZONE else wording.no_such_currency(words))


def _refused(replied_to: int | None, desk: Desk) -> Answer | None:
    return None if replied_to is None else Answer(who_can(desk.administrators))


def next_question(before: Sequence[int], desk: Desk) -> Answer | None:
    """The question that comes next where one of those open before has been answered in words of another kind."""
    answered = set(before) - set(open_steps(desk))
    if not answered:
        return None
    question, buttons = _next(max(answered), desk)
    return Answer(question, buttons=buttons)


def _choice_typed(step: int, words: str, desk: Desk) -> _Choice | None:
    """The button that is typed, or a currency or zone that none of them offers."""
    match step:
        case 0:
            return currency_typed(words, desk.settings.country) or _anything_else(words, _CURRENCIES)
        case 1:
            zones = _ZONES.get(desk.settings.currency.code, ())
            found = label_typed(words, [zone.label for zone in zones])
            return zone_typed(words) or _anything_else(words, zones) if found is None else found
        case _:
            found = label_typed(words, [name for name, _ in _KITS])
            return _anything_else(words, _KITS) if found is None else found


def _anything_else(words: str, choices: Sequence[object]) -> int | None:
    """The last button, for whoever wants none of the choices."""
    return len(choices) if words in (wording.ANOTHER.casefold(), "other", "skip", "none of these") else None


def _then(noted: Answer, step: int, desk: Desk) -> Answer:
    """What was noted, with the next question below it."""
    records = {record.setting: record.value for record in noted.records if isinstance(record, NewSetting)}
    code = records.get(Setting.CURRENCY, desk.settings.currency.code)
    question, buttons = _next(step, desk, code)
    return replace(noted, text=f"{noted.text}\n\n{question}", buttons=buttons, place=Place.INSTEAD)


def _next(step: int, desk: Desk, code: str | None = None) -> tuple[str, tuple[Button, ...]]:
    """The first question behind a step that is still open, or that all is ready."""
    match next((one for one in open_steps(desk) if one > step), None):
        case 1:
            zones = _ZONES.get(code or desk.settings.currency.code, ())
            return wording.WHICH_ZONE, _buttons(_ZONE, [zone.label for zone in zones])
        case 2:
            return wording.WHICH_KIT, _buttons(_KIT, [name for name, _ in _KITS])
        case _:
            return wording.READY, ()


def _currency(choice: _Choice, desk: Desk) -> Answer:
    if isinstance(choice, int) and choice >= len(_CURRENCIES):
        return Answer(wording.WRITE_CURRENCY)
    return _noted([(Setting.CURRENCY, _CURRENCIES[choice] if isinstance(choice, int) else choice)], desk)


def _zone(choice: _Choice, desk: Desk) -> Answer:
    """The zone, and with it the country whose feasts and sales count."""
    if isinstance(choice, str):
        country = country_of(choice)
        return _noted([(Setting.TIMEZONE, choice), *([(Setting.COUNTRY, country)] if country else [])], desk)
    zones = _ZONES.get(desk.settings.currency.code, ())
    if choice >= len(zones):
        return Answer(wording.WRITE_ZONE)
    return _noted([(Setting.TIMEZONE, zones[choice].name), (Setting.COUNTRY, zones[choice].country)], desk)


def _noted(settings: Sequence[tuple[Setting, str]], desk: Desk) -> Answer:
    """Settings that are chosen; what they were is told only where somebody had chosen it."""
    said = said_settings(desk.books)
    answers = [set_to(SetTo(setting, value), desk) for setting, value in settings]
    records = tuple(record for answer in answers for record in answer.records)
    summary = "; ".join(filter(None, (answer.summary for answer in answers)))
    is_first = len(records) == len(settings) and not any(setting in said for setting, _ in settings)
    text = wording.noted(summary) if is_first else "\n".join(answer.text for answer in answers)
    return Answer(text, records, summary)


def _kit(choice: _Choice, desk: Desk) -> Answer:
    if not isinstance(choice, int) or choice >= len(_KITS):
        return Answer(wording.WRITE_KIT)
    name, contents = _KITS[choice]
    new: list[Record] = [NewName(item, item) for item, _ in contents if desk.group.item(item) is None]
    lines = [NewContents(name, item, count) for item, count in contents]
    return Answer(wording.first_kit(name, contents), (*new, *lines), wording.kit_summary(name))


_Choice = int | str
"""A choice: the number of its button, or the value itself."""
_STEPS: dict[int, Callable[[_Choice, Desk], Answer]] = {_CURRENCY: _currency, _ZONE: _zone, _KIT: _kit}


def _buttons(step: int, labels: Sequence[str]) -> tuple[Button, ...]:
    """A button for each choice, and one for whoever wants none of them."""
    return tuple(Button(label, f"{SETUP}:{step}:{index}") for index, label in enumerate([*labels, wording.ANOTHER]))
