"""A season of five packers, eight shops, forty items and three kits, worked out a second way from its events."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pytest

from bot.group_file import read_group
from bot.messages import Post
from bot.skills.answering import Desk
from bot.skills.costing import in_packed, spent_on_items
from bot.skills.supply import Supply
from bot.storage.entries import last_entries
from bot.storage.group import load_group
from bot.storage.prices import spent
from bot.storage.questions import question
from bot.storage.stock import holdings
from bot.transports.written_chat import Pressed, Said, read_chat
from core.buying_plan import buying_plan
from tests.chat import Chat
from tests.seasons.worked_out import UNRECORDED, Season

FOLDER = Path(__file__).parent / "packing_season"
TODAY, AFTERWARDS = "2026-11-25", "2026-11-25T09:00"
KITS = ("school parcel", "wash roll", "play bag")
ITEMS = tuple(item.name for item in read_group(FOLDER).items)
ALIKE = frozenset(("scissors", "toothpaste", "socks"))
"""Things of which one and several are called the same."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What one line of the chat brought: posts, whether the books changed, how many questions were asked."""

    number: int
    said: str
    pressed: bool
    posts: list[Post]
    recorded: bool
    asked: int


@dataclass(frozen=True, slots=True)
class Played:
    """The chat with the season played, and what each of its lines brought."""

    chat: Chat
    heard: list[Heard]

    def asks(self, text: str) -> str:
        """What the clerk answers Ilka, on the morning after."""
        [post] = self.chat.says("Ilka", text, AFTERWARDS)
        return post.text


@pytest.fixture(scope="module")
def played() -> Iterator[Played]:
    """The whole of chat.txt, played through the assistant."""
    with closing(Chat(read_group(FOLDER))) as chat:
        lines = read_chat((FOLDER / "chat.txt").read_text("utf-8"))
        heard = [_hear(chat, line) for line in lines if isinstance(line, Said | Pressed)]
        chat.waits(AFTERWARDS)
        yield Played(chat, heard)


@pytest.fixture(scope="module")
def season() -> Season:
    """The same season, worked out from events.csv."""
    return Season(FOLDER, TODAY)


@pytest.fixture
def supply(played: Played) -> Iterator[Supply]:
    """What the program's own rooms know of the stock on the morning after."""
    with played.chat.books() as books:
        yield Supply(Desk(books, load_group(books), "Ilka", played.chat.moment(AFTERWARDS)))


def _hear(chat: Chat, line: Said | Pressed) -> Heard:
    chat.waits(f"{line.at:%Y-%m-%dT%H:%M}")
    before, asked = _entries(chat), _questions(chat)
    said = line.text if isinstance(line, Said) else line.label
    posts = chat.says(line.name, said) if isinstance(line, Said) else chat.presses(line.name, said)
    return Heard(
        line.number, said, isinstance(line, Pressed), posts, _entries(chat) != before, _questions(chat) - asked
    )


def _entries(chat: Chat) -> int:
    """How many entries stand in the books."""
    with chat.books() as books:
        return len(last_entries(books, 1_000))


def _questions(chat: Chat) -> int:
    """How many questions the clerk has asked; they are numbered from 1."""
    with chat.books() as books:
        number = 0
        while question(books, number + 1):
            number += 1
        return number


def things(count: int, item: str) -> str:
    """A count of an item as people write it: "1 comb", "3 bars of soap"."""
    return f"{count:,} {item if count == 1 else several(item)}"


def several(item: str) -> str:
    """The plural of an item."""
    head, of, rest = item.partition(" of ")
    return item if item in ALIKE else f"{head}{'es' if head.endswith(('sh', 'ch')) else 's'}{of}{rest}"


def dollars(cents: Fraction | int) -> str:
    """An amount to the whole cent, half up."""
    whole = int(Fraction(cents) + Fraction(1, 2))
    return f"${whole // 100:,}.{whole % 100:02}"


def to_the_tenth(cents: Fraction) -> str:
    """An amount to the tenth of a cent, half up; none where there is none: "$1.53", "$1.534"."""
    tenths = int(cents * 10 + Fraction(1, 2))
    return f"${tenths // 1000}.{tenths % 1000:03}".removesuffix("0") if tenths % 10 == 0 else f"${tenths / 1000:.3f}"


def as_price(cents: Fraction) -> str:
    """A price as a shelf has it: "16.5¢", "20¢", "$1.05"."""
    tenths = int(cents * 10 + Fraction(1, 2))
    return dollars(cents) if cents >= 100 else f"{tenths / 10:g}¢"


