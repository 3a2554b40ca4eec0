"""The list of kinds: the only old file that a new kind touches."""

from __future__ import annotations

from typing import Any

from bot.reading.kind import Kind
from bot.skills.house import help as help_
from bot.skills.house import unclear, undo
from bot.skills.prices import ask_best, ask_history, ask_target, bought, check, note, price, set_target

_SAID: tuple[Kind[Any], ...] = (
    price.KIND,
    check.KIND,
    bought.KIND,
    ask_target.KIND,
    set_target.KIND,
    ask_best.KIND,
    ask_history.KIND,
    note.KIND,
    undo.KIND,
)

KINDS: dict[str, Kind[Any]] = {kind.name: kind for kind in (*_SAID, help_.kind(_SAID), unclear.KIND)}
FORMS = tuple(form for kind in KINDS.values() for form in kind.forms)
