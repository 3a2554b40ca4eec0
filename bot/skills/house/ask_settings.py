"""``ask_settings``: someone asks how the clerk is set up for the group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.skills.answering import Answer, Desk
from bot.skills.house import settings_wording as wording
from bot.skills.house.orders import owned_by_another
from bot.skills.house.setting_words import SUMMARY, setting_named
from core.choices import Setting
from core.money import Currency


@dataclass(frozen=True, slots=True)
class AskSettings:
    """The setting asked about, None for all of them; or who may change them."""

    setting: Setting | None = None
    who: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``ask_settings``."""
        del currency
        return {"who": True} if self.who else {"setting": self.setting.value} if self.setting else {}


def _all(heard: Heard) -> Sequence[AskSettings]:
    return [AskSettings(setting_named(set(heard.said)))]


def _one(heard: Heard) -> Sequence[AskSettings]:
    setting = setting_named(set(heard.said))
    if setting is None or owned_by_another(heard, setting) or named(heard.marked, heard.reach, NameSort.MEMBER):
        return []
    return [AskSettings(setting)]


def _who(heard: Heard) -> Sequence[AskSettings]:
    del heard
    return [AskSettings(who=True)]


_NEVER = ("who", "film|movie|book|baby|babys|phone|weather|cousin|cousins|wine|oven|table")
_TOPIC = f"quiet|{SUMMARY}|alert|alerts|rounding|currency|tax|vat|gst|hst|country|zone|timezone|season"

_ADMIN = "admin|admins|administrator|administrators|mod|mods|moderator|moderators"

FORMS = (
    Form(
        "ask_settings",
        "who may change the settings",
        _who,
        cues=(
            f"who|whos|whose|which * {_ADMIN}",
            f"who * change|changes|set|sets * settings|setting|{_TOPIC}",
            f"who * {_ADMIN}",
            f"^make|add|set|give|appoint|name|promote * {_ADMIN}",
            f"how|can|could * {_ADMIN}",
            f"^{_ADMIN} ?",
            f"^list|show * {_ADMIN}",
        ),
        never=("school|church|office|website|page|hospital|work|net|his|her|their|my", "called|sent|said|told|was|did"),
        strange=1,
    ),
    Form(
        "ask_settings",
        "how the clerk is set up",
        _all,
        cues=(
            "show|list|see|what|whats|which|our|the|your|yr|current|all settings|setup|setings|preferences",
            "^settings",
            "how|what * you|u|clerk * set up|configured",
            "settings please|pls|?",
        ),
        never=_NEVER,
        strange=3,
    ),
    Form(
        "ask_settings",
        "how one thing is set",
        _one,
        cues=(
            f"what|whats|when|whens|which|how|wich|wot * {_TOPIC}",
            f"how * change|set|turn|edit|adjust|stop * {_TOPIC}|settings",
            f"what|whats|when|which|how|at * {_TOPIC} * come|on|set|using|use|send",
            "how many|long * days|alerts",
            "when|what|which * you|u|ur|your|are * quiet|silent",
            "remind|tell me|us what * tax|vat|currency|zone",
            "how * round|rounding|rounded",
            "to what * cent|penny * round",
            f"day|time|hour|evening|morning * {SUMMARY}",
            "how late|early can|do|may you|u",
            "when|what are|r|r not|can you|u not|allowed|able",
            "how far ahead|before do|will|are you|u",
            "state|tell|show|give|name the|our|me|us * " + _TOPIC.replace(f"{SUMMARY}|", ""),
            "which|what|wot|wat * " + _TOPIC,
        ),
        never=(
            *_NEVER,
            "plus|with|without|after|before|including tax|vat",
            "until|till|to go|start|starts|clearance|left",
            "much|cost|spent|pay|paid",
            f"whats|what in|s the {SUMMARY} of",
            "what a",
            "next|coming|sales do",
            "post|meet|call|come * when",
            "due|owed|refund|return",
        ),
        strange=4,
    ),
)

TEACH = (("show settings", "how I am set up, and who can change it"),)


def answer(slots: AskSettings, desk: Desk) -> Answer:
    """Tell one setting, or all of them and who can change them."""
    if slots.who:
        return Answer(wording.who_sets(desk.administrators))
    if slots.setting is not None:
        return Answer(wording.one_setting(slots.setting, desk.settings))
    return Answer(wording.all_settings(desk.settings, desk.administrators))


KIND = Kind("ask_settings", FORMS, answer, TEACH)
