"""A season of shares: six members, four cases, part payments, one split undone, and all square at the end."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.test_splits import owed


@pytest.fixture
def six() -> Iterator[Chat]:
    """Harbour Lane with two members more."""
    group = read_group(HARBOUR_LANE)
    with closing(Chat(replace(group, members=(*group.members, "Joanna", "Kofi")))) as chat:
        yield chat


def test_six_members_share_four_cases_and_end_square(six: Chat) -> None:
    # 1. Mei: 144 sharpeners, 12.60 + 8% tax 1.008, half up 1.01, + 4.50 shipping = 18.11 for six, 24 each.
    #    18.11 / 6 = 3.018 each: 3.01 and 5 cents over, all remainders equal, to the first five: 3.02, Kofi 3.01.
    six.says("Mei", "split 144 sharpeners 12.60 + 8% tax + 4.50 shipping between all of us")
    assert owed(six) == {"Mei": 1509, "Ines": -302, "Tobias": -302, "Amara": -302, "Joanna": -302, "Kofi": -301}

    # 2. Ines: 96 combs, 18.00 + 1.44 tax - 2.00 coupon = 17.44: Ines 40, Tobias 24, Amara 32.
    #    17.44 / 96 = 18.1667 cents: 40 are 7.2667, 24 are 4.36, 32 are 5.8133; 7.26 + 4.36 + 5.81 = 17.43, and
    #    the cent over goes to the largest remainder, Ines: 7.27.
    six.says("Ines", "split 96 combs 18.00 + 1.44 tax - 2.00 coupon: me 40, Tobias 24, Amara 32")
    #    Ines: -3.02 + 4.36 + 5.81 = 7.15; Tobias: -3.02 - 4.36; Amara: -3.02 - 5.81
    assert owed(six) == {"Mei": 1509, "Ines": 715, "Tobias": -738, "Amara": -883, "Joanna": -302, "Kofi": -301}

    # 3. Joanna offers 200 bar soaps for 31.00: Kofi 60, Mei 48, the other 92 are Joanna's.
    #    31.00 / 200 = 15.5 cents: 60 are 9.30, 48 are 7.44, 92 are 14.26.
    six.says("Joanna", "i can get 200 bar soaps for 31.00, who wants some?")
    six.says("Kofi", "put me down for 5 dozen")
    six.presses("Mei", "48")
    six.presses("Joanna", "Close")
    #    Joanna: -3.02 + 9.30 + 7.44 = 13.72; Kofi: -3.01 - 9.30; Mei: 15.09 - 7.44
    assert owed(six) == {"Mei": 765, "Ines": 715, "Tobias": -738, "Amara": -883, "Joanna": 1372, "Kofi": -1231}

    # 4. Tobias buys 60 notebooks for 30.01 and shares them with Amara and Kofi: 20 each.
    #    30.01 / 3 = 10.0033: one cent over, to the first, Tobias: 10.01, 10.00, 10.00.
    six.says("Tobias", "bought 60 notebooks 30.01 at wickerby")
    six.says("Tobias", "split that with Amara and Kofi")
    #    Tobias: -7.38 + 20.00 = 12.62; Amara: -8.83 - 10.00; Kofi: -12.31 - 10.00
    assert owed(six) == {"Mei": 765, "Ines": 715, "Tobias": 1262, "Amara": -1883, "Joanna": 1372, "Kofi": -2231}

    # Part payments: Kofi pays Tobias 10.00, Amara pays Mei 5.00.
    six.says("Kofi", "paid Tobias 10.00")
    six.says("Mei", "Amara gave me five dollars")
    #    Kofi: -22.31 + 10.00; Tobias: 12.62 - 10.00; Amara: -18.83 + 5.00; Mei: 7.65 - 5.00
    assert owed(six) == {"Mei": 265, "Ines": 715, "Tobias": 262, "Amara": -1383, "Joanna": 1372, "Kofi": -1231}

    # The combs are taken back: Ines 7.15 - 10.17 = -3.02, Tobias 2.62 + 4.36, Amara -13.83 + 5.81.
    [told] = six.says("Ines", "take that back")
    assert told.text.startswith("Taken back: split of 96 combs $17.44")
    assert owed(six) == {"Mei": 265, "Ines": -302, "Tobias": 698, "Amara": -802, "Joanna": 1372, "Kofi": -1231}

    # Three are owed 2.65 + 6.98 + 13.72 = 23.35, three owe 3.02 + 8.02 + 12.31 = 23.35, and no smaller group of
    # them adds up to nothing, so it takes 6 - 1 = 5 payments, each from the largest debt to the largest credit:
    # Kofi 12.31 to Joanna (1.41 left), Amara 6.98 to Tobias (1.04 left), Ines 2.65 to Mei (0.37 left),
    # Amara 1.04 to Joanna (0.37 left), Ines 0.37 to Joanna.
    [post] = six.says("Mei", "who owes what?")
    assert post.text.splitlines()[6:] == [
        "Fewest payments to be square (5):",
        "Amara pays Tobias $6.98",
        "Amara pays Joanna $1.04",
        "Ines pays Mei $2.65",
        "Ines pays Joanna $0.37",
        "Kofi pays Joanna $12.31",
    ]
    for name, said in (
        ("Amara", "paid Tobias 6.98"),
        ("Joanna", "got 1.04 from Amara"),
        ("Ines", "paid Mei 2.65"),
        ("Joanna", "Ines gave me 37c"),
        ("Kofi", "paid Joanna 12.31"),
    ):
        six.says(name, said)
    [post] = six.says("Mei", "who owes what?")
    assert post.text == "All square: nobody owes anything."
    assert owed(six) == {}
