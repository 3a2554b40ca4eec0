"""Members of a dozen chats who say prices, change them and take them back, each so that it can be told apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from random import Random

from bot.messages import TAKE_BACK
from tests.telegram_stand_in import Rates, Shown, TelegramStandIn, person_id

GROUPS = (-1101, -1102, -1103, -1104)
SUPERGROUPS = (-1_001_000_000_101, -1_001_000_000_102, -1_001_000_000_103, -1_001_000_000_104)
MEMBERS = (
    ("Ines", "Bram", "Sunniva"),
    ("Tobias", "Calla", "Edda"),
    ("Mei", "Dario", "Wanda"),
    ("Amara", "Emil", "Yorick"),
    ("Juno", "Falk", "Zelda"),
    ("Kasper", "Greta", "Ottilie"),
    ("Liv", "Henrik", "Petra"),
    ("Milo", "Isolde", "Quentin"),
)
"""Of each group and supergroup; the first of the first four write to the clerk in private too, once it knows them."""
_PLACES = (
    *zip((*GROUPS, *SUPERGROUPS), MEMBERS, strict=True),
    *((person_id(first), (first,)) for first, *_ in MEMBERS[:4]),
)
"""The chats, with who speaks there."""
WEATHER = Rates(too_many=0.04, bad_gateway=0.04, reset=0.04, lost=0.06, duplicated=0.1)
METHODS = (
    "getMe getUpdates sendMessage editMessageText answerCallbackQuery setWebhook deleteWebhook setMyCommands"
    " setMyDescription setMyShortDescription"
).split()


@dataclass(frozen=True, slots=True)
class Price:
    """A price that nobody else says; so many pencils for so many cents."""

    count: int
    cents: int

    @staticmethod
    def numbered(number: int) -> Price:
        """A price of its own for each number, about 4 cents a pencil."""
        step, more = divmod(number, 100)
        return Price(100 + more, 4 * (100 + more) + step)

    @property
    def words(self) -> str:
        """As it is said."""
        return f"{self.count} pencils {self.cents / 100:.2f} at corner store"

    @property
    def summary(self) -> str:
        """As the clerk calls its entry."""
        return f"{self.count} pencils ${self.cents / 100:.2f}, corner store"


@dataclass(slots=True)
class Said:
    """A message with what has become of it: changed to another price, taken back, or neither."""

    chat: int
    member: str
    number: int
    price: Price
    in_order: bool
    changed_to: Price | None = None
    is_taken_back: bool = False


class Crowd:
    """Everybody, doing things by chance; ``may_mix_up`` lets some of it reach the clerk out of order."""

    def __init__(self, telegram: TelegramStandIn, random: Random, *, may_mix_up: bool) -> None:
        self._telegram = telegram
        self._random = random
        self._may_mix_up = may_mix_up
        self._is_held = False
        self._prices = map(Price.numbered, count())
        self.said: list[Said] = []

    def act(self) -> None:
        """Somebody does something."""
        chance = self._random.random()
        if chance < 0.12 and self._takes_back():
            return
        if chance < 0.24 and self._changes():
            return
        if chance < 0.34 and self._may_mix_up:
            self._mixes_up()
        self._says()

    def falls_quiet(self) -> None:
        """All that was done reaches the clerk, and nothing goes wrong any more."""
        if self._is_held:
            self._mixes_up()
        self._telegram.recovers()

    def _says(self) -> None:
        chat, members = self._random.choice([place for place in _PLACES if self._is_open(place[0])])
        member, price = self._random.choice(members), next(self._prices)
        number = self._telegram.says(member, price.words, chat)
        self.said.append(Said(chat, member, number, price, not self._is_held))

    def _is_open(self, chat: int) -> bool:
        """Whether people write there already: a private chat shows the books of a group that was seen before."""
        if chat < 0:
            return True
        here = [one for one in self.said if person_id(one.member) == chat]
        return any(one.chat == chat or self._answer(one) for one in here)

    def _changes(self) -> bool:
        """Somebody changes a message of theirs, heard or not yet."""
        free = [one for one in self._untouched() if one.in_order]
        if not free:
            return False
        one = self._random.choice(free[-10:])
        one.changed_to = next(self._prices)
        self._telegram.edits(one.member, one.number, one.changed_to.words, one.chat)
        return True

    def _takes_back(self) -> bool:
        """Somebody presses the button under the answer to a message of theirs."""
        for one in reversed(list(self._untouched())):
            if (post := self._answer(one)) is not None:
                one.is_taken_back = True
                self._telegram.forges_press(one.member, one.chat, post, post.action(TAKE_BACK))
                return True
        return False

    def _mixes_up(self) -> None:
        """What is done reaches the clerk later, in another order; then it is let go."""
        if self._is_held:
            self._telegram.lets_go(self._random.randrange(1000))
        else:
            self._telegram.holds_back()
        self._is_held = not self._is_held

    def _untouched(self) -> Iterator[Said]:
        return (one for one in self.said if one.changed_to is None and not one.is_taken_back)

    def _answer(self, one: Said) -> Shown | None:
        posts = self._telegram.posts(one.chat)
        return next((post for post in posts if post.answers == one.number and TAKE_BACK in post.buttons), None)
