"""``set_setting``: an administrator says how the clerk is to work for the group."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Ask, Desk, NewGoal, NewSetting, Record
from bot.skills.house import settings_wording as wording
from bot.skills.house.orders import is_order
from bot.skills.house.runs_said import is_for_a_while
from bot.skills.house.setting_words import ORDERING, SUMMARY, WEEKDAYS_SAID
from bot.skills.house.settings_said import HERE, VALUES
from bot.storage.prices import anything_priced
from core.choices import OFF, BadChoiceError, Setting, chosen, completed, value_of
from core.day_rules import DayRule, Fixed, next_on
from core.money import Currency


@dataclass(frozen=True, slots=True)
class SetTo:
    """A setting and its value, as core.choices writes it; a season may have its end behind a stroke."""

    setting: Setting
    value: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``set_setting``."""
        del currency
        return {"setting": self.setting.value, "value": self.value}


def _set(setting: Setting, *, sure: bool = False) -> Callable[[Heard], Sequence[SetTo | Unclear]]:
    """What a message sets a setting to; ``sure`` forms ask where the value is missing, others are silent."""

    def build(heard: Heard) -> Sequence[SetTo | Unclear]:
        asks = heard.asked and not sure and not _POLITELY & set(heard.said)
        if asks or not _is_meant(heard, setting):
            return []
        value = VALUES[setting](heard)
        if value is None:
            return [Unclear(wording.to_what(setting), (), wording.HOLES[setting], words=True)] if sure else []
        if value in (OFF, "0") and is_for_a_while(heard):
            asked_for = setting is not Setting.ALERTS_A_DAY or ORDERING & set(heard.said)
            return [Unclear(wording.for_good(setting))] if asked_for and setting in wording.OFF_EXAMPLES else []
        return [SetTo(setting, value)]

    return build


def _is_meant(heard: Heard, setting: Setting) -> bool:
    """Whether it is said to the clerk; what is said of sales is told from talk by its form alone."""
    return setting is Setting.LEAD_DAYS or is_order(heard, setting)


_POLITELY = frozenset("might could can would may please pls".split())
"""Words that make a question a request."""
_NEVER = (
    "from|at my|the bank|phone|school|office|work",
    "ill|i|he|she|they do|write|read",
    "who|what|whats|when|whens|which|how|why",
    "did|was",
    "babys|babies|kids|mums|cousins|uncles",
    "my|his|her|their quiet|alert|alerts|season|summary|country|tax|time",
)
_NEVER_A_ZONE = (*_NEVER, "cousin|cousins|uncle|aunt|sister|brother|friend", "explain|behind", "a time")
_HOURS_LEADS = "between|from|after|before|past|until"
_SIGN = "reaction|reactions|thumb|thumbs|emoji|emojis"
_PUT = "post|put|send|move|drop|keep|show|want|bring|place|write|make|have"
_WHERE = "here|this|topic|thread|main|general"
_SET = "set|make|change|switch|put|move|use|turn|keep|want|get|give|go|have|adjust"


def _form(setting: Setting, name: str, *cues: str) -> Form:
    """A form of one setting; the parts of a sentence may set several."""
    return Form("set_setting", name, _set(setting), cues=cues, never=_NEVER, strange=6, apart=True)


def _asking(setting: Setting, name: str, *cues: str) -> Form:
    """One that asks for the value where none is said."""
    return replace(_form(setting, name, *cues), build=_set(setting, sure=True))


