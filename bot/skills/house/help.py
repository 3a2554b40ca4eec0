"""``help``: someone asks what the clerk can do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.house import wording
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Help:
    """The book that help is asked about, None for all of them."""

    topic: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot: the book."""
        del currency
        return {} if self.topic is None else {"topic": self.topic}


def _help(heard: Heard) -> Sequence[Help]:
    words = [token.text for token in heard.marked.tokens]
    return [Help(next((_TOPICS[word] for word in words if word in _TOPICS), None))]


_TOPICS = {
    "price": "prices",
    "prices": "prices",
    "money": "money",
    "split": "money",
    "splits": "money",
    "debts": "money",
    "stock": "stock",
    "kit": "kits",
    "kits": "kits",
    "goals": "kits",
    "needs": "kits",
    "calendar": "calendar",
    "reminder": "calendar",
    "reminders": "calendar",
    "sales": "calendar",
    "settings": "calendar",
    "member": "members",
    "members": "members",
}
FORMS = (
    Form(
        "help",
        "what can you do?",
        _help,
        cues=(
            "help",
            "/ help",
            "/ start",
            "what|wat|wut can|do you|u|ya do|even|know",
            "what you|u are|r able",
            "how do|does|to i|we|this|you|it|one work|tell|use|write|say|talk|enter|report|even",
            "explain * what|how",
            "how to use|write|tell",
            "commands|instructions",
            "what all can|do you|u",
            "what else can|do you|u",
            "what are you|u able",
            "what|which * can|could|should|do i|we * ask|say|tell|type|write you|u|it|clerk|the",
            "what do i|we say|type|write to",
            "list what you|u",
            "list * things|what * ask",
            "how * use you|u|this clerk|bot",
            "how * use you|u",
            "list of commands|cmds",
            "cmds",
            "what * supposed to type|say|tell|write",
            "what sort|kind|kinds|sorts of thing|things * i|we",
            "things * i|we can ask|say|tell",
            "how * ask|talk|speak|write|tell|type|text to|you|u|the * clerk|you|it|u",
            "how * clerk * work",
            "any examples",
            "how to ask|tell",
            "guide|manual to|for",
            "show * examples",
            "how * speaks|speak|talks with|to",
        ),
        never=(
            "the|no|any|your|ur|much|of|some help",
            "help yesterday|today|tomorrow|last",
            "help me|us|him|her|with|carry|move|load|unload|out|pack",
            "can|could|someone|anyone help",
            "who|anyone * help",
            "send|sent|sends help",
        ),
        strange=2,
    ),
)
TEACH = (("help", "this list"),)


def kind(books: Mapping[str, Sequence[Kind[Any]]], last: Kind[Any]) -> Kind[Answer]:
    """The kind that teaches the others, book by book; ``last`` is taught in any case."""

    def answer(slots: Help, desk: Desk) -> Answer:
        del desk
        if topic := slots.topic:
            kinds = (*books[topic], last)
            return Answer(wording.help_on(topic, [line for one in kinds for line in one.teach]))
        first = {book: kinds[0].teach[0] for book, kinds in books.items()}
        return Answer(wording.help_text(first, last.teach))

    return Kind("help", FORMS, answer, TEACH)
