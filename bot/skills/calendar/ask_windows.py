"""``ask_windows``: someone asks which sales come next, or when one of them starts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.occasions import SALES
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.sales_said import occasions_in, rules_called
from bot.skills.supply import Supply
from core.money import Currency
from core.windows import SaleWindow, next_windows


@dataclass(frozen=True, slots=True)
class AskWindows:
    """The feast or sale asked about, as written; None for whichever comes next."""

    event: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``ask_windows``."""
        del currency
        return {} if self.event is None else {"event": self.event}


def _windows(heard: Heard) -> Sequence[AskWindows]:
    named = occasions_in(heard)
    return [AskWindows(one.words) for _, _, one in named] or [AskWindows()]


def _of_event(heard: Heard) -> Sequence[AskWindows]:
    """Only where a feast or sale is named, and something of a sale is said."""
    named = occasions_in(heard)
    said = set(heard.said)
    if not named or not (said & _OF_A_SALE or any(one.sale for _, _, one in named)):
        return []
    return [AskWindows(one.words) for _, _, one in named]


_OF_A_SALE = frozenset(
    f"{SALES}|reductions|things|thigns|75|quarters|stuff|bits|marked|reduced|half|discount|discounts|cheap|cheaper|start"
    "|starts".split("|")
)
_STARTS = "start|starts|begin|begins|beginns|kick|open|opens|come|comes|due|on|happen|happening|starting"

FORMS = (
    Form(
        "ask_windows",
        "when a sale starts",
        _of_event,
        cues=(
            "when|whens|whn|wen|what|whats|wheres|where|which",
            "how many|much|long|far",
            "date|day|dates of|for|when|is|does|do",
            f"{SALES} when|whn|start|date|dates|?",
            "marked|knocked|reduced down|when",
            f"is|are|has|have * {SALES} * {_STARTS}|started|over|yet",
            "tell|know|remind * when",
            "too late for|to",
            "missed|miss|slept|sleep through|thru|the|out|easter|christmas|halloween|valentines|back",
            f"is|are|has|have|does|do * {SALES} * over|finish|finished|done|going|go|way|already|under|running|ended",
            f"{SALES} over|finish|finished|still|already|under|begin|begins|go|goes|on",
            "to|at 75|three|quarter|quarters",
            "last|lasts|go|goes ?|long|on",
            "how soon do|does|will|is|are",
        ),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "who|why",
            "you|u|we doing|going|eat|having|come|coming|cook|cooking",
            "remind us|me|everyone on|in|days|a|the day|week",
            "not for us|me",
            "^remember",
            "what|whats do|did|need|on|for|we",
        ),
        strange=5,
    ),
    Form(
        "ask_windows",
        "which sales come next",
        _windows,
        cues=(
            f"next * {SALES}",
            f"{SALES} next|coming|comming|ahead|soon|up|left",
            f"what|whats|which|wich|when|whens|list|show|any|tell * {SALES}",
            f"what|whats|which|when|any * {SALES} * coming|comming|next|ahead|soon|start|come",
            f"{SALES} * coming|comming|still to|next|ahead|soon",
            "anything|something|much * on|for sale|reduced * soon|next|coming",
            "which|what windows",
            f"any|is|are|some * {SALES} * on|running|going|now|today|rn|still",
            f"{SALES} * still|running|going on|now|?",
            f"{SALES} today|now|this",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "who|why",
            "did|was|were",
            "for sale",
            f"add|new|put|switch|turn * {SALES}",
            "how many days|long before",
            "the|my|your|our|his|her front|back|car|kitchen",
            "clean|open|shut|close|wash * window|windows",
        ),
        strange=2,
    ),
)
TEACH = (("when do the christmas markdowns start?", "with what we are short of; also: which sales come next?"),)
_NEXT = 4


def answer(slots: AskWindows, desk: Desk) -> Answer:
    """Tell the sales to come, or that one, with what is short that usually drops then."""
    supply = Supply(desk)
    rules = desk.group.window_rules
    if slots.event is None:
        told = supply.windows[:_NEXT]
        return Answer(_told(told, supply) if told else wording.NO_WINDOWS)
    meant = rules_called(slots.event, rules)
    if not meant:
        return Answer(wording.no_such_window(slots.event, [window.name for window in supply.windows]))
    told = next_windows(meant, desk.settings.country, desk.today)
    return Answer(_told(told, supply) if told else wording.switched_off_window(meant[0]))


def _told(windows: Sequence[SaleWindow], supply: Supply) -> str:
    listed = [(window, supply.to_look_for(window)) for window in windows]
    return wording.windows_answer(listed, supply.desk.settings, supply.desk.today)


KIND = Kind("ask_windows", FORMS, answer, TEACH)
