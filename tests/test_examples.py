"""Runs the examples beside every kind and every span file: messages and their readings, dialogues, spans."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from functools import singledispatch
from typing import Any

import pytest

from bot.group_file import read_group
from bot.messages import Post
from bot.reading.amounts import Amount
from bot.reading.dates import Day, Until
from bot.reading.each import Each, Per, Whole
from bot.reading.limits import Limit
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.mentions import Mention
from bot.reading.names import Named
from bot.reading.numbers import Number, number_at
from bot.reading.packs import Loose, Multi
from bot.reading.sizes import Size, Year
from bot.reading.spans import Found, Marked
from bot.reading.taxes import Tax
from bot.reading.words import clean, tokens_of
from core.counts import Quantity
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.examples import Example, entries, examples, kind_files, marked, read, span_files

UNCLEAR = "unclear"


def called(found: Iterator[Example]) -> list[Any]:
    """Examples as parameters, with their labels."""
    return [pytest.param(one, id=one.label, marks=marks(one.block, one.entry)) for one in found]


def marks(block: str, entry: dict[str, Any]) -> list[pytest.MarkDecorator]:
    """A known failure must go on failing; mended, it moves to where it belongs."""
    return [pytest.mark.xfail(strict=True, reason=entry["why"])] if block == "known_failures" else []


@pytest.mark.parametrize("example", called(examples("reads", "known_failures")))
def test_message_reads_as_written_beside_it(example: Example) -> None:
    assert read(example.message) == example.entry["as"]


@pytest.mark.parametrize("example", called(examples("asks")))
def test_message_becomes_the_question_beside_it(example: Example) -> None:
    question = {"question": example.entry["question"], "options": example.entry.get("options", [])}

    assert read(example.message) == [{"kind": UNCLEAR, **question}]


@pytest.mark.parametrize("example", called(examples("not_this")))
def test_message_of_others_is_left_alone(example: Example) -> None:
    kinds = [reading["kind"] for reading in read(example.message)]

    assert kinds == example.entry["but"]
    assert example.kind not in kinds


@dataclass(frozen=True, slots=True)
class Dialogue:
    """Lines said in a new chat, "Mei: 12 pencils 0.47" or "Mei: [Take back]", and all posts they bring."""

    lines: list[str]
    posts: list[str]


def dialogues() -> list[Any]:
    return [
        pytest.param(Dialogue(entry["lines"], entry["posts"]), id=f"{owner}: {' | '.join(entry['lines'])}")
        for owner, path in kind_files().items()
        for entry in entries(path, "says")
    ]


def as_written(post: Post) -> str:
    """A post as the dialogues write it: its text, and its buttons on a line of their own."""
    buttons = " ".join(f"[{button.label}]" for button in post.buttons)
    return f"{post.text}\n{buttons}" if buttons else post.text


@pytest.mark.parametrize("dialogue", dialogues())
def test_dialogue_brings_exactly_these_posts(dialogue: Dialogue) -> None:
    with closing(Chat(read_group(HARBOUR_LANE))) as chat:
        for line in dialogue.lines:
            name, _, said = line.partition(": ")
            if said.startswith("["):
                chat.presses(name, said.strip("[]"))
            else:
                chat.says(name, said)

        assert [as_written(post) for post in chat.posts] == [post.strip("\n") for post in dialogue.posts]


SORTS: dict[str, tuple[type, ...]] = {
    "amounts": (Amount,),
    "dates": (Day, Until),
    "limits": (Limit,),
    "markdowns": (ShareOff, BuyGet),
    "mentions": (Mention,),
    "names": (Named,),
    "packs": (Quantity, Multi, Loose, Each, Whole),
    "sizes": (Size, Year),
    "taxes": (Tax,),
}


def spans() -> list[Any]:
    """Texts as parameters, those of known failures marked so."""
    found: list[Any] = []
    for owner, path in span_files().items():
        for block in ("span", "known_failures"):
            for entry in entries(path, block):
                label = f"{owner}: {entry['text']}"
                found.append(pytest.param(owner, entry, id=label, marks=marks(block, entry)))
    return found


@pytest.mark.parametrize(("owner", "entry"), spans())
def test_text_holds_the_spans_beside_it(owner: str, entry: dict[str, Any]) -> None:
    held = numbers_of(entry["text"]) if owner == "numbers" else spans_of(owner, entry["text"])

    assert held == entry["found"]


def spans_of(owner: str, text: str) -> list[str]:
    """The spans of a file's sorts, "words -> value" each, in reading order."""
    message = marked(text)
    found: list[Found[object]] = []
    for sort in SORTS[owner]:
        found += message.each(sort)
    found.sort(key=lambda span: span.start)
    return [f"{message.said(span.start, span.end)} -> {told(span.value)}" for span in found]


def numbers_of(text: str) -> list[str]:
    """The numbers of a text, which are no spans of their own."""
    blank = marked("")
    message = Marked(clean(text), tokens_of(clean(text)), blank.at, blank.settings)
    found, index = [], 0
    while index < len(message.tokens):
        number = number_at(message, index)
        if number:
            found.append(f"{message.said(index, number[1])} -> {told(number[0])}")
        index = number[1] if number else index + 1
    return found


@singledispatch
def told(value: object) -> str:
    """What a span means, in a few plain words."""
    raise NotImplementedError(type(value))


@told.register
def _(value: Number) -> str:
    if value.other is None:
        return str(value.value)
    return f"about {value.value}" if value.other == value.value else f"{value.value} or {value.other}"


@told.register
def _(value: Amount) -> str:
    return f"{value.role} {float(value.value):.10g}"


@told.register
def _(value: Quantity) -> str:
    packs = "1 pack" if value.packs == 1 else f"{value.packs} packs"
    return f"{packs} of {value.pack_size or 'unknown size'}"


@told.register
def _(value: Multi) -> str:
    return f"the price is for {value.packs}"


@told.register
def _(value: Loose) -> str:
    if not value.firm:
        return f"about {value.units}"
    return str(value.units) if value.other is None else f"{value.units} or {value.other}"


@told.register
def _(value: Each) -> str:
    what = {Per.COUNTED: "one", Per.PACK: "one pack", Per.UNIT: "one unit", Per.SEVERAL: str(value.units)}
    return f"the price is for {what[value.per]}"


@told.register
def _(value: Whole) -> str:
    del value
    return "the price is for all"


@told.register
def _(value: ShareOff) -> str:
    return f"{value.off} off" + (" the amount that follows" if value.from_next else "")


@told.register
def _(value: BuyGet) -> str:
    return f"buy {value.buy} get {value.get} at {value.off} off" + ("" if value.sure else ", or a price")


@told.register
def _(value: Day) -> str:
    return f"seen {value.day}"


@told.register
def _(value: Until) -> str:
    return f"until {value.day}"


@told.register
def _(value: Limit) -> str:
    return f"{value.packs} a customer"


@told.register
def _(value: Size) -> str:
    del value
    return "no count"


@told.register
def _(value: Year) -> str:
    del value
    return "a year"


@told.register
def _(value: Tax) -> str:
    return "the group's rate" if value.percent is None else f"{value.percent} percent"


@told.register
def _(value: Mention) -> str:
    del value
    return "mention"


@told.register
def _(value: Named) -> str:
    rivals = "".join(f" or {name}" for name in value.rivals)
    return f"{value.sort} {value.name}{rivals}"


def test_every_span_file_has_its_examples() -> None:
    files = span_files()

    assert set(files) == {"numbers", *SORTS}
    assert all(path.with_suffix(".py").exists() for path in files.values())
