"""A season worked out with pandas and scipy from its group.toml and events.csv alone, without the program."""

from __future__ import annotations

import tomllib
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from math import ceil
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd  # type: ignore[import-untyped]
from scipy.linalg import block_diag
from scipy.optimize import Bounds, LinearConstraint, milp

UNRECORDED = {"talk": "small talk", "ask": "a question to the clerk", "asks": "what the clerk asks about first"}
"""What messages are that put nothing into the books."""
NOW = pd.DateOffset(months=3)
"""How long a price counts as one of now."""


def read_events(folder: Path) -> pd.DataFrame:
    """The events in order; whole numbers are integers, absent ones 0, absent words empty."""
    told = pd.read_csv(folder / "events.csv", dtype=str, keep_default_na=False)
    for column in ("line", "units", "cents", "most"):
        told[column] = pd.to_numeric(told[column].replace("", "0")).astype(int)
    for column in ("day", "until"):
        told[column] = pd.to_datetime(told[column].replace("", pd.NA), format="%Y-%m-%d")
    return told


@dataclass
class Season:
    """What the events come to; money in cents, exact fractions where they are of kits."""

    folder: Path
    today: str
    moves: list[dict[str, Any]] = field(default_factory=list)
    held: Counter[tuple[str, str]] = field(default_factory=Counter)
    packed: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self.group = tomllib.loads((self.folder / "group.toml").read_text("utf-8"))
        told = read_events(self.folder)
        self.all_said: dict[int, str] = told.groupby("line")["what"].first().to_dict()
        taken_back = set(told.loc[told["what"] == "back", "other"].astype(int))
        self.events = told[~told["line"].isin(taken_back)].reset_index(drop=True)
        self.kits = {kit["name"]: {**kit, "contents": dict(kit["contents"])} for kit in self.group["kit"]}
        self.targets = {item["name"]: Fraction(item["target"]) * 100 for item in self.group["item"]}
        self.budget = int(Fraction(self.group["budget"]) * 100)
        for event in self.events.to_dict("records"):
            happened = getattr(self, f"_{event['what']}", None)
            if happened:
                happened(event)

    # What each sort of event does, in the order of the season.

    def _move(self, event: dict[str, Any], units: int, **other: Any) -> None:
        """Units of an item come to a member or go; ``price`` is what one cost, None where nobody knows."""
        move = {name: event[name] for name in ("item", "member", "what", "day")}
        move |= {"kit": "", "price": None, **other, "units": units}
        self.moves.append(move)
        self.held[move["item"], move["member"]] += units

    def _bought(self, event: dict[str, Any]) -> None:
        self._move(event, event["units"], price=Fraction(event["cents"], event["units"]))

    def _had(self, event: dict[str, Any]) -> None:
        self._move(event, event["units"])

    def _given(self, event: dict[str, Any]) -> None:
        self._move(event, event["units"], price=Fraction(0))

    def _counted(self, event: dict[str, Any]) -> None:
        self._move(event, event["units"] - self.held[event["item"], event["member"]])

    def _removed(self, event: dict[str, Any]) -> None:
        self._move(event, -event["units"])

    def _moved(self, event: dict[str, Any]) -> None:
        self._move(event, -event["units"])
        self._move(event, event["units"], member=event["other"])

    def _shared(self, event: dict[str, Any]) -> None:
        self._move(event, -event["units"], member=event["other"])
        self._move(event, event["units"])

    def _packed(self, event: dict[str, Any]) -> None:
        """Units from the packer first, then from whoever holds most; what nobody has was the packer's uncounted."""
        self.packed[event["kit"]] += event["units"]
        for item, count in self.kits[event["kit"]]["contents"].items():
            wanted = count * event["units"]
            missing = wanted - sum(units for (of, _), units in self.held.items() if of == item)
            if missing > 0:
                self._move(event, missing, item=item, what="counted")
            holders = [
                (member != event["member"], -units, member) for (of, member), units in self.held.items() if of == item
            ]
            for _, less, member in sorted(holders):
                part = min(wanted, -less)
                wanted -= part
                if part:
                    self._move(event, -part, item=item, member=member, kit=event["kit"])

    def _line(self, event: dict[str, Any]) -> None:
        contents = self.kits[event["kit"]]["contents"]
        contents[event["item"]] = event["units"]
        if not event["units"]:
            del contents[event["item"]]

    def _goal(self, event: dict[str, Any]) -> None:
        for kit in self.kits.values():
            if event["kit"] in (kit["name"], "") and event["units"]:
                kit["goal"] = event["units"]

    def _cost(self, event: dict[str, Any]) -> None:
        self.kits[event["kit"]].setdefault("costs", {})[event["other"]] = Fraction(event["cents"], 100)

    def _budget(self, event: dict[str, Any]) -> None:
        self.budget = event["cents"]

    def _point(self, event: dict[str, Any]) -> None:
        self.targets[event["item"]] = Fraction(event["cents"])

    # The figures.

    @cached_property
    def holdings(self) -> dict[str, dict[str, int]]:
        """By item, how many units each member holds."""
        moves = pd.DataFrame(self.moves)
        sums = moves.groupby(["item", "member"])["units"].sum()
        return {item: of.droplevel("item").to_dict() for item, of in sums[sums != 0].groupby(level="item")}

    @cached_property
    def needs(self) -> pd.DataFrame:
        """A row for each line of each kit: units wanted, there, short, and kits that what is there lasts for.

        All are collected on the same day, so the kit named first takes from the stock first.
        """
        left = Counter({item: sum(held.values()) for item, held in self.holdings.items()})
        rows = []
        for kit in self.kits.values():
            remaining = max(0, kit["goal"] - self.packed[kit["name"]])
            for item, count in kit["contents"].items():
                there, wanted = left[item], remaining * count
                left[item] = max(0, there - wanted)
                rows.append((kit["name"], item, count, remaining, wanted, there, there // count))
        names = ["kit", "item", "count", "remaining", "wanted", "there", "lasts"]
        needs = pd.DataFrame(rows, columns=names)
        return needs.assign(short=(needs["wanted"] - needs["there"]).clip(lower=0))

    @cached_property
    def short(self) -> dict[str, int]:
        """Units missing of each item."""
        sums = self.needs.groupby("item")["short"].sum()
        found: dict[str, int] = sums[sums > 0].to_dict()
        return found

    def short_of(self, kit: str) -> dict[str, int]:
        """Units missing of each item for one kit."""
        lines = self.needs[(self.needs["kit"] == kit) & (self.needs["short"] > 0)]
        return dict(zip(lines["item"], lines["short"].astype(int), strict=True))

    def completes(self, kit: str) -> tuple[int, set[str]]:
        """How many of a kit the stock completes, and the items that hold the rest back."""
        lines = self.needs[self.needs["kit"] == kit]
        most = int(min(lines["lasts"].min(), lines["remaining"].iloc[0]))
        held_back = set(lines.loc[lines["lasts"] == most, "item"]) if most < lines["remaining"].iloc[0] else set()
        return most, held_back

    @cached_property
    def drawn(self) -> pd.DataFrame:
        """A row for each unit that left the stock: its item, the kit it went into, and what that very unit cost.

        First in, first out: the n-th unit of an item to leave is the n-th that came, by the day it came.
        """
        moves = pd.DataFrame(self.moves)
        came = moves[(moves["units"] > 0) & moves["what"].isin(["bought", "had", "given", "counted"])]
        went = moves[(moves["units"] < 0) & moves["what"].isin(["packed", "removed", "counted"])]
        units_in, units_out = _each_unit(came.sort_values("day", kind="stable")), _each_unit(went)
        return units_out[["item", "kit", "place"]].merge(
            units_in[["item", "price", "place"]], on=["item", "place"], how="left"
        )

    def paid(self, kit: str) -> dict[str, tuple[Fraction, int]]:
        """By item, what the units in the packed kits of a sort cost, and how many are of unknown cost."""
        of_kit = self.drawn[self.drawn["kit"] == kit]
        known = of_kit["price"].notna()
        return {
            item: (sum(units.loc[known, "price"], Fraction(0)), int((~known[units.index]).sum()))
            for item, units in of_kit.groupby("item")
        }

    def really_paid(self, kit: str) -> Fraction:
        """What the packed kits of a sort cost in all: their items, as far as known, and what comes besides."""
        items = sum((cost for cost, _ in self.paid(kit).values()), Fraction(0))
        return items + self.packed[kit] * self.beside(kit)

    def beside(self, kit: str) -> Fraction:
        """What one kit costs besides its items."""
        return 100 * sum((Fraction(cost) for cost in self.kits[kit].get("costs", {}).values()), Fraction(0))

    def each_at_targets(self, kit: str) -> Fraction:
        """What one kit costs by the price points."""
        return self._each(kit, self.targets)

    def each_rounded_up(self, kit: str) -> Fraction:
        """The same with each unit's price point in whole cents, rounded up."""
        return self._each(kit, {item: Fraction(ceil(target)) for item, target in self.targets.items()})

    def each_at_best(self, kit: str) -> Fraction:
        """What one kit costs at the best prices now, without the items that have none."""
        return self._each(kit, self.best)

    def _each(self, kit: str, prices: dict[str, Fraction]) -> Fraction:
        contents: dict[str, int] = self.kits[kit]["contents"]
        return self.beside(kit) + sum(prices.get(item, Fraction(0)) * count for item, count in contents.items())

    @cached_property
    def besides(self) -> Fraction:
        """What the kits still to pack cost besides their items."""
        remaining = self.needs.groupby("kit")["remaining"].first()
        return sum((int(remaining[kit]) * self.beside(kit) for kit in self.kits), Fraction(0))

    @cached_property
    def at_targets(self) -> Fraction:
        """What all that is short costs by the price points."""
        return sum((units * self.targets[item] for item, units in self.short.items()), Fraction(0))

    @cached_property
    def at_best(self) -> Fraction:
        """What all that is short costs at the best prices now, without the items that have none."""
        return sum((units * self.best.get(item, Fraction(0)) for item, units in self.short.items()), Fraction(0))

    @cached_property
    def spent(self) -> int:
        """What all purchases came to."""
        return int(self.events.loc[self.events["what"] == "bought", "cents"].sum())

    @cached_property
    def known(self) -> pd.DataFrame:
        """The prices of now: of each item, shop and number of units the newest of three months, if it is not over.

        What was paid counts only where the shop has shown no price of the item on its shelf in that time.
        """
        today = pd.Timestamp(self.today)
        told = self.events[self.events["what"].isin(["price", "bought"]) & (self.events["day"] >= today - NOW)]
        told = told.sort_values("day", kind="stable")
        told = told.drop_duplicates(["what", "item", "other", "units"], keep="last")
        shelves = told[told["what"] == "price"].set_index(["item", "other"]).index
        shown = pd.MultiIndex.from_frame(told[["item", "other"]]).isin(shelves)
        lasts = told["until"].isna() | (told["until"] >= today)
        return told[lasts & ((told["what"] == "price") | ~shown)]

    def offered(self, item: str, shop: str, units: int) -> list[dict[str, Any]]:
        """The offers known now of so many units of an item in a shop."""
        known = self.known[self.known["item"] == item]
        found: list[dict[str, Any]] = known[(known["other"] == shop) & (known["units"] == units)].to_dict("records")
        return found

    @cached_property
    def best(self) -> dict[str, Fraction]:
        """The lowest price of one unit known now, by item."""
        each = self.known.assign(each=[Fraction(row.cents, row.units) for row in self.known.itertuples()])
        return {item: min(of["each"]) for item, of in each.groupby("item")}

    @cached_property
    def plan(self) -> tuple[int, dict[str, int], dict[str, int]]:
        """The least cost of whole packs for what is short, the units out of reach, and the items without a price."""
        shelves = {item: self.known[self.known["item"] == item] for item in self.short}
        without = {item: self.short[item] for item, shelf in shelves.items() if shelf.empty}
        wanted, beyond = dict[str, int](), dict[str, int]()
        for item in self.short.keys() - without.keys():
            limits = shelves[item]["most"].replace(0, self.short[item])
            reach = int((limits * shelves[item]["units"]).sum())
            wanted[item] = min(self.short[item], reach)
            beyond |= {item: self.short[item] - reach} if reach < self.short[item] else {}
        return _least_cost([(wanted[item], shelves[item]) for item in wanted]), beyond, without


def _each_unit(moves: pd.DataFrame) -> pd.DataFrame:
    """A row for each unit of the moves, its place among those of its item."""
    units = moves.loc[moves.index.repeat(moves["units"].abs())]
    return units.assign(place=units.groupby("item").cumcount())


def _least_cost(wanted: list[tuple[int, pd.DataFrame]]) -> int:
    """The least cost of whole packs, all items solved at once as a mixed-integer programme."""
    offers = pd.concat([shelf for _, shelf in wanted])
    most = np.where(offers["most"] > 0, offers["most"], np.inf)
    rows = block_diag(*(shelf["units"].to_numpy()[np.newaxis] for _, shelf in wanted))
    found = milp(
        offers["cents"].to_numpy(float),
        constraints=LinearConstraint(rows, lb=[units for units, _ in wanted]),
        bounds=Bounds(0, most),
        integrality=np.ones(len(offers)),
        options={"mip_rel_gap": 0},
    )
    return round(float(found.fun))