def bullets(text: str) -> dict[str, str]:
    """The lines of a list, by what they begin with up to a colon or bracket."""
    return {line[2:].split(":")[0].split(" (")[0]: line for line in text.splitlines() if line.startswith("• ")}


def told(text: str, *figures: str) -> list[str]:
    """The lines, but for those of a list, that hold all these figures, whole and none of them a part of another."""
    whole = [re.compile(rf"(?<![\w.,$]){re.escape(figure)}(?![\d¢]|[.,]\d)") for figure in figures]
    lines = [line for line in text.splitlines() if not line.startswith("• ")]
    return [line for line in lines if all(one.search(line) for one in whole)]


# What was understood.


def test_every_message_is_understood_as_meant(played: Played, season: Season) -> None:
    meant = season.all_said

    wrong = [
        (one.number, one.said, [post.text for post in one.posts])
        for one, what in ((one, meant[one.number]) for one in played.heard)
        if (one.recorded, bool(one.asked), bool(one.posts)) != (what not in UNRECORDED, what == "asks", what != "talk")
    ]

    assert wrong == []


def test_small_talk_gets_no_post(played: Played, season: Season) -> None:
    talk = [one for one in played.heard if season.all_said[one.number] == "talk"]

    assert len(talk) >= 30
    assert [one.said for one in talk if one.posts] == []


def test_each_question_is_answered_by_a_button(played: Played, season: Season) -> None:
    lines = [season.all_said[one.number] for one in played.heard]
    asking = [place for place, what in enumerate(lines) if what == "asks"]

    assert len(asking) >= 5
    assert all(played.heard[place + 1].pressed for place in asking)


def test_the_season_is_as_large_as_promised(played: Played, season: Season) -> None:
    group = season.group

    assert (len(group["members"]), len(group["stores"])) == (5, 8)
    assert (len(group["item"]), len(group["kit"]), len(group["window"])) == (40, 3, 2)
    assert 200 <= len(played.heard) <= 300
    assert set(season.events["other"]) >= set(group["stores"])


# What is in the books.


def test_stock_of_each_holder_is_the_same(supply: Supply, season: Season) -> None:
    held = {item: {one.member: one.units for one in of} for item, of in holdings(supply.desk.books).items()}

    assert held == season.holdings
    assert supply.held == season.holdings


def test_units_short_of_each_item_are_the_same(supply: Supply, season: Season) -> None:
    assert supply.needs.short == season.short
    assert supply.packed == dict(season.packed)


@pytest.mark.parametrize("kit", KITS)
def test_what_each_kit_lacks_is_the_same(kit: str, supply: Supply, season: Season) -> None:
    [need] = [one for one in supply.needs.kits if one.kit.name == kit]

    assert need.kit.contents == season.kits[kit]["contents"]
    assert dict(need.short) == season.short_of(kit)
    assert (need.completes, set(need.held_back_by)) == season.completes(kit)


@pytest.mark.parametrize("kit", KITS)
def test_packed_kits_cost_the_same_fractions(kit: str, supply: Supply, season: Season) -> None:
    of_kit = next(one for one in supply.kits if one.name == kit)

    costs = in_packed(of_kit, spent_on_items(supply.desk), supply.desk.today)

    assert {item: (cost.amount, cost.unpriced) for item, cost in costs.items()} == season.paid(kit)


def test_all_purchases_come_to_the_same(supply: Supply, season: Season) -> None:
    assert spent(supply.desk.books, supply.season.start, supply.season.end) == season.spent


def test_the_plan_costs_what_the_solver_finds(supply: Supply, season: Season) -> None:
    plan = buying_plan(supply.needs.short, supply.offers(), supply.desk.today)

    cost, beyond, without = season.plan
    assert plan.cost == cost
    assert {one.item: one.uncovered for one in plan.items if one.uncovered} == beyond
    assert dict(plan.unknown) == without


# What the clerk says.


@pytest.mark.parametrize("item", ITEMS)
def test_the_clerk_tells_who_has_it(item: str, played: Played, season: Season) -> None:
    text = played.asks(f"who has the {several(item)}?")

    held = season.holdings.get(item, {})
    found = re.findall(rf"({'|'.join(season.group['members'])}) (-?[\d,]+)", text)
    assert dict(found) == {member: f"{units:,}" for member, units in held.items()}
    assert bool(told(text, f"{sum(held.values()):,} in all")) == (len(held) > 1)
    short = re.findall(r"short\D*([\d,]+)", text)
    assert short == ([f"{season.short[item]:,}"] if item in season.short else [])


