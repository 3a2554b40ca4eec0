"""The corpora of messages in many voices: measured by kind, the tuned part held to a floor."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.corpora.scoring import PARTS, Scored, scored, table


@pytest.mark.parametrize("part", PARTS)
def test_readings_are_measured_by_kind(part: str, capsys: pytest.CaptureFixture[str]) -> None:
    lines = list(scored(part))

    with capsys.disabled():
        print(f"\n{part}:\n{table(lines)}")

    assert len({line.id for line in lines}) == len(lines) > 0


def test_tuned_messages_stay_above_the_floor() -> None:
    counts = Counter(line.outcome for line in scored("tuned"))

    assert counts["exact"] >= 0.95 * counts.total()
    assert counts["wrongly written"] <= 0.015 * counts.total()
    assert counts["small talk answered"] <= 0.005 * counts.total()


def test_the_corpora_are_as_large_as_promised() -> None:
    lines: list[Scored] = [line for part in PARTS for line in scored(part) if not line.found]
    talk = sum(line.kind == "chatter" for line in lines)
    held_out = len(list(scored("held_out")))

    assert len(lines) - talk >= 250
    assert talk >= 80
    assert 0.2 <= held_out / len(lines) <= 0.3


def test_the_stock_kinds_are_covered_as_promised() -> None:
    lines = [line for part in PARTS for line in scored(part) if line.id.startswith(("st", "sk"))]
    talk = sum(line.kind == "chatter" for line in lines)

    assert len(lines) - talk >= 120
    assert talk >= 40
    assert sum(line.id.startswith(("st", "sk")) for line in scored("held_out")) >= len(lines) / 4 - 3


def test_the_calendar_kinds_are_covered_as_promised() -> None:
    lines = [line for part in PARTS for line in scored(part) if line.id.startswith(("ca", "co", "ct"))]
    talk = sum(line.kind == "chatter" for line in lines)

    assert len(lines) - talk >= 120
    assert talk >= 40
    assert sum(line.id.startswith(("ca", "co", "ct")) for line in scored("held_out")) >= len(lines) / 4 - 3
