"""A private chat with the clerk: it says nothing unasked there but what somebody asked to be reminded of."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace

from core.group import Group
from tests.chat import Chat


def test_only_reminders_come_unasked(packers: Group) -> None:
    with closing(Chat(replace(packers, private=True))) as chat:
        chat.says("Mei", "12 pencils 0.47 at corner store")
        chat.says("Mei", "remind me on friday at 5pm to call the hall")

        posts = chat.waits("2026-11-20T12:00")

    assert [post.text for post in posts] == ["Mei, a reminder: call the hall"]


def test_a_deal_is_answered_without_an_alert(packers: Group) -> None:
    with closing(Chat(replace(packers, private=True))) as chat:
        posts = chat.says("Mei", "12 pencils 0.47 at corner store")

    assert len(posts) == 1