def test_the_clerk_tells_what_is_short(played: Played, season: Season) -> None:
    text = played.asks("what do we still need?")

    listed = bullets(text)
    items = {things(units, item): item for item, units in season.short.items()}
    assert set(listed) <= set(items)
    assert (len(listed), bool(told(text, f"{len(items) - 12} more"))) == (12, True)
    for line in listed.values():
        item = items[re.split(r"[:(]", line[2:])[0].strip()]
        assert f" {dollars(season.short[item] * season.targets[item])} at " in line
        assert f" {dollars(season.short[item] * season.best[item])} (" in line
    assert told(text, dollars(season.at_targets), dollars(season.at_best))


def test_the_clerk_tells_what_each_kit_lacks(played: Played, season: Season) -> None:
    text = played.asks("what does each kit still lack?")

    parts = re.split(r"^(?=[^•])", text, flags=re.MULTILINE)[1:]
    for kit, part in zip(KITS, parts, strict=True):
        completes, held_back = season.completes(kit)
        [head] = told(
            part, f"{season.packed[kit]} of {season.kits[kit]['goal']}", *[f"{completes} more"] * bool(completes)
        )
        assert head.lower().startswith(several(kit))
        assert sum(several(item) in head for item in held_back) == min(3, len(held_back))
        assert set(bullets(part)) == {things(units, item) for item, units in season.short_of(kit).items()}


@pytest.mark.parametrize("kit", KITS)
def test_the_clerk_tells_what_one_kit_costs(kit: str, played: Played, season: Season) -> None:
    text = played.asks(f"what does one {kit} cost?")

    lines = bullets(text)
    for item, count in season.kits[kit]["contents"].items():
        line = lines[things(count, item)]
        assert f": {as_price(count * season.targets[item])}" in line
        assert item not in season.best or f"best {as_price(count * season.best[item])}" in line
    assert told(text, dollars(season.each_rounded_up(kit)), to_the_tenth(season.each_at_targets(kit)))
    assert told(text, to_the_tenth(season.each_at_best(kit)))


@pytest.mark.parametrize("kit", KITS)
def test_the_clerk_tells_what_was_really_paid(kit: str, played: Played, season: Season) -> None:
    text = played.asks(f"what does one {kit} cost?")

    packed = season.packed[kit]
    assert told(text, to_the_tenth(season.really_paid(kit) / packed), str(packed))


def test_the_clerk_tells_what_is_spent(played: Played, season: Season) -> None:
    text = played.asks("how much have we spent?")

    besides = sum(season.packed[kit] * season.beside(kit) for kit in KITS)
    over = season.spent + besides - season.budget
    assert told(text, dollars(season.spent), dollars(besides), dollars(season.budget), f"{dollars(over)} over")
    for kit in KITS:
        total, packed = season.really_paid(kit), season.packed[kit]
        unknown = sum(units for _, units in season.paid(kit).values())
        assert told(text, things(packed, kit), dollars(total), dollars(total / packed), things(unknown, "unit"))
    assert told(text, dollars(season.at_targets + season.besides), dollars(season.at_best + season.besides))


def test_the_clerk_tells_what_to_buy_where(played: Played, season: Season) -> None:
    text = played.asks("what should we buy where?")

    cost, beyond, without = season.plan
    shops = dict(filter(None, map(shop_of, text.splitlines())))
    assert told(text.splitlines()[0], dollars(cost))
    assert sum(shops.values()) == cost
    assert set(shops) <= set(season.group["stores"])
    assert beyond
    assert without
    for item, units in {**beyond, **without}.items():
        assert told(text, things(units, item))


def test_the_packs_to_buy_are_on_offer(played: Played, season: Season) -> None:
    shop, bought = "", Counter[str]()
    names = {several(item): item for item in ITEMS}
    for line in played.asks("what should we buy where?").splitlines():
        shop = head[0] if (head := shop_of(line)) else shop
        if pack := re.match(r"• (\D+) ([\d,]+)(?: × ([\d,]+))?: (\$[\d,]+\.\d\d)", line):
            item, packs, size = names[pack[1]], int(pack[2]), int(pack[3] or 1)
            [offer] = season.offered(item, shop, size)
            assert (dollars(packs * offer["cents"]), packs <= (offer["most"] or packs)) == (pack[4], True)
            bought[item] += packs * size

    _, beyond, without = season.plan
    wanted = {item: units - beyond.get(item, 0) for item, units in season.short.items() if item not in without}
    assert set(bought) == set(wanted)
    assert all(bought[item] >= units for item, units in wanted.items())


def shop_of(line: str) -> tuple[str, int] | None:
    """The shop that a line heads the packs of, and what they come to there, in cents."""
    found = re.fullmatch(r"([A-Z][^,•]+), \$([\d.,]+):", line)
    return (found[1], int(Fraction(found[2].replace(",", "")) * 100)) if found else None
