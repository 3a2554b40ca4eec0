"""``switch_window``: the group does not care for a yearly sale, or does so again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.occasions import SALES
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.sales_said import occasions_in, rules_called
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Switch:
    """The sale, as written, and whether the clerk shall speak of it."""

    window: str
    on: bool

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``switch_window``."""
        del currency
        return {"window": self.window, "on": self.on}


def _off(heard: Heard) -> Sequence[Switch | Unclear]:
    return _switch(heard, on=False)


def _on(heard: Heard) -> Sequence[Switch | Unclear]:
    return _switch(heard, on=True)


def _switch(heard: Heard, *, on: bool) -> Sequence[Switch | Unclear]:
    named = occasions_in(heard)
    if not named:
        said = set(heard.said)
        which = Unclear(wording.WHICH_WINDOW, (), f"switch the {{}} sales {'on' if on else 'off'}", words=True)
        return [which] if "window" in said or {"windows", "sale"} <= said else []
    return [Switch(one.words, on) for _, _, one in named]


_SALE = f"{SALES}|one|ones"
FORMS = (
    Form(
        "switch_window",
        "a sale is not cared for",
        _off,
        cues=(
            f"switch|turn|trun|take off|of|out * {_SALE}",
            f"switch|turn|take * {_SALE} * off|out",
            f"{SALES} off",
            f"dont|no|not|nobody|never * bother|tell|care|want|wants|remind|need|interested * {SALES}|any",
            "dont|do bother|tell|remind|nag us|me|everyone about|with|of",
            f"skip|drop|ignore|forget|mute * {SALES}",
            f"stop * {SALES}",
            f"mute|deactivate|disregard|disable|close|kill|cut|end|silence * {_SALE}",
            f"{_SALE} * disregarded|muted|off|ignored|closed",
            f"{SALES} = off",
            f"{SALES} * not for us",
            "not|shant|wont|never * going|go * sales|clearance",
            "no need to mention|tell|remind",
            "mute|deactivate|disable the|all|our",
            "switch|turn|trun off",
            f"no more * {SALES} * nags|reminders|posts|please|pls|?",
            f"no more * {SALES}",
            f"no interest|use * {SALES}",
            f"{SALES} we|have * no interest",
            f"want|wants|wanted * {SALES} * any|no more|longer",
            f"nobody|noone|none * {SALES}",
        ),
        never=(
            "who|what|when|whens|how|why",
            "put|switch|turn|bring|switched|turned * on|again",
            "put|switch|turn|bring|switched|turned back",
            "did|we went",
            "at the|a",
            "ac|tv|light|lights|heating|oven|phone",
        ),
        strange=8,
    ),
    Form(
        "switch_window",
        "a sale is cared for again",
        _on,
        cues=(
            f"switch|turn|put|bring on|back * {_SALE}",
            f"switch|turn|put|bring * {_SALE} * on|back",
            f"{SALES} back|on",
            f"interested|tell|care * again * {SALES}",
            "interested again in",
            f"want|like|hear * {SALES} * back|again|once|more",
            f"unmute|activate|restore|reactivate|enable * {_SALE}",
            f"{SALES} * again|please * activate|on",
            f"{SALES} we want * again|back",
            f"tell|telling * {SALES} again",
            "is back in",
            "switch|turn * back on",
            "put|pop * back on the list",
            "back on the list of sales",
        ),
        never=("who|what|when|whens|how|why", "is|are|was|were on", "switch|turn|leave * off"),
        strange=8,
    ),
)

TEACH = (("switch off the halloween window", "no more of that sale; also: turn the easter window back on"),)


def answer(slots: Switch, desk: Desk) -> Answer:
    """Switch every sale that is called so on or off."""
    rules = rules_called(slots.window, desk.group.window_rules)
    if not rules:
        names = [rule.name for rule in desk.group.window_rules if rule.on]
        return Answer(wording.no_such_window(slots.window, names))
    changed = tuple(replace(rule, on=slots.on) for rule in rules)
    text = "\n".join(map(wording.switched, changed))
    return Answer(text, changed, ", ".join(map(wording.window_summary, changed)))


KIND = Kind("switch_window", FORMS, answer, TEACH)
