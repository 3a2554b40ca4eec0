"""Whatever is pressed, said or replied to in one group, nothing of another is told or changed there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field, replace
from datetime import timedelta
from fractions import Fraction
from itertools import cycle, product

import pytest

from bot.group_file import read_group
from bot.messages import Incoming, Post, Queued, Sender
from bot.skills import KINDS, PRESSES
from bot.skills.house.setting_up import SETUP
from bot.skills.shares.live import TAKE
from bot.storage.inbox import keep
from bot.timekeeper import Timekeeper
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import currency
from tests.chat import in_memory
from tests.conftest import HARBOUR_LANE
from tests.examples import examples
from tests.rows import Rows, all_rows, group_rows
from tests.skills.test_private_balances import Town

WORD = "quill"
"""Stands in every name and every text of the first group, and nowhere else."""
THEIRS, OURS = "quill yard", "harbour"
QUILLS = Group(
    "Quill Yard packers",
    Settings(currency("USD"), "America/Chicago", "US"),
    ("Quillan", "Quilla"),
    ("Quill Market",),
    (Item("quill", ("quill pen",), PricePoint(Fraction(5), Fraction(7))), Item("quillbox")),
    (Kit("quill pouch", 120, None, {"quill": 4}, costs={"quill carton": 60}),),
    ("quill ink",),
)
QUILLAN, QUILLA = Sender("Quillan", "@quillan"), Sender("Quilla", "@quilla")
MEI, STRANGER = Sender("Mei", "@mei"), Sender("Rosa", "@rosa")
SAID = """
12 quills 0.47 at Quill Market
got 144 quills 7.20 at Quill Market
note on quills: quills break
split 24 quillboxes 2.40 with Quilla
case of 144 quills 7.20 at Quill Market, who wants some?
put me down for 24 quills
paid Quilla 1.20
I have 40 quills in my quill closet
packed 2 quill pouches
gave Quilla 3 quills
used 2 quills for the quill table
I'm buying 30 quills
each quill pouch gets 5 quills
goal 150 quill pouches by nov 14
quill pouches are for ages 5 to 9
quills have sharp points
our budget is 600
quiet hours 10pm to 8am
add a window: quill sale first saturday of october
remind me friday at 5pm to fetch the quill cartons
move the quill cartons reminder to saturday at 6pm
price point for quills is 6c
12 quills 0.20 at Quill Market until friday
I owe Quilla 5 for quill stamps
12 quill inks 4.70 at Quill Market
forget me
delete all our data
""".strip().splitlines()
MOST_EXAMPLES = 4
"""How many messages of each kind are heard."""


@dataclass
class Overheard(Town):
    """A town in which all posts of each chat are kept."""

    told: dict[str, list[Post]] = field(default_factory=dict)

    def deliver(self, queued: Queued) -> str:
        self.told.setdefault(queued.chat, []).append(queued.post)
        return super().deliver(queued)


@dataclass(frozen=True)
class Two:
    """A town of two groups, and the rows of the first as they are to stay."""

    town: Overheard
    before: Rows

    def hears(self, incoming: Incoming) -> None:
        """Let our group hear something, each time as a message of its own."""
        self.town.hears(replace(incoming, at=self.town.clock, ref=str(next(self.town.refs))))

    def stays_apart(self) -> None:
        """Nothing of theirs was told to anybody else, and nothing of it is changed."""
        told = [post for chat, posts in self.town.told.items() if "quill" not in chat for post in posts]
        assert told
        assert [post for post in told if WORD in str(post).casefold()] == []
        assert group_rows(self.town.database, THEIRS) == self.before


@pytest.fixture(scope="module")
def two() -> Iterator[Two]:
    """Quill Yard with a row of everything, and Harbour Lane beside it."""
    with closing(in_memory()) as database:
        group = read_group(HARBOUR_LANE)
        database.found(THEIRS, QUILLS)
        database.found(OURS, group)
        town = Overheard(group, database)
        town.says(THEIRS, QUILLA, "hello")
        for said in SAID:
            town.says(THEIRS, QUILLAN, said)
        town.hears(Incoming(THEIRS, QUILLA, "12 quills 0.50 at Quill Market", town.clock, "photo", photo="quill photo"))
        town.says("@quilla", QUILLA, "what do I owe")
        keep(database, [Incoming(THEIRS, QUILLA, "12 quills 0.60", town.clock, "not heard yet", arrival=1)])
        town.clock += timedelta(days=7)
        Timekeeper(database, town.assistant).play_to(town.clock)
        town.says(OURS, MEI, "split 24 pens 2.40 with Ines")
        town.says(OURS, MEI, "forget me")
        town.posts.clear()
        yield Two(town, group_rows(database, THEIRS))


def test_there_is_a_row_of_everything(two: Two) -> None:
    assert [table for table, rows in two.before.items() if not rows] == []


def test_a_foreign_number_is_pressed(two: Two) -> None:
    """Each press with each number, that of a question with each of its answers, by a member and by a stranger."""
    rows = [row for found in all_rows(two.town.database).values() for row in found]
    numbers = range(1, 1 + max(row.get("id", 0) for row in rows))
    seconds = {TAKE: (":0", ":12"), "pick": (":0", ":1"), SETUP: (":0", ":1")}
    for what, number in product((*PRESSES, "pick"), numbers):
        for second in seconds.get(what, ("",)):
            two.hears(Incoming(OURS, MEI, "", two.town.clock, "", pressed=f"{what}:{number}{second}"))
    for sender, number in product((MEI, STRANGER), numbers):
        two.hears(Incoming(f"{sender.key}", sender, "", two.town.clock, "", pressed=f"own:1:{number}", private=True))

    two.stays_apart()


def test_a_foreign_post_is_replied_to(two: Two) -> None:
    """Examples of every kind, said in reply to their posts in turn, and with their messages as those corrected."""
    refs = cycle([row["ref"] for row in two.before["outbox"]])
    said = cycle([row["ref"] for row in two.before["taken"]])
    for kind in KINDS:
        of_kind = [one.message for one in examples("reads", "asks") if one.kind == kind]
        for message in of_kind[:MOST_EXAMPLES]:
            two.hears(Incoming(OURS, MEI, message, two.town.clock, "", answers=next(refs)))
    for message in ("12 pencils 0.47", "take that back", "yes", "24"):
        for _ in range(5):
            two.hears(Incoming(OURS, MEI, message, two.town.clock, "", answers=next(refs)))
            two.hears(Incoming(OURS, MEI, message, two.town.clock, "", corrects=next(said)))

    two.stays_apart()


def test_a_private_chat_of_others_tells_nothing(two: Two) -> None:
    for sender in (MEI, STRANGER):
        for message in ("who owes what", "what do we have", "show settings", "what do we need", "which reminders"):
            two.hears(
                Incoming(f"{sender.key}", sender, message, two.town.clock, "", private=True, administrators=(sender,))
            )

    two.stays_apart()
