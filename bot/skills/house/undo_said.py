"""What a message says of taking back: the last entry, or one by what it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bot.reading.evidence import calls_clerk, calls_member
from bot.reading.form import Form, Heard, Need, words
from bot.reading.names import NameSort, named
from bot.reading.strangers import strange_words
from bot.reading.words import lexicon
from bot.skills.bare import Bare
from bot.skills.house.setting_words import HEADS, setting_named
from bot.skills.house.settings_wording import SETTING_NAMES
from bot.wording.things import plural
from core.money import Currency

_AWAY = (
    "delete|remove|erase|cancel|withdraw|retract|reverse|revert|void|strike|cross|wipe|bin|kill|drop|scrap|scratch|nix"
    "|ditch|discard|unsend"
)
_DISREGARD = "ignore|disregard|forget|discount"
_OFF = "take|pull|rub|get|strike|wipe|cross|back|scrub|leave|keep"
_THAT = "that|tht|it|this|them|those"
_TOLD = "put|said|sent|wrote|typed|entered|logged|gave|told|noted|recorded|added|reported|posted"
_LAST = "last|that|it|this|mine|my|entry|one|what|wrong|mistake"

_SLIPS = words(
    "wrong slipped wrongly incorrect mistake mistakes mistaken mistakenly error errors erroneous misread mistyped typo"
    " misheard misclicked muddled early soon accident accidentally double duplicate twice joke joking test testing"
    " meant"
)
"""Words of what went wrong with an entry."""
_ABOUT_SLIPS = _SLIPS | words(
    "hit pressed tapped button send sent submitted label labels tag ticket brand chat group screen finger"
    " misread glasses mine recorded logged posted"
)
"""What else a reason for taking back may speak of."""
_SORRY = words("sorry oops whoops woops apologies forgive nope typed clerk bot")
"""Words by which an order to take "that" back is known, whatever its reason is."""
_OF_SHELVES = words(
    "size sizes bigger smaller larger cashier till rang rung receipt register different price shelf aisle number count"
)
"""What a reason for taking "that" back may be about, for the entry is of it."""
_COURTESY = words("please pls plz clerk bot thanks thx ta sorry now ok it that this lol one")

_POINTS = frozenset("that the my this ur your his her these those".split())
_NAMING = frozenset("the ur your his her".split())
"""Words behind which a thing is named: "remove the tax rate"."""
_LEADING = frozenset("very other same most wrong actual".split())
"""Words that may stand between such a word and the entry."""
_LAST_WORDS = frozenset(_LAST.split("|")) | words(
    "entries price prices message line record number figure purchase payment claim count note post statement previous"
    " first two please pls back out off away from again for clerk bot now thanks"
)
_ALL_SAID = words(
    "forget disregard ignore that this one last clerk bot please pls plz thanks sorry oops no ok oh ooh wait nope"
    " actually"
)
_NOT = words("not isnt wasnt aint never")
_RIGHT = words("right correct true me mine us ours what")
_VERBS = frozenset(_AWAY.split("|"))
_BOOKS = words("book books record records ledger list log tally")


def _take_back(heard: Heard) -> Sequence[Bare]:
    """One reading, unless a member is called or the words name another thing: "delete that photo"."""
    if calls_member(heard.marked, heard.reach) and not calls_clerk(heard.marked):
        return []
    return [] if _names_another(heard.said) else [Bare()]


def _take_back_plainly(heard: Heard) -> Sequence[Bare]:
    """One reading, if a word that nothing explains is but a cry before it or a name behind it: "crikey, undo"."""
    (start, end), marked = heard.reach, heard.marked
    known = _ABOUT_SLIPS | _ORDERING | _REMOVING
    strange = [index for index in strange_words(marked, heard.reach) if marked.text_at(index) not in known]
    aside = all(index == start or (index == end - 1 and marked.text_at(index - 1) == ",") for index in strange)
    return _take_back(heard) if aside else []


def _names_another(said: list[str]) -> bool:
    """Whether another thing is to go, or it is to go from another place: "my last pair of gloves", "off the table"."""
    said = " ".join(said).replace("rid of", "rid").split()
    return any(_is_another(*three) for three in zip(said, [*said[1:], ""], [*said[2:], "", ""], strict=False))


def _is_another(word: str, after: str, thing: str) -> bool:
    if word == "last":
        return after.isalpha() and after not in lexicon()["filler"] | _LAST_WORDS | _ABOUT_SLIPS
    if word in _FROM and after in ("the", "my", "your", "our"):
        return thing.isalpha() and thing not in _BOOKS | _LAST_WORDS
    if word not in _REMOVING or after not in _POINTS:
        return False
    other = after in _NAMING and thing not in _LEADING
    plain = thing in lexicon()["filler"] and word != "undo" and not other
    return thing.isalpha() and thing not in _LAST_WORDS and not plain


_REMOVING = frozenset([*_VERBS, *_DISREGARD.split("|"), "undo", "take", "pull", "rid"])
_FROM = words("off from of")


def _after_slip(heard: Heard) -> Sequence[Bare]:
    """The order alone, behind what went wrong: "you wrote that down wrong. Remove please"."""
    marked = heard.marked
    said = [token.text for token in marked.tokens]
    verbs = [index for index in range(*heard.reach) if marked.text_at(index) in _VERBS]
    behind = {marked.text_at(index) for index in range(verbs[-1] + 1 if verbs else heard.reach[0], heard.reach[1])}
    strange = {said[index] for index in strange_words(marked, (0, len(said)))} - _ABOUT_SLIPS - _VERBS
    plain = behind <= _COURTESY and not strange and not calls_member(marked, heard.reach)
    return [Bare()] if plain and _slipped(said) else []


def _slipped(said: list[str]) -> bool:
    """Whether something is said to be wrong, or "not right"."""
    return bool(_SLIPS & set(said)) or any(one in _NOT and other in _RIGHT for one, other in pairwise(said))


def _all_said(heard: Heard) -> Sequence[Bare]:
    """Words that are an order only where nothing else is said: "forget that"."""
    return [Bare()] if {token.text for token in heard.marked.tokens if token.text.isalpha()} <= _ALL_SAID else []


@dataclass(frozen=True, slots=True)
class Named:
    """An entry to take back, by what it was: its sort, its item, whose it is."""

    sort: str = ""
    item: str | None = None
    member: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """No slots of the contract."""
        del currency
        return {}

    def is_meant(self, summary: str) -> bool:
        """Whether the line that names an entry can be what was meant."""
        starts = _SORTS.get(self.sort, "")
        of_sort = starts in summary and (self.sort != "purchase" or summary.startswith(starts))
        of_item = self.item is None or self.item in summary or plural(self.item) in summary
        return of_sort and of_item and (self.member is None or self.member in summary)


_SORTS = {
    "split": "split of",
    "payment": " paid ",
    "paid": " paid ",
    "purchase": "bought",
    "bought": "bought",
    "offer": "the offer of",
    "debt": " owes ",
    "note": "note on",
    "remark": "note on",
    "price": "",
    "claim": "",
    "case": "",
}
"""What the line that names an entry holds, by the word for it."""


def _named_entry(heard: Heard) -> Sequence[Named]:
    said = heard.said
    sort = next((word for word in reversed(said) if word in _SORTS), "")
    if setting := setting_named(set(said)):
        return [Named(item=SETTING_NAMES[setting])]
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    members = [span.value.name for span in named(heard.marked, heard.reach, NameSort.MEMBER)]
    other = next((name for name in members if name != heard.speaker), None)
    return [Named(sort, items[0].value.name if items else None, other)]


_SETTINGS = "|".join(sorted(word for heads in HEADS.values() for word in heads))
_SORT_WORDS = "|".join(_SORTS)

_NEVER = (
    "button",
    "wish i|we",
    "need an|a undo",
    "that|it|them|this|those back to|at|in|with|for",
    "cant|could|could undo",
    "can|could someone|somebody|anyone * take|drop",
    "how|why|when * undo|take|took",
    "dont|not|never|wont|cant|wouldnt * take|undo|delete|remove|drop",
    "had|have|has|going|went|need|needs|want to take",
    "that|it , ill|lets|dinner|you",
    "take it all",
    "i take it|that back",
    "take back what|everything i|he|she|you said|say",
    "can|could|should|may i|we * take|undo",
    "i|we can take",
    _AWAY + " my name|number",
    "drop|leave * off",
    _AWAY + " * at|by|round|in",
    "had|has to take|get|" + _AWAY,
    _AWAY + " that|the|this meeting",
)

_PLAIN_CUES = (
    "undo",
    "un do|doo",
    f"{_OFF} {_THAT} back|off|out|away",
    f"{_OFF} {_THAT} one|last|entry|price|message|line|thing|bit|right back|off|out|away",
    f"{_OFF} {_THAT} last|wrong one|price|message|line|thing|bit back|off|out|away",
    f"{_OFF} back|off|out {_THAT}",
    f"roll {_THAT} back",
    f"roll back {_THAT}",
    "take back that|my|the|it|what|last|this",
    "take|pull my|the|that last * back|off|out|away",
    f"{_AWAY} {_THAT}|the|my last|one|entry|mine",
    f"{_AWAY} {_THAT}|mine|what",
    "never mind that|the last price|entry|message|one",
    "never mind that last|one",
    "nvm that|last|the",
    "get rid of it|that|this",
    "take off what|that",
    "please|kindly take back",
    "ctrl z",
    "ctrl + z",
    "disregard and",
    "that was|is a mistake|wrong",
)
_ORDERING = words(" ".join(_PLAIN_CUES).replace("|", " "))

FORMS = (
    Form(
        "undo",
        "take back a named entry",
        _named_entry,
        cues=(
            "undo|reverse the|my|that|his|her|last * " + _SORT_WORDS,
            "take back the|my|that|his|her|last|what * " + _SORT_WORDS,
            "take back the|my",
            f"undo|reverse the|my|that * {_SETTINGS}",
            f"take back the|my|that * {_SETTINGS}",
        ),
        never=(
            "dont|not|never * take|undo",
            "how|why|when * undo|take",
            "can|could|should i|we * take|undo",
            "to the|a",
        ),
        strange=1,
    ),
    Form(
        "undo",
        "a thing put in wrong",
        _named_entry,
        cues=(
            f"i|ive * {_TOLD}",
            "my last",
        ),
        also=(_SLIPS, _VERBS | words("undo take"), words("it that them those")),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(f"{_TOLD} * in|into|on|at the|a|my|his|her",),
        knows=_ABOUT_SLIPS,
        strange=1,
    ),
    Form(
        "undo",
        "take the entry back",
        _take_back,
        cues=(
            f"{_AWAY}|{_DISREGARD} * last|previous|latest|entry",
            f"{_AWAY}|{_DISREGARD} the|my|that * price|entry|one|message",
            f"{_AWAY}|{_DISREGARD} what|that|the i|you * {_TOLD}",
            "get rid of * last|previous|latest|entry",
            f"get rid of what i|you * {_TOLD}",
            f"{_OFF} * last|previous|latest|entry * back|off|out|away",
            f"{_OFF} back|off|out * last|previous|latest|entry|what",
            "roll|back back|out * last|previous|latest|entry",
            f"{_OFF} * out|off|from * books|records|record|ledger",
            "dont count|include|keep|save * last|entry",
            "could|can it|that be removed|deleted|undone|cancelled|erased|withdrawn",
            "pretend i never",
            "un do * last|entry",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NEVER,
        knows=_ABOUT_SLIPS,
        leads=True,
        strange=4,
    ),
    Form(
        "undo",
        "take it back",
        _take_back_plainly,
        cues=_PLAIN_CUES,
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        knows=_ABOUT_SLIPS,
        leads=True,
        strange=1,
        never=_NEVER,
    ),
    Form(
        "undo",
        "take it back, for a slip",
        _take_back,
        cues=(
            f"^{_AWAY}|{_DISREGARD} {_THAT}|the|my|out",
            f"{_DISREGARD} that|tht|this|it",
            f"dont count|include|keep|save {_THAT}|mine",
            f"{_OFF} one * back|off|out|away",
            f"{_OFF} {_THAT} back|off|out|away",
            "get rid of it|that|this",
            "^undo",
        ),
        also=(_ABOUT_SLIPS | _SORRY | _OF_SHELVES,),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "drop|leave * off",
            _AWAY + " * at|by|round|in",
            "ill|lets|well|dinner|lunch|party|meeting|hall",
            "undo is|was|button",
            "im|were|youre free|late|early|home|here|busy|fine|ready",
            _AWAY + " the * that|which|and",
            _AWAY + " my name|number",
        ),
        knows=_ABOUT_SLIPS,
        leads=True,
        strange=4,
    ),
    Form(
        "undo",
        "away with what went wrong",
        _after_slip,
        cues=(f"{_AWAY} please|pls|plz|it|that", f"please|pls|plz|sorry|, {_AWAY}", f"^{_AWAY}"),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        knows=_ABOUT_SLIPS,
        strange=0,
    ),
    Form(
        "undo",
        "please undo",
        _take_back,
        cues=("please|pls|plz|so|, undo", "undo please|pls|that|it"),
        never=("wish i|we", "could undo"),
        leads=True,
        strange=9,
    ),
    Form(
        "undo",
        "forget that",
        _all_said,
        cues=(f"^forget|disregard|ignore {_THAT}",),
        strange=0,
    ),
)
