"""The list of kinds: the only old file that a new kind touches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import chain
from typing import Any

from bot.reading.kind import Kind
from bot.skills import deals
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import (
    add_window,
    ask_windows,
    drop_reminder,
    move_reminder,
    move_window,
    remind,
    reminders,
    switch_window,
)
from bot.skills.house import (
    ask_settings,
    delete_group,
    forget_me,
    join_name,
    set_setting,
    setting_up,
    summary,
    unclear,
    undo,
)
from bot.skills.house import help as help_
from bot.skills.house.setting_up import SETUP
from bot.skills.prices import ask_best, ask_history, ask_photo, ask_target, bought, check, note, price, set_target
from bot.skills.shares import balances, cancel_split, claim, close_split, debt, paid, split
from bot.skills.shares.live import CLOSE, TAKE
from bot.skills.stock import (
    ask_caution,
    ask_kit,
    ask_spend,
    ask_stock,
    ask_wait,
    buying,
    goal,
    have,
    hazard,
    kit_ages,
    kit_cost,
    kit_line,
    moved,
    needs,
    not_packed,
    packed,
    removed,
    set_budget,
)

_BOOKS: dict[str, tuple[Kind[Any], ...]] = {
    "prices": (
        price.KIND,
        check.KIND,
        bought.KIND,
        ask_target.KIND,
        set_target.KIND,
        ask_best.KIND,
        ask_history.KIND,
        note.KIND,
        ask_photo.KIND,
    ),
    "money": (
        split.KIND,
        claim.KIND,
        paid.KIND,
        balances.KIND,
        close_split.KIND,
        cancel_split.KIND,
        debt.KIND,
    ),
    "calendar": (
        remind.KIND,
        ask_windows.KIND,
        add_window.KIND,
        summary.KIND,
        reminders.KIND,
        set_setting.KIND,
        move_reminder.KIND,
        drop_reminder.KIND,
        switch_window.KIND,
        move_window.KIND,
        ask_settings.KIND,
    ),
    "stock": (
        have.KIND,
        packed.KIND,
        removed.KIND,
        moved.KIND,
        ask_stock.KIND,
    ),
    "kits": (
        needs.KIND,
        kit_line.KIND,
        goal.KIND,
        ask_kit.KIND,
        buying.KIND,
        ask_wait.KIND,
        kit_ages.KIND,
        kit_cost.KIND,
        set_budget.KIND,
        ask_spend.KIND,
        not_packed.KIND,
        ask_caution.KIND,
        hazard.KIND,
    ),
    "members": (
        join_name.KIND,
        forget_me.KIND,
        delete_group.KIND,
    ),
}
"""The kinds that people speak of, by the book they belong to, as help shows them."""
_SAID = (*chain.from_iterable(_BOOKS.values()), undo.KIND)

KINDS: dict[str, Kind[Any]] = {kind.name: kind for kind in (*_SAID, help_.kind(_BOOKS, undo.KIND), unclear.KIND)}
FORMS = tuple(form for kind in KINDS.values() for form in kind.forms)

PRESSES: dict[str, Callable[[Sequence[int], Desk], Answer | Ask | None]] = {
    "undo": undo.press,
    TAKE: claim.press,
    CLOSE: close_split.press,
    SETUP: setting_up.press,
    deals.BUY: deals.buy,
    deals.SHARE: deals.share,
    deals.LEAVE: deals.leave,
}
"""What a button does, by the first word of its action."""
