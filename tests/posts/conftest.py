"""The Harbour Lane packers with their deal alerts, which the tests of everything else do without."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from core.group import Group, Settings
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE


@pytest.fixture
def packers() -> Group:
    """The group as it is built, with three alerts a day."""
    group = read_group(HARBOUR_LANE)
    return replace(group, settings=replace(group.settings, alerts_a_day=Settings(group.settings.currency).alerts_a_day))


@pytest.fixture
def chat(packers: Group) -> Iterator[Chat]:
    """A chat of theirs, in which nothing has been said yet."""
    with closing(Chat(packers)) as started:
        yield started
