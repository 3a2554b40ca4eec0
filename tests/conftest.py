"""What all tests may ask for."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
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
