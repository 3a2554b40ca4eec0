"""The welcome: what the clerk says when it is added to a group, and when it hears plain messages or no longer does."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.messages import Button, ChatTurn, Post
from bot.skills.answering import Desk
from bot.skills.house import welcome_wording as wording
from bot.skills.house.setting_up import first_question
from bot.storage.entries import last_entry
from bot.storage.outbox import queue, take
from bot.storage.questions import set_talk, talk

_DEAF = "deaf"
"""The ref under which it is noted that a group has been told that the clerk hears no plain messages."""

_OPEN_FOR = timedelta(days=1)
"""How long a typed word alone answers the first questions; buttons, and replies to them, answer for ever."""


def greet(turn: ChatTurn, desk: Desk) -> None:
    """Queue the welcome; a group of which nothing is known is asked the first question."""
    text, question, buttons = _opening(desk)
    deaf = ""
    if turn.hears_all is False:
        take(desk.books, _DEAF)
        deaf = wording.DEAF
    if question:
        set_talk(desk.books, replace(talk(desk.books), setting_up=turn.at + _OPEN_FOR))
    queue(desk.books, Post("\n\n".join(filter(None, (text, deaf, question))), buttons), turn.at)


def _opening(desk: Desk) -> tuple[str, str, tuple[Button, ...]]:
    """How the welcome begins, the question that it ends with, and the buttons that answer it."""
    last = last_entry(desk.books, None)
    if last is not None:
        return wording.back(last), "", ()
    if desk.group.items or desk.group.kits:
        return wording.known(desk.group), "", ()
    return wording.HELLO, *first_question()


def tell_hearing(turn: ChatTurn, desk: Desk) -> None:
    """Queue a word on whether plain messages reach the clerk; of its own accord it says once that they do not."""
    if turn.hears_all:
        queue(desk.books, Post(wording.HEARING), turn.at)
        return
    is_news = take(desk.books, _DEAF)
    if is_news or turn.sender.key is not None:
        queue(desk.books, Post(wording.DEAF), turn.at)
