"""Questions: kept with what they are about, found while open, answered once."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from bot.storage import questions
from bot.storage.books import Books
from bot.storage.questions import Question

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
PAYLOAD = '{"asks": "24 or 12?"}'


def test_a_question_comes_back_as_asked(books: Books) -> None:
    number = questions.ask(books, "Mei", AT, PAYLOAD)

    assert questions.question(books, number) == Question(number, "Mei", AT, PAYLOAD, answered=False)
    assert questions.question(books, number + 1) is None


def test_a_question_is_answered_once(books: Books) -> None:
    number = questions.ask(books, "Mei", AT, PAYLOAD)

    assert questions.close(books, number)
    assert not questions.close(books, number)

    assert questions.question(books, number) == Question(number, "Mei", AT, PAYLOAD, answered=True)


def test_an_unknown_question_cannot_be_answered(books: Books) -> None:
    assert not questions.close(books, 999)


def test_only_a_member_is_asked(books: Books) -> None:
    with pytest.raises(KeyError, match="Nobody"):
        questions.ask(books, "Nobody", AT, PAYLOAD)