FORMS = (
    replace(
        _form(
            Setting.QUIET_HOURS,
            "quiet hours",
            "quiet|quite hours|hour|time|hrs",
            "shush|hush|silence|mute between|from|after",
            "u|you can text|post|message|write at night",
            "be|stay|keep quiet|silent from|between|after",
            "quiet|silent|silence|nothing|peep|messages|message|msgs|posts|post|pings|buzzing * between|from|after",
            f"no|not * messages|msgs|posts|pings|peep|noise|alerts|notifications|texts * {_HOURS_LEADS}",
            f"dont|do|never|not|stop * post|message|msg|write|text|buzz|ping|bother|disturb|wake|send * {_HOURS_LEADS}",
            f"no|stop posting|messaging|texting|pinging|writing * {_HOURS_LEADS}",
            "^do not disturb",
            "^dnd|mute",
        ),
        strange=9,
        never=(*_NEVER, "text|message|call|wake|write|ping|buzz|disturb|messaging|texting me"),
    ),
    replace(
        _asking(
            Setting.QUIET_HOURS,
            "change the quiet hours",
            f"{_SET} * quiet hours",
        ),
        never=(*_NEVER, "babys|kids|school"),
    ),
    replace(
        _form(
            Setting.SUMMARY,
            "when the summary comes",
            f"{SUMMARY} * on|at|to|come|comes|off",
            f"{_SET} * {SUMMARY}",
            f"stop|no|skip|cancel|drop|end|delete|remove|kill * {SUMMARY}",
            f"{SUMMARY} * dont|do|not send|post|want",
            f"{SUMMARY} * reach|moved|sent|delivered|arrive",
            f"{SUMMARY} 1|2|3|4|5|6|7|8|9|10|11|12",
            f"{SUMMARY} every|each",
            f"{SUMMARY} on|at|{WEEKDAYS_SAID}",
            f"{_SET}|send|post * {SUMMARY} * {WEEKDAYS_SAID}",
            f"{SUMMARY} * on|back|again",
            f"dont|not * send|post|show|give|need|want * {SUMMARY}",
            f"start|resume|restart|enable|bring * {SUMMARY}",
        ),
        strange=8,
        never=(*_NEVER, f"in|a|one|short|quick {SUMMARY}"),
    ),
    replace(
        _asking(
            Setting.SUMMARY,
            "change the summary",
            f"set|change|move * {SUMMARY} * to|day|time|hour|different",
        ),
        strange=8,
    ),
    replace(
        _form(
            Setting.ALERTS_A_DAY,
            "how many alerts",
            "max|maximum|most|limit|only|no|than|up|to * alert|alerts",
            "alert|alerts a|per|each|every|in day|one",
            "alert|alerts * max|maximum|tops|most|limit|at|enough|daily",
            "alert|alerts * for|a|per each|day",
            "limit * alert|alerts",
            f"{_SET} * alert|alerts",
            "stop|no|turn|switch|start|enable|disable|mute|unmute|resume * alerts",
            "^alerts on|off|back|again",
            "alert|alerts on|off",
            "no|without|remove|lift limit|limits|cap|max * alert|alerts",
            "unlimited|all|every * alerts|alert",
            "give|send|show|post * all|every alerts|alert",
            "as many * alerts * as",
        ),
        never=(*_NEVER, "weather|storm|tornado|flood|amber|test|phones|news|traffic"),
    ),
    replace(
        _form(
            Setting.LEAD_DAYS,
            "how long before a sale",
            "warn|tell|remind|warning|notice|heads * days|day|week before|ahead|early|in|warning|notice|up",
            "days|day warning|notice|ahead|before * sale|sales|window|windows",
            "days|day|week * ahead|before|advance|warning|notice * sale|sales|window|windows",
            "sale|sales|window|windows * days|day|week ahead|before|early|in",
            "lead days|time|day",
            "days|day|week b 4 * sale|sales|window|windows",
            "warning|notice before|of|ahead * sale|sales|window|windows",
            "remind|tell|warn too early|late",
            "notice of sale|window|windows|sales",
        ),
        strange=5,
        never=(*_NEVER, "remind us|me * easter|christmas|halloween|thanksgiving", "price|prices"),
    ),
    replace(
        _form(
            Setting.ROUNDING,
            "how unit prices are shown",
            "round|rounding * price|prices|cents|cent|penny|tenth|up|whole|pence|unit",
            "unit|prices * to|in the|a|whole|tenths tenth|cent|of",
            "show * price|prices * tenth|tenths|whole",
            "tenth|tenths|part of|to a|the * cent|penny",
            "unit price|prices * up to",
            "round * up * cent|penny|whole|full",
            "price|prices * tenth|tenths",
        ),
        never=(*_NEVER, "round|rounds of|the|trip|table|corner"),
    ),
    replace(
        _form(
            Setting.CURRENCY,
            "the currency",
            f"{_SET} * currency",
            "the|our currency is|to|=|:",
            "use|set * dollar|dollars|euro|euros|pounds|pesos|francs",
            "currency is|to|=|:",
            "we pay|buy in",
            "currency",
            "prices|amounts|money|all|everything * in * dollar|dollars|euro|euros|pounds|pesos|francs",
        ),
        strange=6,
    ),
    _asking(Setting.CURRENCY, "change the currency", "set|change|switch * currency", "our currency is|to|=|:"),
    replace(
        _form(
            Setting.TAX_RATE,
            "the tax rate",
            "sales tax|vat|gst|hst is|here|to|at|=|:",
            "tax|vat|gst|hst * is|at|to|stands|now|rate",
            f"{_SET} * tax|vat|gst|hst",
            f"{_SET} * tax|vat|gst|hst|rate to|at",
            "tax rate",
            "no|remove|delete|drop|cancel|without sales|the tax|vat|gst|hst|rate",
            "no|remove|delete|drop|cancel * tax|vat|gst|hst rate",
            "we|were are|r tax exempt",
            "were tax exempt",
            "take off the * tax|vat|gst|hst",
            "we dont|do * pay tax|vat|gst|hst|sales",
            "^no tax|vat|gst|hst",
            "^tax|vat|gst|hst",
            "sales tax",
            "vat|gst|hst|tax 0|1|2|3|4|5|6|7|8|9|10|15|20|17.5|12.5|7.75",
            "levies|charges",
        ),
        never=(
            *_NEVER,
            "tax|vat|gst * in|on",
            "plus|including|incl|with|before|after tax|vat|gst",
            "bought|paid|got|spent",
        ),
    ),
    replace(
        _form(
            Setting.COUNTRY,
            "the country",
            f"{_SET} * country|counrty",
            "country is|to|=|:",
            "^country",
            "we|were|group buy|shop in",
        ),
        strange=4,
        never=(*_NEVER, "country music|club|side|house|walk|fair|road", "holiday|vacation|trip|visit|weekend|film"),
    ),
    replace(
        _form(
            Setting.TIMEZONE,
            "the time zone",
            "time zone|zones",
            "timezone",
            "on|in|to|use|by|at * time from|now|please|zone",
            f"{_SET} * time zone|to",
            "put|set us|me|group on|to|in * time",
            "use|set|switch|change|go * time",
        ),
        strange=7,
        never=_NEVER_A_ZONE,
    ),
    replace(
        _asking(
            Setting.TIMEZONE,
            "change the time zone",
            "set|change|switch * timezone|zone",
            "^timezone|zone",
            "^time zone",
            "our timezone|zone",
            "our time zone",
        ),
        strange=2,
        never=(*_NEVER_A_ZONE, "zones"),
    ),
    replace(
        _form(
            Setting.SEASON,
            "the packing season",
            "season is|starts|begins|goes|runs|ends|from|lasts|opens|:|=",
            "packing season|seasson",
            "season * from|starts|begins|runs",
            f"{_SET} * season",
        ),
        strange=6,
        never=(
            *_NEVER,
            "season 1|2|3|4|5|6|7|8|9|one|two|three is|starts|begins|ends|comes",
            "football|hockey|baseball|soccer|flu|wedding|tv|series|ticket|tickets",
            "budget",
        ),
    ),
    replace(
        _form(
            Setting.REACTIONS,
            "a sign in place of words",
            f"just|only|{_SET} * react|reacting * price|prices",
            "react|reacting to|on * price|prices",
            f"just|only {_SIGN}",
            f"{_SIGN} on|off",
            f"turn|switch|set|use|enable|disable|stop * {_SIGN} * on|off|please|pls|price|prices",
            f"turn|switch|no|stop|use|enable|disable on|off|more|using|the {_SIGN}",
            f"^no|use|enable|disable {_SIGN}",
            f"answer|reply|respond * price|prices * word|words|text|{_SIGN}",
            "answer|reply|respond|answering|replying to|on|all|every|each * price|prices",
            "answer|reply|respond every|each|all price|prices",
            f"{_SIGN} * for|on|to * price|prices",
        ),
        strange=2,
        never=(
            *_NEVER,
            "i|we|he|she|they|you|people|customers|shops|stores|kids|everyone react|answer|reply|respond",
            "allergic|chain|skin|bad|chemical|nasty reaction|reactions",
            "my|his|her|their|your reaction|reactions|answer",
        ),
    ),
    replace(
        _form(
            Setting.TOPIC,
            "where alerts go",
            f"{_PUT} * alert|alerts * {_WHERE}",
            f"alert|alerts * go|goes|belong|come|posted|sent|move|moved|stay|back * {_WHERE}",
            "alert|alerts here|in|into|to|back * topic|thread|main|general|please|pls",
            "alert|alerts here",
            "use|make this topic|thread * for alerts",
        ),
        strange=2,
        never=(
            *_NEVER,
            "weather|storm|tornado|flood|amber|test|phones|news|traffic|i|im|we|get|getting|got",
            "max|maximum|most|limit|day|daily|than",
        ),
    ),
)
TEACH = (
    ("quiet hours 10pm to 7am", "administrators set these; also: summary on fridays at 5pm, at most 2 alerts a day"),
)


