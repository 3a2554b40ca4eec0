"""``help``: someone asks what the clerk can do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.reading.form import Form
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.house import wording
from bot.skills.house.bare import Bare, bare

FORMS = (
    Form(
        "help",
        "what can you do?",
        bare,
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
        ),
        strange=2,
    ),
)
TEACH = (("help", "this list"),)


def kind(others: Sequence[Kind[Any]]) -> Kind[Answer]:
    """The kind that teaches the others."""

    def answer(slots: Bare, desk: Desk) -> Answer:
        del slots, desk
        return Answer(wording.help_text([line for other in others for line in other.teach]))

    return Kind("help", FORMS, answer, TEACH)
