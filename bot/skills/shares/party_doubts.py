"""Where it is open who shares a case, or who paid for it: what a message says beside the list of names."""

from __future__ import annotations

from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.shares.party_marks import ME, Mark, Marks

_PAID = frozenset("paid payed pd".split())
_PARTLY = frozenset("half part share some his her".split())
_BESIDE = frozenset("thanks thank thx cheers no instead than unlike".split())
_NOT_SHARING = frozenset(
    "didnt doesnt dont isnt wasnt wont cant hasnt passes passed drove drives carried pick picks picked collected"
    " collects enough plenty already idea instead".split()
)
_NEAR = 3


def in_doubt(found: Marks) -> bool:
    """True where somebody named may be no sharer, or somebody paid but a part."""
    return paid_in_part(found) or any(_only_spoken_of(found, mark) for mark in found.marks)


def paid_in_part(found: Marks) -> bool:
    """True for "Mei already paid me her half", "half paid by Mei", "Mei paid 4 and I paid 6"."""
    marked, reach = found.marked, found.heard.reach
    verbs = [index for index in range(*reach) if marked.text_at(index) in _PAID]
    beside = {marked.text_at(at) for index in verbs for at in (index - 1, index + 1, index + 2, index + 3)}
    return len(verbs) > 1 or bool(beside & _PARTLY)


def _only_spoken_of(found: Marks, mark: Mark) -> bool:
    """True for a member named in a clause of their own that gives them no units: "Tobias drove", "thanks Amara"."""
    marked = found.marked
    if mark.name in (None, ME) or mark.start == found.heard.reach[0]:
        return False
    before, earlier = marked.text_at(mark.start - 1), marked.text_at(mark.start - 2)
    if before in _BESIDE or (earlier, before) == ("instead", "of"):
        return True
    return any(marked.text_at(at) in _NOT_SHARING for at in range(mark.end, _clause_end(marked, mark.end)))


def _clause_end(marked: Marked, start: int) -> int:
    end = start
    while end < start + _NEAR and end < len(marked.tokens) and marked.tokens[end].sort is not Sort.STOP:
        end += 1
    return end
