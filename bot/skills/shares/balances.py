"""``balances``: someone asks who owes what, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import dropwhile, pairwise

from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.skills.answering import Answer, Desk
from bot.skills.shares import wording
from bot.skills.shares.parties import ME
from bot.skills.shares.sharing import by_name
from bot.skills.shares.standing import balances_now
from bot.storage.ledger import lines_of
from core.ledger import since_square
from core.money import Currency
from core.settling import fewest_payments

_MOST_LINES = 12
"""Entries behind a balance that are told; what came before is told as one sum."""


@dataclass(frozen=True, slots=True)
class Balances:
    """Whose balance is asked for (None: everybody's), and whether the entries behind it are."""

    who: str | None = None
    why: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``balances``."""
        del currency
        slots: dict[str, object] = {} if self.who is None else {"who": self.who}
        return {**slots, "why": True} if self.why else slots


def _balances(heard: Heard) -> Sequence[Balances]:
    marked = heard.marked
    words = heard.said
    why = bool(set(words) & {"why", "because"}) or "how come" in " ".join(words) or "from what" in " ".join(words)
    members = [span.value.name for span in named(marked, heard.reach, NameSort.MEMBER)]
    if _of_self(words):
        return [Balances(ME, why)]
    other = next((name for name in members if name != heard.speaker), None)
    return [Balances(other, why)]


def _of_self(words: list[str]) -> bool:
    """True where the speaker's own balance is asked for."""
    if any(word in ("i", "im", "my", "mine") for word in words):
        return True
    asked = dropwhile(_ASKING.__contains__, words)
    return any(before in _TOWARDS and after == "me" for before, after in pairwise(asked))


_ASKING = frozenset("please pls plz clerk bot and so can could would will you u just give show tell send me us".split())
"""Words of a request, before what is asked for."""
_TOWARDS = frozenset("owe owes owed owing pay give gives to owns due".split())

_NEVER = (
    "this|last week",
    "coast|road|weather|sky|track clear",
    "apology|favour|favor|coffee|coffees|haircut|pint|lunch|pleasure|cake|drink|squash|beer",
    "lost my balance",
    "owe you|u|ya one|a|big|an",
    "balances out",
    "settled on|upon|in|into|down",
    "squared|settled|paid|gave * what * owed|owe",
    "book|enter|record * from|that|she|he",
    "owe|owes the|an|this|you",
    "owed an|this|you",
    "pay|give at",
    "pay|paid for the|a|that|this|our",
    "balance act|of|beam|bike",
    "tab key|on",
    "square dancing|dance|root|metres|meters",
    "stand there|by|in",
    "stand on the|my|his|her|a|your|one|that",
    "is zero",
    "^i am|was",
    "do|did you pay|give",
    "you|he|she|they|i stand that|this|it|the",
    "a|the|my|his|her dance|beer|tea|wine|dinner|cake|explanation|hug",
)
_OF_MONEY = words(
    "money moneywise wise cash financially finances debt debts iou ious unpaid outstanding balance balances accounts"
    " account standing position tally tab"
)

FORMS = (
    Form(
        "balances",
        "who owes what, beside another thing",
        _balances,
        cues=(
            "who|whos * owe|owes|owing who|whom|what",
            "show|tell|give|list * who|whos|what * owe|owes|owing",
            "show|give|send * balances|debts",
            "what do i owe",
            "the|our|my balances|debts",
            "are we square|quits|straight|settled",
            "are we even|square|quits|straight|settled now|then|again",
        ),
        lacks=frozenset((Need.ITEM, Need.AMOUNT)),
        never=_NEVER,
        strange=0,
        apart=True,
    ),
    Form(
        "balances",
        "who owes what",
        _balances,
        cues=(
            "who|whos|what|whats|how|does|do|am|are|is|anyone|anybody|everyone * owe|owes|ows|owed|owing",
            "why|y|come * owe|owes|owed",
            "^balance|balances",
            "balance|balances ?|please|pls|, please|now",
            "current|latest|open balance|balances",
            "have|need to pay anyone|anybody|someone|somebody",
            "what|whats|show|whos|wheres the|our|my|current balance|balances|tab|tabs|accounts|ledger|debts",
            "show|list|provide|give|send|tell * balances|debts|accounts|who",
            "outstanding balance|debt|debts",
            "anything|something|money|balance outstanding",
            "are|is we|everyone|everybody|all * square|quits|straight|settled",
            "^am i * square|quits|straight|settled",
            "are|is we|everyone|everybody|all|* even|square ?|now|with|yet",
            "is|has|have|are * settled|squared|square",
            "how come im|i|i'm * at|down|minus|owing|short",
            "am i in the red|black",
            "who|whos|whose * paid|settled|squared up",
            "who must|should|has|needs pay|to",
            "how much * pay|give|owe|owes|owing|debt",
            "what is|whats * debt|tab|balance",
            "the debt|debts of",
            "settle|square|settling up ?",
            "money to change hands",
            "where|how do|does|we|i * stand",
            "how * stand|standing",
            "money|cash tally|sheet|matters",
            "paid|settled up|everything",
            "money coming|due|back to|from",
            "behind on|with|w",
            "am|is|are|everybody|everyone|all clear|even|quits|square with|now",
            "unsettled debts|balances|accounts",
            "statement of accounts",
            "in the hole|red|black",
            "hole am i",
            "owing wise|so|now|to|and",
            "due money",
            "owed and owing",
            "out of pocket",
            "amounts|anything|something|money|much outstanding|open|owing|due",
            "^debts|balances|tallies",
            "whos|who short|behind|due",
            "who do|does i|we gotta|have|need|must * pay",
            "whats|what|hows * tab|account|balance|position",
            "my position",
            "waiting for money",
            "has|have|did * paid|pay up|back|yet|everyone|everybody|me|us|his|her",
            "has|have|did|is everyone|everybody|anybody|anyone * paid|pay|settled|square",
            "anything|something|nothing left|open * pay|between|settle",
            "what have|do i|we got|have to pay",
            "up or down",
            "list * owes|owe|balances|debts",
            "how much * to pay",
            "who still has|needs|must|owes",
            "any debts|balances|money left|open|outstanding|owing",
            "time to settle up",
            "money standing|standings",
            "where * stand on|with money|payments",
            "what is open for|between|to",
            "got my money",
            "why|how am|are|come i|im * behind|down|short|up",
            "it says im|i'm|i down|up|at|owe",
            "am i even|square|clear",
            "she|he|they owes|owe",
            "how|hows|where|wheres * moneywise|finances|accounts",
            "hows|how|where * money between|looking|standing",
            "hows|how|where * we|us * money",
            "state of the debts|accounts|balances",
            "anything|something|nothing to settle",
            "anyone|anybody|someone|somebody * have|has|need|needs to pay|settle",
            "money|debt|debts list|summary|picture|overview",
            "who|whos * down * who|whos * up",
            "how much am i down|up|short|behind",
            "have|did i pay|paid|settle|settled * share|everything|all|enough",
            "do|have|got i * debts|debt",
            "my tab|balance|account|debts please|pls|plz|now|clerk",
            "my|our share of the debts|debt",
            "how|hows|where|wheres * money|cash|balance wise",
            "money wise * where|how",
            "any|no|outstanding|open|the ious|iou|debts",
            "any|anything|anyone|anybody|who|whos|whats|what * unpaid|outstanding|owed",
            "who|whos|anyone|anybody in debt|arrears",
            "am i in debt|arrears",
            "am i * up to date",
            "am i * money|cash wise",
            "who hasnt|havent|didnt paid|pay|settled",
            "what do|have i * to pay|give",
            "whats|what * my|our debt|debts",
            "how deep am|are i|we",
            "my balance|debts|debt",
            "debts|balances|accounts|ledger|ious please|pls|plz|clerk",
            "accounts settled|straight",
            "money check|standings",
        ),
        lacks=frozenset((Need.ITEM, Need.AMOUNT)),
        never=_NEVER,
        knows=_OF_MONEY,
        strange=1,
    ),
    Form(
        "balances",
        "who owes what for something",
        _balances,
        cues=("who|whos|what|whats|how|does|do|am * owe|owes|owed|owing",),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=2,
    ),
    Form(
        "balances",
        "why a balance is what it is",
        _balances,
        cues=(
            "why|y|come * owe|owes|owed",
            "how come im|i|i'm * at|down|minus|owing|short",
            "why|how am|are|come i|im * behind|down|short|up",
            "it says im|i'm|i down|up|at|owe",
            "why * say|says * owe",
        ),
        never=_NEVER,
        strange=2,
    ),
)
TEACH = (("who owes what?", "also: why do I owe 4.20?"),)


def answer(slots: Balances, desk: Desk) -> Answer:
    """Tell balances and the fewest payments; for one member, on request, the entries behind."""
    standing = balances_now(desk)
    payments = fewest_payments(standing)
    if slots.who is None:
        return Answer(wording.who_owes(standing, payments, desk.settings))
    member = by_name(slots.who, desk)
    lines = [wording.own_balance(member, standing, payments, desk.settings)]
    if slots.why:
        told, before = since_square(standing.get(member, 0), lines_of(desk.books, member, _MOST_LINES))
        lines.append(wording.entries_behind(member, told, before, desk.settings, desk.today))
    return Answer("\n".join(filter(None, lines)))


KIND = Kind("balances", FORMS, answer, TEACH)
