"""The post of an open split, drawn from how it stands, with its buttons."""

from __future__ import annotations

from bot.messages import Button
from bot.skills.answering import Desk
from bot.skills.judging import price_point
from bot.skills.shares import wording
from core.shares import Standing, State

_AMOUNTS = (12, 24, 48)
"""Units that a press takes: one, two and four dozen (common practice, no source)."""
TAKE, CLOSE = "take", "close"


def live_post(found: Standing, desk: Desk) -> tuple[str, tuple[Button, ...]]:
    """Text and buttons of a split's post, as it stands."""
    text = wording.live_text(found, price_point(desk, found.case.item), desk.settings, desk.today)
    return text, _buttons(found) if found.state is State.OPEN else ()


def _buttons(found: Standing) -> tuple[Button, ...]:
    number, left = found.number, found.left
    amounts = [Button(f"{units}", f"+{TAKE}:{number}:{units}") for units in _AMOUNTS if units < left]
    rest = [Button(wording.all_left(left), f"+{TAKE}:{number}:{left}")] if left else []
    none = [Button(wording.NOT_FOR_ME, f"+{TAKE}:{number}:0")] if found.taken else []
    return (*amounts, *rest, *none, Button(wording.CLOSE, f"+{CLOSE}:{number}"))
