"""A few words in reply to an entry are heard in its light: they say it anew with one thing changed."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.skills.kept import first_lines

REMIND = "remind us friday at 5pm to bring bags"
PAID = "Tobias paid me 12"
GOAL = "goal 100 wash bags by november 14"
POINT = "price point for pens 9 cents, at most 12"
LINE = "each wash bag gets 2 combs"
SALE = "add a sale: church rummage sale oct 3"
WEEKLY = "weekly summary on friday at 6pm"


@pytest.mark.parametrize(
    ("said", "reply", "told"),
    [
        (REMIND, "make it 6pm", "Reminder set: Fri Aug 7, 18:00, for all: bring bags"),
        (REMIND, "Make it 6 please", "Reminder set: Fri Aug 7, 18:00, for all: bring bags"),
        (REMIND, "6pm not 5", "Reminder set: Fri Aug 7, 18:00, for all: bring bags"),
        (REMIND, "half past 5", "Reminder set: Fri Aug 7, 17:30, for all: bring bags"),
        (REMIND, "oh it was half 6 not 5", "Reminder set: Fri Aug 7, 18:30, for all: bring bags"),
        (REMIND, "saturday", "Reminder set: Sat Aug 8, 17:00, for all: bring bags"),
        (REMIND, "tomorrow instead", "Reminder set: Tue Aug 4, 17:00, for all: bring bags"),
        (REMIND, "no, the 14th", "Reminder set: Fri Aug 14, 17:00, for all: bring bags"),
        (REMIND, "not friday, saturday", "Reminder set: Sat Aug 8, 17:00, for all: bring bags"),
        (REMIND, "change it to monday at 9am", "Reminder set: Mon Aug 10, 09:00, for all: bring bags"),
        (REMIND, "just me", "Reminder set: Fri Aug 7, 17:00, for Mei: bring bags"),
        (REMIND, "make it ines", "Reminder set: Fri Aug 7, 17:00, for Ines: bring bags"),
        (PAID, "it was 11.50", "Noted: Tobias paid Mei $11.50."),
        (PAID, "sorry, amara not tobias", "Noted: Amara paid Mei $12.00."),
        (PAID, "amara not me", "Noted: Tobias paid Amara $12.00."),
        (GOAL, "make it 120", "Goal of 120 wash bags by Nov 14 (was 80). Short of 4 items, 120 of each."),
        (
            GOAL,
            "november 20 not 14",
            "Goal of 100 wash bags by Nov 20 (was 80 by Nov 14). Short of 4 items, 100 of each.",
        ),
        (
            GOAL,
            "make it 90 by nov 20",
            "Goal of 90 wash bags by Nov 20 (was 80 by Nov 14). Short of 4 items, 90 of each.",
        ),
        (POINT, "make it 8", "Pens: price point 8¢, at most 12¢ each from now on (was: price point 10¢)."),
        (POINT, "at most 11", "Pens: price point 9¢, at most 11¢ each from now on (was: price point 10¢)."),
        (LINE, "make it 3", "Each wash bag gets 3 combs (was 1)."),
        (LINE, "toothbrushes not combs", "Each wash bag gets 2 toothbrushes (was 1)."),
        (SALE, "make it oct 10", "Added: church rummage sale, Oct 10, every year. I remind you 3 days before."),
        (WEEKLY, "make it saturday", "Weekly summary: Saturdays at 18:00 (was Sundays at 18:00)."),
        (WEEKLY, "7pm instead", "Weekly summary: Fridays at 19:00 (was Sundays at 18:00)."),
        ("at most 3 alerts a day", "make it 4", "Deal alerts: at most 4 a day (was none)."),
        ("sales tax is 8%", "make it 7.5%", "Sales tax: 7.5% (was none)."),
        ("time zone denver", "make it london", "Time zone: Europe/London (was America/Chicago)."),
        ("budget 300", "make it 350", "Budget $350.00."),
    ],
)
def test_a_reply_changes_one_thing(chat: Chat, said: str, reply: str, told: str) -> None:
    [echo] = chat.says("Mei", said)

    [answer] = chat.replies("Mei", reply, echo)

    assert answer.text.startswith("Corrected; it was: ")
    assert answer.text.split("\n")[1] == told


@pytest.mark.parametrize("said", [REMIND, PAID, GOAL, POINT, LINE, SALE, WEEKLY])
@pytest.mark.parametrize(
    "talk",
    [
        "thanks!",
        "ok see you friday",
        "saturday is better for me",
        "lol 5 is early",
        "sorry can't come saturday",
        "no worries",
        "120 would be great but hard",
        "on it",
        "ok 8",
        "sorry mei",
        "no, amara!",
        "just the two of us",
        "only 2 left",
        "for amara",
        "is it 6pm?",
    ],
)
def test_talk_in_reply_changes_nothing(chat: Chat, said: str, talk: str) -> None:
    [echo] = chat.says("Mei", said)

    assert chat.replies("Tobias", talk, echo) == []


def test_what_cannot_be_leaves_the_entry_as_it_was(chat: Chat) -> None:
    [echo] = chat.says("Mei", REMIND)

    [told] = chat.replies("Mei", "make it yesterday", echo)

    assert told.text.startswith("This stands as before: reminder: bring bags.\nAug 2, 17:00, is over.")
    assert "bring bags" in chat.says("Mei", "what reminders are set")[0].text


def test_what_no_reply_can_change_is_told(chat: Chat) -> None:
    [echo] = chat.says("Mei", LINE)

    [told] = chat.replies("Mei", "make it nicer", echo)

    assert first_lines([told]) == [
        "I cannot change that by a reply: each wash bag gets 2 combs. Take it back, and say it anew."
    ]


def test_without_a_reply_only_plain_words_correct(chat: Chat) -> None:
    chat.says("Mei", REMIND)

    assert chat.says("Mei", "saturday") == []
    [told] = chat.says("Mei", "sorry, i meant saturday")
    [again] = chat.says("Mei", "make that half 6")
    [last] = chat.says("Mei", "actually 9am")

    assert told.text == "Corrected; it was: reminder: bring bags.\nReminder set: Sat Aug 8, 17:00, for all: bring bags"
    assert again.text == "Corrected; it was: reminder: bring bags.\nReminder set: Sat Aug 8, 18:30, for all: bring bags"
    assert last.text.endswith("Reminder set: Sat Aug 8, 09:00, for all: bring bags")


def test_without_a_reply_an_order_may_be_for_others(chat: Chat) -> None:
    chat.says("Mei", GOAL)

    assert chat.says("Mei", "make it 120") == []
