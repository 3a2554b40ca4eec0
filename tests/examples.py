"""The examples that lie beside kinds and span files, as the tests of all of them find and read them."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from bot.commands.read import as_json
from bot.group_file import read_group
from bot.reading.marking import Listener, mark
from bot.reading.names import names_of
from bot.reading.reader import Reader
from bot.reading.spans import Marked
from bot.reading.words import clean
from bot.skills import FORMS
from tests.chat import START
from tests.conftest import HARBOUR_LANE

BOT = Path(__file__).parents[1] / "bot"
SPEAKER = "Mei"

Reading = dict[str, object]


@dataclass(frozen=True, slots=True)
class Example:
    """One message beside a kind: ``block`` is the heading it stands under, ``entry`` all that stands there."""

    owner: str
    block: str
    message: str
    entry: dict[str, Any]

    @property
    def kind(self) -> str:
        """The kind that the file lies beside."""
        return self.owner.rpartition("/")[2]

    @property
    def label(self) -> str:
        """What the test of it is called: "prices/price: 12 pencils 0.47 at corner store"."""
        return f"{self.owner}: {self.message}"


def kind_files() -> dict[str, Path]:
    """The example files of all kinds, by folder and kind: "prices/price"."""
    found = sorted((BOT / "skills").glob("*/*.toml"))
    return {f"{path.parent.name}/{path.stem}": path for path in found}


def span_files() -> dict[str, Path]:
    """The example files of all sorts of spans, by their name: "amounts"."""
    return {path.stem: path for path in sorted((BOT / "reading").glob("*.toml")) if path.stem != "lexicon"}


def entries(path: Path, block: str) -> list[dict[str, Any]]:
    """What stands under the headings of one name in an example file."""
    found: list[dict[str, Any]] = tomllib.loads(path.read_text("utf-8")).get(block, [])
    return found


def examples(*blocks: str) -> Iterator[Example]:
    """Every message under such headings, of every kind."""
    for owner, path in kind_files().items():
        for block in blocks:
            for entry in entries(path, block):
                for message in entry["messages"]:
                    yield Example(owner, block, message, entry)


@cache
def _reader() -> tuple[Reader, Listener]:
    group = read_group(HARBOUR_LANE)
    return Reader(FORMS), Listener(names_of(group), group.settings, SPEAKER)


def read(message: str, at: str = START) -> list[Reading]:
    """The readings of a message of Mei's in Harbour Lane, as ``python -m bot read`` prints them."""
    reader, listener = _reader()
    understood = reader.read(message, datetime.fromisoformat(at), listener)
    return [_without_nulls(reading) for reading in as_json(understood, read_group(HARBOUR_LANE))]


def _without_nulls(value: Any) -> Any:
    """A reading as TOML can say it: what is null is left out."""
    if isinstance(value, list):
        return [_without_nulls(one) for one in value]
    if isinstance(value, dict):
        return {name: _without_nulls(one) for name, one in value.items() if one is not None}
    return value


def marked(text: str, at: str = START) -> Marked:
    """The tokens of a text with every span in it."""
    return mark(clean(text), datetime.fromisoformat(at), _reader()[1])
