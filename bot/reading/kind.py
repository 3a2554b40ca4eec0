"""A kind: one thing the clerk can do, with its sentence forms, its teaching lines and its answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from bot.reading.form import Form

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Kind(Generic[Answer]):
    """A kind of reading under its name of contract.md.

    ``teach`` are lines that help shows: an example message and what it does. ``answer`` is called with a
    reading's slots; reading itself never calls it.
    """

    name: str
    forms: tuple[Form, ...]
    answer: Callable[..., Answer]
    teach: tuple[tuple[str, str], ...] = ()
