"""A buying plan of 60 and of 600 items, ten shops with four sizes each; ``python -m tests.bench.buying_plan``."""

from __future__ import annotations

from datetime import date
from random import Random
from statistics import median

from core.buying_plan import BuyingPlan, PackOffer, buying_plan
from tests.bench.timing import Round, against, alternating, heading, ratio, times

ROUNDS = 25
SHORT, LONG = 60, 600
SHOPS = tuple(f"shop {number}" for number in range(10))
SIZES = ((1, 1.0), (12, 0.9), (48, 0.8), (144, 0.7))
"""Units in a pack, and its usual price a unit beside that of a single."""
MOST_NEEDED = 1_000
LIMITED = 0.2
SPREADS = {"apart": 0.2, "alike": 0.04}
"""How far a shop's price is from the usual one. Alike: all come close, and each is worked out to find the one shop."""
MILLION = 1_000_000
AIM_MILLISECONDS = 60
AIM_RATIO = LONG / SHORT * 1.1
TODAY = date(2026, 8, 3)

Asked = tuple[dict[str, int], list[PackOffer]]


def asked(items: int, spread: float, chance: Random) -> Asked:
    """Needs to a thousand units, and the offers of all shops, every fifth of them limited to a few packs."""
    needs = {f"item {number}": chance.randint(1, MOST_NEEDED) for number in range(items)}
    offers = []
    for item in needs:
        single = chance.uniform(5, 60)
        for store in SHOPS:
            for units, part in SIZES:
                price = round(units * single * part * chance.uniform(1 - spread, 1 + spread))
                most = chance.randint(1, 5) if chance.random() < LIMITED else None
                offers.append(PackOffer(item, units, price, store, most))
    return needs, offers


def planning(questions: list[Asked]) -> Round:
    """Plans for the question of the round."""

    def work(number: int) -> None:
        buying_plan(*questions[number], TODAY)

    return work


def told(plan: BuyingPlan) -> str:
    """What a plan comes to."""
    alone = f"{plan.one_shop.store} for {plan.one_shop.cost:,}" if plan.one_shop else "no one shop near"
    return f"{len(plan.items)} items for {plan.cost:,}, {alone}"


def main() -> None:
    """Measure and print."""
    heading(f"A buying plan, {len(SHOPS)} shops, {len(SIZES)} sizes, needs to {MOST_NEEDED:,}", "packing-clerk")
    for title, spread in SPREADS.items():
        chance = Random(7)  # noqa: S311 - no secret
        names = {f"{items} items, shops {title}": items for items in (SHORT, LONG)}
        questions = {name: [asked(items, spread, chance) for _ in range(ROUNDS + 1)] for name, items in names.items()}
        taken = alternating({name: planning(questions[name]) for name in names}, ROUNDS, 1)
        times(taken, "plan")
        short, long = names
        against("median, milliseconds a plan", median(taken[short]) / 1000, AIM_MILLISECONDS)
        against(f"{LONG} items over {SHORT}", ratio(taken, long, short), AIM_RATIO)
        print(f"{told(buying_plan(*questions[short][0], TODAY))}\n")
    needs, offers = asked(SHORT, SPREADS["apart"], Random(7))  # noqa: S311 - no secret
    large = [(dict.fromkeys(needs, MILLION - number), offers) for number in range(ROUNDS + 1)]
    times(alternating({f"{SHORT} items, a million of each": planning(large)}, ROUNDS, 1), "plan")


if __name__ == "__main__":
    main()
