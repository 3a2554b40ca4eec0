"""What all tests may ask for."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from bot.group_file import read_group

if TYPE_CHECKING:
    from tests.chat import Chat

HARBOUR_LANE = Path(__file__).parent / "corpora" / "harbour_lane"


@pytest.fixture
def chat() -> Iterator[Chat]:
    """A chat of the Harbour Lane packers, who have said nothing yet."""
    from tests.chat import Chat

    with closing(Chat(read_group(HARBOUR_LANE))) as started:
        yield started


@pytest.fixture
def taxed() -> Iterator[Chat]:
    """The same packers where sales tax is 8.25 percent."""
    from tests.chat import Chat

    group = read_group(HARBOUR_LANE)
    settings = replace(group.settings, tax_rate=Fraction("8.25"))
    with closing(Chat(replace(group, settings=settings))) as started:
        yield started
