"""``ask_windows``: someone asks which sales come next, or when one of them starts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.occasions import SALE_NOUNS, SALES
from bot.reading.strangers import unknown_store
from bot.reading.words import lexicon
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.known_sales import no_such_sale
from bot.skills.calendar.sales_said import occasions_in, rules_called, stranger_in
from bot.skills.calendar.stretch_said import UNTIL, stretch_in
from bot.skills.supply import Supply
from core.money import Currency
from core.windows import SaleWindow, next_windows, windows_between


@dataclass(frozen=True, slots=True)
class AskWindows:
    """The feast or sale asked about, as written; None for whichever comes next, or is on from one day to another.

    ``off`` asks for those that the group does not care for.
    """

    event: str | None = None
    days: tuple[date, date] | None = None
    off: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``ask_windows``."""
        del currency
        if self.off:
            return {"off": True}
        if self.event is not None:
            return {"event": self.event}
        return {"from": self.days[0].isoformat(), "until": self.days[1].isoformat()} if self.days else {}


def _windows(heard: Heard) -> Sequence[AskWindows]:
    told = occasions_in(heard)
    if _goes_on_sale(heard) and not _is_a_question(heard):
        return []
    if any(one.sale or not _is_an_end(heard, start) for start, _, one in told):
        return [AskWindows(one.words) for _, _, one in told]
    if stranger := stranger_in(heard):
        return [AskWindows(stranger[2].words)]
    return [AskWindows(days=stretch_in(heard))]


def _things_on_sale(heard: Heard) -> Sequence[AskWindows]:
    """Whether things in general go on sale; in one shop, people know and the calendar does not."""
    there = named(heard.marked, heard.reach, NameSort.STORE) or unknown_store(heard.marked, heard.reach)
    return _windows(heard) if _is_a_question(heard) and not there else []


def _goes_on_sale(heard: Heard) -> bool:
    """Whether something is spoken of that is "on sale", not a sale."""
    said = heard.said
    return any(before == "on" and noun in SALE_NOUNS for before, noun in pairwise(said))


def _is_a_question(heard: Heard) -> bool:
    """Whether a stretch opens as a question does: "anything on sale", not "that lamp is on sale"."""
    before = lexicon()["openers"] | lexicon()["kind"]
    opens = next((word for word in heard.said if word in _ASKING or word not in before), "")
    return opens in _ASKING


_ASKING = frozenset(
    "what whats which when whens where is are isnt arent will wont does do any anything something much stuff list show"
    " have has how next".split()
)


def _is_an_end(heard: Heard, start: int) -> bool:
    """Whether a feast ends the days asked about: "any sales before christmas"."""
    return heard.marked.text_at(start - 1) in UNTIL and bool(SALE_NOUNS & set(heard.said))


def _of_days(heard: Heard) -> Sequence[AskWindows]:
    days = stretch_in(heard)
    return [AskWindows(days=days)] if days else []


def _off(heard: Heard) -> Sequence[AskWindows]:
    return [] if occasions_in(heard) else [AskWindows(off=True)]


def _name_alone(heard: Heard) -> Sequence[AskWindows]:
    """Nothing but the name of a sale; with a question mark it may be one that nobody knows."""
    named = occasions_in(heard) or ([stranger] if heard.asked and (stranger := stranger_in(heard)) else [])
    if len(named) != 1 or not named[0][2].sale:
        return []
    start, end, one = named[0]
    ahead = all(heard.marked.text_at(index) in ("the", "our") for index in range(heard.reach[0], start))
    return [AskWindows(one.words)] if ahead and end >= heard.reach[1] else []


def _of_event(heard: Heard) -> Sequence[AskWindows]:
    """Only where a feast or sale is named, and something of a sale is said."""
    named = [found for found in occasions_in(heard) if found[2].sale or not _is_an_end(heard, found[0])]
    said = set(heard.said)
    starts = any(_starts_itself(heard, end) for _, end, _ in named)
    if not named or not (starts or said & _OF_A_SALE or any(one.sale for _, _, one in named)):
        return []
    return [AskWindows(one.words) for _, _, one in named]


def _starts_itself(heard: Heard, end: int) -> bool:
    """Whether it is the feast that starts, and not what follows its name: "when does christmas mass start"."""
    said = {"start", "starts"} & set(heard.said)
    return bool(said) and (end >= heard.reach[1] or heard.marked.text_at(end) in lexicon()["filler"] | said)


