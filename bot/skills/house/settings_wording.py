"""Every sentence about the settings of a group."""

from __future__ import annotations

from collections.abc import Sequence

from bot.wording.things import capital, counted, listed
from core.choices import NO_LIMIT, OFF, Setting, month_day, value_of
from core.group import Settings
from core.money import Rounding

SETTING_NAMES = {
    Setting.QUIET_HOURS: "quiet hours",
    Setting.SUMMARY: "weekly summary",
    Setting.ALERTS_A_DAY: "deal alerts",
    Setting.LEAD_DAYS: "reminder of a sale",
    Setting.ROUNDING: "unit prices",
    Setting.CURRENCY: "currency",
    Setting.TAX_RATE: "sales tax",
    Setting.COUNTRY: "country",
    Setting.TIMEZONE: "time zone",
    Setting.SEASON: "packing season",
    Setting.REACTIONS: "answer to a price that is no deal",
    Setting.TOPIC: "where I speak up by myself",
}
_EXAMPLES = {
    Setting.QUIET_HOURS: "quiet hours 10pm to 7am",
    Setting.SUMMARY: "summary on fridays at 5pm",
    Setting.ALERTS_A_DAY: "at most 2 alerts a day",
    Setting.LEAD_DAYS: "tell us of sales 5 days ahead",
    Setting.ROUNDING: "round unit prices to the tenth of a cent",
    Setting.CURRENCY: "set the currency to CAD",
    Setting.TAX_RATE: "sales tax is 8.25%",
    Setting.COUNTRY: "set the country to Canada",
    Setting.TIMEZONE: "set the time zone to America/Denver",
    Setting.SEASON: "season starts january 2",
    Setting.REACTIONS: "just react to prices",
    Setting.TOPIC: "post alerts here",
}


HOLES = {
    Setting.QUIET_HOURS: "quiet hours {}",
    Setting.SUMMARY: "summary on {}",
    Setting.CURRENCY: "set the currency to {}",
    Setting.TIMEZONE: "set the time zone to {}",
}
"""The messages that what is typed as an answer completes."""


OFF_EXAMPLES = {
    Setting.QUIET_HOURS: "quiet hours off",
    Setting.SUMMARY: "stop the weekly summary",
    Setting.ALERTS_A_DAY: "no more alerts",
}


def _value(setting: Setting, settings: Settings) -> str:
    value = value_of(settings, setting)
    match setting:
        case Setting.QUIET_HOURS:
            return "none" if value == OFF else value.replace("-", " to ")
        case Setting.SUMMARY:
            day, _, at = value.partition(" ")
            return "none" if value == OFF else f"{day.capitalize()}s at {at}"
        case Setting.ALERTS_A_DAY:
            return {"0": "none", NO_LIMIT: NO_LIMIT}.get(value, f"at most {value} a day")
        case Setting.LEAD_DAYS:
            return f"{counted(settings.lead_days, 'day')} before it"
        case Setting.ROUNDING:
            return "up to the whole cent" if settings.rounding is Rounding.UP else "to the tenth of a cent"
        case Setting.TAX_RATE:
            return "none" if value == OFF else f"{value}%"
        case Setting.SEASON:
            return "the year up to collection day" if value == OFF else f"from {month_day(value)} to collection day"
        case Setting.REACTIONS:
            return "just a 👌 on it" if settings.reacts else "in words"
        case Setting.TOPIC:
            return "a topic of this chat" if settings.topic else "the main chat"
        case _:
            return value


def one_setting(setting: Setting, settings: Settings) -> str:
    """One setting as it stands, and how to change it."""
    return (
        f"{capital(SETTING_NAMES[setting])}: {_value(setting, settings)}. Change that by saying: {_EXAMPLES[setting]}"
    )


def all_settings(settings: Settings, administrators: Sequence[str] | None) -> str:
    """All settings, and who can change them."""
    lines = [f"• {SETTING_NAMES[setting]}: {_value(setting, settings)}" for setting in Setting]
    return "\n".join(["How I am set up:", *lines, f"{_who(administrators)} can change them, in plain words."])


def _who(administrators: Sequence[str] | None) -> str:
    return listed(list(administrators), "or") if administrators else "Anyone"


def who_can(administrators: Sequence[str] | None) -> str:
    """Told to somebody who may not change a setting."""
    if not administrators:
        return "Only administrators of this chat can change that, and I cannot see now who they are. Try again later."
    return f"Only {listed(list(administrators), 'or')} can change that: please ask."


def who_sets(administrators: Sequence[str] | None) -> str:
    """Told to somebody who asks who may change the settings."""
    if administrators is None:
        return "Anyone can change the settings, for no administrators are named."
    told = listed(list(administrators), "or") if administrators else "Nobody that I can see now"
    return (
        f"{told} can change the settings: the chat’s administrators on Telegram, elsewhere whom the group file names."
    )


def for_good(setting: Setting) -> str:
    """Told to somebody who wants a thing off for some days."""
    return f"I cannot switch the {SETTING_NAMES[setting]} off for a while. For good, say: {OFF_EXAMPLES[setting]}"


def to_what(setting: Setting) -> str:
    """The question where the value is missing."""
    asked = "Which city’s time?" if setting is Setting.TIMEZONE else "To what?"
    return f"{asked} Say it, such as: {_EXAMPLES[setting]}"


def other_end(value: str) -> tuple[str, tuple[()], str]:
    """The question where only one end of the quiet hours is known, and the message that its answer completes."""
    starts, _, ends = value.partition("-")
    if starts:
        return f"Quiet from {starts} until when? Say it, such as: 7am", (), f"quiet hours {starts} to {{}}"
    return f"Quiet until {ends} from when? Say it, such as: 10pm", (), f"quiet hours {{}} to {ends}"


def bad_value(setting: Setting, value: str) -> str:
    """A value that the setting cannot have."""
    return f"“{value}” cannot be the {SETTING_NAMES[setting]}. What works: {_EXAMPLES[setting]}"


def set_answer(setting: Setting, before: Settings, after: Settings) -> str:
    """The echo of a setting, with what it was."""
    now, was = _value(setting, after), _value(setting, before)
    same = value_of(before, setting) == value_of(after, setting)
    told = f"{capital(SETTING_NAMES[setting])}: {now}" + (
        ", as before." if same else f" (was {was})." if was != now else "."
    )
    if setting is Setting.TOPIC and after.alerts_a_day == 0:
        return f"{told} Deal alerts are off; to have them say: {_EXAMPLES[Setting.ALERTS_A_DAY]}"
    return told + (" Amounts in the books are not converted." if setting is Setting.CURRENCY and was != now else "")


def set_summary(setting: Setting, after: Settings) -> str:
    """The line that names it when taken back."""
    return f"{SETTING_NAMES[setting]} {_value(setting, after)}"


def collected(end: str) -> str:
    """The end of a season as the collection day."""
    return f"Collection day is {month_day(end)}."


SAY_IT_THERE = "Say that in the group’s chat, in the topic where my alerts are to come."
"""Said to somebody who says "post alerts here" in a private chat."""


def currency_in_use(now: str, wanted: str) -> str:
    """A currency whose coins are of another size."""
    return f"The books hold amounts in {now}, and {wanted} has coins of another size: start a new group for it."