def answer(slots: SetTo, desk: Desk) -> Answer | Ask:
    """Set it, where the speaker may; ask where half of it is missing; say who can, where the speaker may not."""
    value = completed(desk.settings, slots.setting, slots.value)
    if value is None and desk.may_set:
        return Ask(*wording.other_end(slots.value), words=True)
    return set_to(SetTo(slots.setting, value or slots.value), desk)


def set_to(slots: SetTo, desk: Desk) -> Answer:
    """Set it to a whole value, where the speaker may."""
    if not desk.may_set:
        return Answer(wording.who_can(desk.administrators))
    value, end = slots.value, ""
    if slots.setting is Setting.TOPIC and value == HERE:
        if desk.books.chat != desk.books.home:
            return Answer(wording.SAY_IT_THERE)
        value = desk.topic or OFF
    if slots.setting is Setting.SEASON:
        value, _, end = slots.value.partition("/")
    try:
        changed = chosen(desk.settings, slots.setting, value)
    except BadChoiceError:
        return Answer(wording.bad_value(slots.setting, value))
    if slots.setting is Setting.CURRENCY and _would_mean_other_amounts(changed.currency, desk):
        return Answer(wording.currency_in_use(desk.settings.currency.code, changed.currency.code))
    records: list[Record] = [NewSetting(slots.setting, value_of(changed, slots.setting))]
    if end:
        records += _collections(end, desk)
    text = wording.set_answer(slots.setting, desk.settings, changed)
    also = wording.collected(end) if end else ""
    return Answer(" ".join(filter(None, (text, also))), tuple(records), wording.set_summary(slots.setting, changed))


def _would_mean_other_amounts(wanted: Currency, desk: Desk) -> bool:
    """Whether the books hold amounts that would mean something else in the other currency's coins."""
    return wanted.digits != desk.settings.currency.digits and anything_priced(desk.books)


def _collections(end: str, desk: Desk) -> list[Record]:
    """The end of the season as the collection day of all kits."""
    month, day = map(int, end.split("-"))
    due: date | None = next_on(DayRule(Fixed(month, day)), desk.settings.country, desk.today)
    return [NewGoal(kit.name, kit.goal, due) for kit in desk.group.kits if due]


KIND = Kind("set_setting", FORMS, answer, TEACH)
