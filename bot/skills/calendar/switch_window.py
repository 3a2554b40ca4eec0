"""``switch_window``: the group does not care for a yearly sale, or does so again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.open_questions import PATIENCE
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.occasions import SALE_NOUNS, SALES
from bot.reading.offers import Unclear
from bot.reading.presence import marked_down
from bot.reading.words import Sort
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.known_sales import no_such_sale
from bot.skills.calendar.sales_said import occasions_in, rules_called, stranger_in
from bot.storage.calendar import windows_of
from bot.storage.entries import last_entry
from core.money import Currency
from core.windows import WindowRule


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


def _by_name(heard: Heard) -> Sequence[Switch]:
    """A sale with the word on or off at its side: "turn the tent sale back on", "tent sale off"."""
    bare = heard.marked.bare()
    found = []
    for start, end, one in occasions_in(heard) or filter(None, [stranger_in(heard)]):
        first, last = start, end
        while bare.text_at(first - 1) in _POINTS:
            first -= 1
        while bare.text_at(first - 1) in _WAYS:
            first -= 1
        while bare.text_at(last) in _WAYS:
            last += 1
        ways = [bare.text_at(at) for at in (*range(first, start), *range(end, last)) if bare.text_at(at) in _WAYS]
        told = bare.text_at(first - 1) in _VERBS or (bool(one.rules) and first == heard.reach[0])
        if ways and told and one.sale and _closes(heard, last):
            found.append(Switch(one.words, all(_WAYS[way] for way in ways)))
    return found


def _dropped(heard: Heard) -> Sequence[Switch]:
    """A sale that somebody wants deleted: it is switched off, for its name stands in the books."""
    bare = heard.marked.bare()
    found = []
    for start, end, one in occasions_in(heard):
        first = start
        while bare.text_at(first - 1) in _POINTS:
            first -= 1
        if bare.text_at(first - 1) in _DROPS and one.sale and _closes(heard, end):
            found.append(Switch(one.words, on=False))
    return found


def _closes(heard: Heard, index: int) -> bool:
    """Whether a sentence ends here, but for small words."""
    marked = heard.marked
    ended = index >= heard.reach[1] or marked.tokens[index].sort is Sort.STOP
    return ended or marked.text_at(index) in _SMALL


_WAYS = {"on": True, "back": True, "again": True, "off": False, "of": False, "out": False}
_VERBS = frozenset("switch swtich turn trun put bring take pop".split())
_DROP = "delete|remove|drop|scrap|erase|cancel|ditch|axe|bin"
_DROPS = frozenset((*_DROP.split("|"), "rid"))
_POINTS = frozenset("the our that this those these all of my".split())
_SMALL = frozenset(", please pls plz for from now and too then again thanks thx ok okay we".split())


def _the_last(heard: Heard) -> Sequence[Switch]:
    """The sale spoken of last: nothing but "switch it back on"."""
    words = [word for word in heard.said if word not in _SMALL and word not in _CALLS]
    shape = [word for word in words if word not in ("back", "again", "window", "one", "sale")]
    if len(shape) != len(_SHAPE) or not all(word in of for word, of in zip(shape, _SHAPE, strict=True)):
        return []
    return [Switch("", shape[-1] == "on")]


_CALLS = frozenset("actually oh no wait hm hmm sorry clerk yes".split())
_SHAPE = (_VERBS, frozenset(("it", "that", "them", "this")), frozenset(("on", "off")))


def _switch(heard: Heard, *, on: bool) -> Sequence[Switch | Unclear]:
    named = occasions_in(heard)
    if marked_down(heard.marked, heard.reach):
        return []
    if not named:
        said = set(heard.said)
        of_glass = "close" in said and not SALE_NOUNS & said - {"window", "windows"}
        if of_glass or not ("window" in said or {"windows", "sale"} <= said):
            return []
        if stranger := stranger_in(heard):
            return [Switch(stranger[2].words, on)]
        return [Unclear(wording.WHICH_WINDOW, (), f"switch the {{}} sales {'on' if on else 'off'}", words=True)]
    return [Switch(one.words, on) for _, _, one in named]


_SALE = f"{SALES}|one|ones"
_TALK = ("who|what|when|whens|how|why|did", "ac|tv|light|lights|heating|oven|phone")
FORMS = (
    Form(
        "switch_window",
        "a sale is switched by its name",
        _by_name,
        cues=("switch|swtich|turn|trun|put|bring|take|pop", f"{SALES} back|on|off"),
        never=_TALK,
        strange=8,
    ),
    Form(
        "switch_window",
        "a sale is dropped",
        _dropped,
        cues=(
            f"{_DROP} * {SALES}",
            f"{_DROP} * {SALES} from|off the|our list|calendar|windows|books",
            f"rid of * {SALES}",
        ),
        never=_TALK,
        strange=5,
    ),
    Form(
        "switch_window",
        "the sale spoken of last",
        _the_last,
        cues=("switch|turn|put|bring it|that|them|this",),
        never=_TALK,
        strange=1,
    ),
    Form(
        "switch_window",
        "a sale is not cared for",
        _off,
        cues=(
            f"switch|turn|trun|take off|of|out * {_SALE}",
            f"switch|turn|take * {_SALE} off|out",
            f"dont|no|not|nobody|never * bother|tell|care|want|wants|remind|need|interested * {SALES}|any",
            "dont|do bother|tell|remind|nag us|me|everyone about|with|of",
            f"skip|drop|ignore|forget|mute * {SALES}",
            f"stop * {SALES}",
            f"mute|deactivate|disregard|disable|close|kill|cut|end|silence * {_SALE}",
            f"{_SALE} * disregarded|muted|ignored",
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
            f"nobody|noone|none * want|wants|needs|likes * {SALES}",
        ),
        never=(
            "who|what|when|whens|how|why",
            "put|switch|turn|bring|switched|turned * on|again",
            "put|switch|turn|bring|switched|turned back",
            "did|we went",
            "at the|a",
            "stop|drop by|in|into|off",
            "i|im|ill * not|never|wont * going|go",
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
            f"switch|turn|put|bring * {_SALE} on|back",
            f"interested|tell|care * again * {SALES}",
            "interested again in",
            f"want|like|hear * {SALES} * back|again|once|more",
            f"renew|revive|unmute|activate|restore|reactivate|enable * {_SALE}",
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


def answer(slots: Switch, desk: Desk) -> Answer | None:
    """Switch every sale that is called so on or off; one that was not spoken of right before stays as it is."""
    rules = rules_called(slots.window, desk.group.window_rules) if slots.window else _spoken_of(desk)
    if not rules:
        return no_such_sale(slots.window, desk) if slots.window else None
    changed = tuple(replace(rule, on=slots.on) for rule in rules if rule.on != slots.on)
    text = "\n".join(wording.switched(replace(rule, on=slots.on)) for rule in rules)
    return Answer(text, changed, ", ".join(map(wording.window_summary, changed)))


def _spoken_of(desk: Desk) -> list[WindowRule]:
    """The sales that the last entry changed, if that was a moment ago."""
    last = last_entry(desk.books, None)
    if last is None or last.undone_at is not None or desk.at - last.at > PATIENCE:
        return []
    return windows_of(desk.books, last.number)


KIND = Kind("switch_window", FORMS, answer, TEACH)
