"""Reads a written chat (contract.md, "Replaying a chat"): a pure function from the text to its lines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

_HEAD = re.compile(r"(?P<at>\d{4}-\d\d-\d\d[ \t]+\d\d:\d\d)(?:[ \t]+(?P<rest>.*))?")
_LABEL = re.compile(r"\[([^\[\]]+)\]")


class BadLineError(Exception):
    """A line of the chat cannot be played; the text is one sentence with its number and what is wrong."""

    def __init__(self, number: int, fault: str) -> None:
        super().__init__(f"line {number}: {fault}")


@dataclass(frozen=True, slots=True)
class Said:
    """A message that begins on line ``number``; ``at`` is the group's own clock, without a zone."""

    number: int
    at: datetime
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Pressed:
    """The press of the button ``label`` on the clerk's last post."""

    number: int
    at: datetime
    name: str
    label: str


@dataclass(frozen=True, slots=True)
class ClockMove:
    """Only time passes."""

    number: int
    at: datetime


Line = Said | Pressed | ClockMove


@dataclass(frozen=True, slots=True)
class _Block:
    """A line of the file and the numbered lines that continue it."""

    number: int
    head: str
    more: list[tuple[int, str]] = field(default_factory=list)


def read_chat(text: str) -> Iterator[Line]:
    """The lines of a written chat, in order; the first bad one raises BadLineError after those before it."""
    latest: datetime | None = None
    for block in _blocks(text):
        line = _line(block)
        if latest is not None and line.at < latest:
            raise BadLineError(block.number, f"time goes backwards, it was {minutes(latest)} already.")
        latest = line.at
        yield line
        if block.more and not isinstance(line, Said):
            raise _stray(block.more[0][0])


def _blocks(text: str) -> Iterator[_Block]:
    block: _Block | None = None
    for number, raw in enumerate(re.split(r"\r?\n", text), 1):
        if not raw.strip() or raw.startswith("#"):
            continue
        if raw[0].isspace():
            if block is None:
                raise _stray(number)
            block.more.append((number, raw.strip()))
        else:
            if block is not None:
                yield block
            block = _Block(number, raw.rstrip())
    if block is not None:
        yield block


def _stray(number: int) -> BadLineError:
    return BadLineError(number, "it begins with blanks, but there is no message above it to continue.")


def _line(block: _Block) -> Line:
    head = _HEAD.fullmatch(block.head)
    if head is None:
        raise BadLineError(block.number, 'it must begin with a day and a time, such as "2026-08-03 10:15".')
    at = _moment(block.number, head["at"])
    if not head["rest"]:
        return ClockMove(block.number, at)
    name, colon, first = (part.strip() for part in head["rest"].partition(":"))
    if not colon or not name:
        raise BadLineError(block.number, 'a name and a colon must follow the time, such as "Mei: ".')
    label = _LABEL.fullmatch(first)
    if label:
        return Pressed(block.number, at, name, label[1].strip())
    text = "\n".join(part for part in (first, *(more for _, more in block.more)) if part)
    if not text:
        raise BadLineError(block.number, f"{name} says nothing.")
    return Said(block.number, at, name, text)


def _moment(number: int, written: str) -> datetime:
    try:
        at = datetime.fromisoformat("T".join(written.split()))
    except ValueError:
        raise BadLineError(number, f"{written} is no moment of the calendar.") from None
    if not 1900 <= at.year < 3000:
        raise BadLineError(number, f"{written} is no moment that a group can mean.")
    return at


def minutes(at: datetime) -> str:
    """The moment as the file writes it: 2026-08-03 10:15."""
    return at.strftime("%Y-%m-%d %H:%M")
