"""The fields of a group file: tables and values with the path they stand at, and what is wrong with a faulty one."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches
from fractions import Fraction
from pathlib import Path

from core.counts import CountError, checked


class GroupFileError(Exception):
    """The group folder cannot be read; the text is one sentence for the person who wrote it."""


@dataclass(frozen=True, slots=True)
class Field:
    """A value of the file, the path it stands at, and an example of it that works."""

    file: Path
    path: str
    value: object
    example: str

    def fault(self, what: str) -> GroupFileError:
        return GroupFileError(f"{self.file}: {self.path} {what}; what works is: {self.example}.")

    def part(self, path: str, value: object) -> Field:
        return Field(self.file, self.path + path, value, self.example)


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the file; ``path`` is empty for the file itself."""

    file: Path
    path: str
    values: dict[str, object]
    examples: dict[str, str]

    def field(self, name: str) -> Field | None:
        """The field of that name; None where the file leaves it out."""
        if name not in self.values:
            return None
        return Field(self.file, self.path + name, self.values[name], self.examples[name])

    def needed(self, name: str) -> Field:
        field = self.field(name)
        if field is None:
            raise Field(self.file, self.path + name, None, self.examples[name]).fault("is missing")
        return field

    def tables(self, name: str, examples: dict[str, str]) -> list[Table]:
        """The tables written as [[name]]; their places count from 1."""
        field = self.field(name)
        if field is None:
            return []
        if not isinstance(field.value, list) or not all(isinstance(each, dict) for each in field.value):
            raise field.fault(f"must be written as [[{name}]], once for each {name}")
        return [
            known(Table(self.file, f"{name}[{place}].", values, examples))
            for place, values in enumerate(field.value, 1)
        ]


def known(table: Table) -> Table:
    """The table itself, if it holds no field of another name."""
    for name in table.values:
        if name not in table.examples:
            raise _unknown(table, name)
    return table


def _unknown(table: Table, name: str) -> GroupFileError:
    nearest = nearest_word(name, table.examples)
    known = f"the nearest is {nearest!r}" if nearest else f"the fields here are {', '.join(table.examples)}"
    example = table.examples[nearest or "name"]
    return Field(table.file, table.path + name, None, example).fault(f"is no field of the file, {known}")


def nearest_word(word: str, words: Iterable[str]) -> str | None:
    by_key = {key_of(each): each for each in words}
    close = get_close_matches(key_of(word), by_key, 1, 0.5)
    return by_key[close[0]] if close else None


def key_of(name: str) -> str:
    return " ".join(name.split()).casefold()


def text_of(field: Field) -> str:
    """The text of a field, trimmed; it must be one line and say something."""
    if not isinstance(field.value, str):
        raise field.fault("must be a text in quotes")
    text = " ".join(field.value.split())
    if not text or not text.isprintable():
        raise field.fault("is empty" if not text else "holds a character that cannot be shown")
    return text


def texts_of(field: Field) -> list[Field]:
    if not isinstance(field.value, list):
        raise field.fault("must be a list of texts in brackets")
    return [field.part(f"[{place}]", value) for place, value in enumerate(field.value, 1)]


def names_of(table: Table, name: str) -> tuple[str, ...]:
    field = table.field(name)
    entries = texts_of(field) if field else []
    names = tuple(text_of(entry) for entry in entries)
    none_twice(entries)
    return names


def none_twice(names: Iterable[Field]) -> None:
    """Refuses a name that stands twice, in whatever case; every field must have passed ``_name``."""
    first: dict[str, Field] = {}
    for field in names:
        earlier = first.setdefault(key_of(str(field.value)), field)
        if earlier is not field:
            raise field.fault(f"is {field.value!r}, a name that {earlier.path} has already")


def decimal_of(field: Field, what: str) -> Fraction:
    """The exact value of a plain decimal text."""
    if isinstance(field.value, int | float):
        raise field.fault(f"is {field.value} without quotes, so it is not exact, and it must stand in quotes")
    text = text_of(field)
    if re.fullmatch(r"-[0-9.]+", text):
        raise field.fault(f"is {text}, and no {what} is below zero")
    if not re.fullmatch(r"[0-9]{1,12}(\.[0-9]{1,12})?|\.[0-9]{1,12}", text):
        raise field.fault(f"is {text!r}, and must be a plain decimal number in quotes")
    return Fraction(text)


def count_of(field: Field) -> int:
    if not isinstance(field.value, int) or isinstance(field.value, bool):
        raise field.fault("must be a whole number without quotes")
    try:
        return checked(field.value)
    except CountError:
        raise field.fault(f"is {field.value}, and must be between 1 and a million") from None


def day_of(field: Field) -> date:
    if not isinstance(field.value, date) or isinstance(field.value, datetime):
        raise field.fault("must be a day, year first, without quotes")
    return field.value
