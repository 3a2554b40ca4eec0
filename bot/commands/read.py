"""``read``: messages from standard input, one a line, and what the clerk understood of each; records nothing."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

import typer

from bot import clock
from bot.commands.faults import told
from bot.group_file import default_group, read_group
from bot.reading.explain import explain
from bot.reading.marking import Listener
from bot.reading.names import names_of
from bot.reading.reader import Reader, Understood
from bot.skills import FORMS
from core.group import Group


def read(group: Path | None, why: bool) -> None:
    """Answer each line of standard input with one line (or, with ``why``, with an explanation)."""
    with told():
        known = read_group(group) if group else default_group()
    for line in answers(sys.stdin, known, why):
        typer.echo(line)


def answers(lines: Iterable[str], group: Group, why: bool) -> Iterator[str]:
    """One JSON object for each line that is not empty (contract.md, "read")."""
    reader, names = Reader(FORMS), names_of(group)
    for line in lines:
        message = _message(line)
        if not message["text"].strip():
            continue
        listener = Listener(names, group.settings, message.get("from") or "")
        understood = reader.read(message["text"], _moment(message.get("at")), listener)
        yield json.dumps({"text": message["text"], "readings": as_json(understood, group)}, ensure_ascii=False)
        if why:
            yield from explain(understood)


def as_json(understood: Understood, group: Group) -> list[dict[str, object]]:
    """The readings as objects of contract.md; talk between people is one reading of kind chatter."""
    if not understood.readings:
        return [{"kind": "chatter"}]
    return [{"kind": reading.kind, **reading.slots.as_json(group.settings.currency)} for reading in understood.readings]


def _message(line: str) -> dict[str, str]:
    text = line.rstrip("\n")
    try:
        message = json.loads(text)
    except ValueError:
        return {"text": text}
    if isinstance(message, dict) and isinstance(message.get("text"), str):
        return message
    return {"text": text}


def _moment(written: str | None) -> datetime:
    if not written:
        return clock.now()
    try:
        return datetime.fromisoformat(written)
    except ValueError:
        return clock.now()
