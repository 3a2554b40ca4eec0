"""The money book in currencies without decimals, and with three."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from core.items import PricePoint
from core.money import currency
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.test_splits import owed


def chat_in(code: str) -> Chat:
    """Harbour Lane in another currency, without its price points."""
    group = read_group(HARBOUR_LANE)
    items = tuple(replace(item, price_point=PricePoint()) for item in group.items)
    return Chat(replace(group, items=items, settings=replace(group.settings, currency=currency(code))))


@pytest.fixture
def yen() -> Iterator[Chat]:
    with closing(chat_in("JPY")) as chat:
        yield chat


@pytest.fixture
def dinars() -> Iterator[Chat]:
    with closing(chat_in("KWD")) as chat:
        yield chat


def test_yen_are_shared_whole(yen: Chat) -> None:
    # 1000 in three: 334, 333, 333
    yen.says("Mei", "split 144 sharpeners 1000 between me, Ines and Tobias")

    assert owed(yen) == {"Mei": 666, "Ines": -333, "Tobias": -333}


def test_an_offer_and_a_payment_in_yen_need_no_point(yen: Chat) -> None:
    # 3100 / 200 is 15.5 yen: 24 are 372
    yen.says("Mei", "i can get 200 bar soaps for 3100, who wants some?")
    yen.presses("Tobias", "24")
    yen.presses("Mei", "Close")
    assert owed(yen) == {"Mei": 372, "Tobias": -372}

    yen.says("Tobias", "paid Mei 372")

    assert owed(yen) == {}


def test_dinars_are_shared_to_the_thousandth(dinars: Chat) -> None:
    # 10.000 in three: 3.334, 3.333, 3.333
    [post] = dinars.says("Mei", "split 144 sharpeners 10.000 between me, Ines and Tobias")

    assert owed(dinars) == {"Mei": 6666, "Ines": -3333, "Tobias": -3333}
    assert "Mei: 48 for KWD3.334" in post.text
