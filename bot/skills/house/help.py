"""``help``: someone asks what the clerk can do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bot.reading.evidence import BOT_NAMES, calls_clerk, calls_member
from bot.reading.form import Form, Heard, words
from bot.reading.kind import Kind
from bot.reading.words import Sort
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
    if calls_member(heard.marked, heard.reach) and not calls_clerk(heard.marked):
        return []
    said = [token.text for token in heard.marked.tokens]
    return [Help(next((_TOPICS[word] for word in said if word in _TOPICS), None))]


_TOPICS = {
    "price": "prices",
    "prices": "prices",
    "money": "money",
    "purchase": "prices",
    "payment": "money",
    "claim": "money",
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
_TELL = "tell|enter|write|log|record|type|say|put|report|note|add|claim|correct|fix|change|edit|delete|remove|undo|take"
_TOLD = words(
    "price prices purchase purchases bought spent split splits payment payments paid claim claims entry entries item"
    " items donation donations need needs used packed new kit kits goal goals stock reminder reminders settings summary"
    " wrong mistake mistakes error typo undo something clerk bot you u"
)
"""What the clerk is told of."""
_CRY = words(
    "help please pls plz im i am we are lost stuck confused new here dont do not get it this that understand know how"
    " what to with on for about hi hey hello again thanks now ok so oh sorry"
)
"""What a call for help that is for the clerk may say besides; whoever calls for help tells of a wasp, too."""


def _cry(heard: Heard) -> Sequence[Help]:
    said = {token.text for token in heard.marked.tokens if token.sort is Sort.WORD}
    if not {"help", *BOT_NAMES} & said:
        return []
    others = said - _CRY - _TOPICS.keys() - BOT_NAMES
    return _help(heard) if len(others) <= _FOR_A_CALL * calls_clerk(heard.marked) else []


_FOR_A_CALL = 3
"""How many other words a call for help may hold that names the clerk."""

FORMS = (
    Form(
        "help",
        "what can you do?",
        _help,
        cues=(
            "/ start",
            "what|wat|wut can|do you|u|ya do|even|know",
            "what you|u are|r able",
            "how do|does|to i|we|this|you|it|one work|use",
            "explain * what|how you|u|i|we|one|to|it|this|clerk|bot",
            "how to use|write|tell",
            "commands|instructions",
            "what all can|do you|u",
            "what else can|do you|u",
            "what are you|u able",
            "what|which * can|could|should|do i|we * ask|say|tell|type|write you|u|it|clerk|the",
            "what do i|we say|type|write to you|u|clerk|bot|the|it",
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
            "guide|manual to|for you|u|clerk|bot|this|using|what",
            "command list",
            "what exactly do|can|are you|u",
            "is|have|any * manual|guide|instructions",
            "show * examples",
            "how * speaks|speak|talks with|to",
            "explain * how * works|work|goes|go",
            "explain yourself|urself",
            "remind|tell|show|teach * how * it|this|thing|you|u|clerk|bot works|work",
            "how|hows * this|it|thing|clerk|bot works|work",
            "clerk|bot * how * this|it * go|goes",
            "how * use * clerk|bot|you|u",
            "what|whats * the|this clerk|bot for|do|does|about",
            "what * can the|this clerk|bot do",
            "what are you|u for",
            "what can i|we say|ask|type * you|u",
            "what * need|have to type",
            "what|things * you|u understand",
            "started with you|u|this|clerk",
        ),
        never=(
            "the|no|any|your|ur|much|of|some help",
            "help yesterday|today|tomorrow|last",
            "help me|us|him|her|with|carry|move|load|unload|out|pack",
            "can|could|someone|anyone help",
            "who|anyone * help",
            "do you|u do for|on|at|when|in",
            "works|work is|was|out|at|for|on",
            "send|sent|sends help",
        ),
        knows=words("manual guide understand"),
        strange=2,
    ),
    Form(
        "help",
        "help!",
        _cry,
        cues=("help", "im|am|i lost|stuck|confused", "clerk|bot teach me|us"),
        never=("the|no|your|ur|of help", "thanks|thank|thx|ty|cheers * help"),
        strange=2,
    ),
    Form(
        "help",
        "how do I tell you something?",
        _help,
        cues=(
            f"how * i|we|to|one|you|u|people|somebody|someone * {_TELL}",
            f"way to {_TELL}",
            f"way i|we|one * {_TELL}",
        ),
        also=(_TOLD,),
        never=("how did|didnt|much|many|long|often|come",),
        knows=_TOLD | words("supposed understand"),
        strange=0,
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
