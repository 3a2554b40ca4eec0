"""Entries: what one message put into the books, who entered it, and who took it back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Entry:
    """One message's records as a whole; taken back, it stays with the trace of who did so and when."""

    number: int
    by: str
    at: datetime
    summary: str
    undone_by: str | None = None
    undone_at: datetime | None = None