_OF_A_SALE = frozenset(
    f"{SALES}|reductions|things|thigns|75|quarters|stuff|bits|marked|reduced|half|discount|discounts|cheap"
    "|cheaper".split("|")
)
_STARTS = "start|starts|begin|begins|beginns|kick|open|opens|come|comes|due|on|happen|happening|starting"
_OF_PEOPLE = f"my|your|his|her|their * {SALES}"
_THINGS = "anything|something|stuff|things|supplies|bits"
_DROPPING = f"{_THINGS} * on|marked|reduced {SALES}|down|soon|again|next"
_ORDERS = "^switch|turn|put|bring|take|add|move|change|delete|remove|drop|cancel"
"""What is said of a sale, and asks for nothing."""

FORMS = (
    Form(
        "ask_windows",
        "which sales are switched off",
        _off,
        cues=(
            f"which|what|whats|any|list|show|see|are|is * {SALES} * switched|turned off",
            f"which|what|any|list|show * {SALES} * muted|disabled|ignored|skipped|skipping|skip|ignore",
            f"which|what|any|list|show * muted|disabled|ignored {SALES}",
            "which ones * switched|turned off",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=("why", "power|water|heating|lights|light"),
        strange=1,
    ),
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
            "sales tax|job|jobs|team|rep|assistant|people",
            "^remember",
            "what|whats do|did|need|on|for|we",
            "was|were",
            _OF_PEOPLE,
            _ORDERS,
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
            f"{SALES} dates|calendar|schedule",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "who|why",
            "did|was|were",
            "for sale",
            "sales tax|job|jobs|team|rep|assistant|people",
            f"add|new|put|switch|turn * {SALES}",
            "how many days|long before",
            "the|my|your|our|his|her front|back|car|kitchen|shop|store|bus|bathroom|bedroom",
            "clean|open|shut|close|wash * window|windows",
            _OF_PEOPLE,
            _ORDERS,
        ),
        strange=2,
    ),
    Form(
        "ask_windows",
        "whether things go on sale",
        _things_on_sale,
        cues=(
            _DROPPING,
            f"school|art|craft|bath|holiday|office {_DROPPING}",
            f"{_DROPPING} * soon",
            f"{_THINGS} on {SALES}",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "who|why",
            "did|was|were|went",
            "i|we|he|she|they|you saw|bought|got|want|need|like",
            _OF_PEOPLE,
            _ORDERS,
        ),
        strange=0,
    ),
    Form(
        "ask_windows",
        "when an item goes on sale",
        _things_on_sale,
        cues=(f"when|whens|year|month|season|time * on|marked|reduced {SALES}|down|again|next",),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("who|why", "did|was|were|went|got", _OF_PEOPLE, _ORDERS),
        strange=1,
    ),
    Form("ask_windows", "a sale by its name alone", _name_alone, cues=(SALES,), strange=5),
    Form(
        "ask_windows",
        "the sales of some days",
        _of_days,
        cues=("^sales|clearances|markdowns|windows in|this|next|during|for|on",),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        strange=1,
    ),
)
TEACH = (("when do the christmas markdowns start?", "with what we are short of; also: which sales come next?"),)
_NEXT = 4


def answer(slots: AskWindows, desk: Desk) -> Answer:
    """Tell the sales to come, those of the days asked about, or that one, with what is short that drops then."""
    supply = Supply(desk)
    if slots.off:
        return Answer(wording.switched_off([rule.name for rule in desk.group.window_rules if not rule.on]))
    if slots.event is not None:
        return _of_that(slots.event, supply)
    if slots.days is not None:
        return _within(slots.days, supply)
    told = supply.windows[:_NEXT]
    return Answer(_told(told, supply) if told else wording.NO_WINDOWS)


def _of_that(event: str, supply: Supply) -> Answer:
    desk = supply.desk
    meant = rules_called(event, desk.group.window_rules)
    if not meant:
        return no_such_sale(event, desk)
    told = next_windows(meant, desk.settings.country, desk.today)
    return Answer(_told(told, supply) if told else wording.switched_off_window(meant[0]))


def _within(days: tuple[date, date], supply: Supply) -> Answer:
    desk = supply.desk
    told = windows_between(desk.group.window_rules, desk.settings.country, *days)
    if told:
        return Answer(_told(told, supply))
    after = next((window for window in supply.windows if window.starts > days[1]), None)
    line = wording.window_line(after, desk.settings, desk.today) if after else ""
    return Answer(wording.none_on(days, line, desk.settings, desk.today))


def _told(windows: Sequence[SaleWindow], supply: Supply) -> str:
    listed = [(window, supply.to_look_for(window)) for window in windows]
    return wording.windows_answer(listed, supply.desk.settings, supply.desk.today)


KIND = Kind("ask_windows", FORMS, answer, TEACH)
