"""Scores readings of a corpus of messages as contract.md says: exact, asked, missed, wrong, small talk answered."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from bot.group_file import read_group
from bot.reading.marking import Listener
from bot.reading.names import names_of
from bot.reading.reader import Reader
from bot.skills import FORMS

FOLDER = Path(__file__).parent
PARTS = ("tuned", "held_out")
"""What the reader was tuned on, and what was set aside by the hash of its id or by chance: measured, never tuned on."""

OUTCOMES = ("exact", "asked", "missed", "wrong", "wrongly written", "small talk answered")
RECORDING = frozenset(
    "price bought set_target note undo split claim paid debt close_split cancel_split have removed moved packed buying"
    " kit_line kit_cost kit_ages goal set_budget not_packed hazard remind move_reminder drop_reminder add_window"
    " switch_window set_setting".split()
)
_MONEY = frozenset(("price", "regular", "target", "limit_price", "amount", "total"))
_READER = Reader(FORMS)

Read = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Scored:
    """A corpus line with what was read of it, and how that is to be called."""

    id: str
    text: str
    kind: str
    outcome: str
    expected: list[Read]
    got: list[Read]
    found: bool = False
    """True for a message found later, to stand guard or to tune on; nothing of its sort is set aside."""


def scored(part: str) -> Iterator[Scored]:
    """Every line of one part, of every group."""
    for folder in sorted(path.parent for path in FOLDER.glob("*/group.toml")):
        group = read_group(folder)
        names = names_of(group)
        for file in sorted((folder / part).glob("*.jsonl")):
            for line in file.read_text("utf-8").splitlines():
                case = json.loads(line)
                listener = Listener(names, group.settings, case.get("from", ""))
                understood = _READER.read(case["text"], datetime.fromisoformat(case["at"]), listener)
                currency = group.settings.currency
                got = [{"kind": one.kind, **one.slots.as_json(currency)} for one in understood.readings]
                kind, outcome, found = case["expect"][0]["kind"], outcome_of(case, got), "found" in file.stem
                yield Scored(case["id"], case["text"], kind, outcome, case["expect"], got, found)


def outcome_of(case: dict[str, Any], got: list[Read]) -> str:
    """What to call the readings of a corpus line."""
    wanted = [_spoken(one) for one in (case["expect"], *case.get("accept", []))]
    asked = any(one["kind"] == "unclear" for one in got)
    if any(_same(one, got) for one in wanted) or (asked and case.get("may_ask")):
        return "exact"
    if not wanted[0]:
        return "small talk answered"
    if asked:
        return "asked"
    if not got:
        return "missed"
    return "wrongly written" if any(one["kind"] in RECORDING for one in got) else "wrong"


def _spoken(readings: list[Read]) -> list[Read]:
    return [one for one in readings if one["kind"] != "chatter"]


def _same(wanted: list[Read], got: list[Read]) -> bool:
    return len(wanted) == len(got) and all(_alike(one, other) for one, other in zip(wanted, got, strict=True))


def _alike(wanted: Read, got: Read) -> bool:
    if wanted["kind"] != got["kind"]:
        return False
    named = [slot for slot in wanted if slot not in ("kind", "question", "options")]
    return wanted["kind"] == "unclear" or all(_value(wanted, slot) == _value(got, slot) for slot in named)


def _value(read: Read, slot: str) -> object:
    value = read.get(slot)
    if value is not None and slot in _MONEY:
        return Decimal(value)
    return _plain(value)


def _plain(value: object) -> object:
    """A value without regard to case, in lists of slots as well."""
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, dict):
        return {slot: _plain(one) for slot, one in value.items()}
    return value.casefold() if isinstance(value, str) else value


def table(lines: list[Scored]) -> str:
    """The outcomes by kind, a row each, and the sum of all."""
    kinds = sorted({line.kind for line in lines})
    width = max(map(len, kinds), default=5)
    rows = [" ".join([" " * width, "  all", *OUTCOMES])]
    for kind in [*kinds, "all"]:
        counts = Counter(line.outcome for line in lines if kind in ("all", line.kind))
        cells = [str(counts[outcome]).rjust(len(outcome)) for outcome in OUTCOMES]
        rows.append(" ".join([kind.ljust(width), str(sum(counts.values())).rjust(5), *cells]))
    return "\n".join(rows)
