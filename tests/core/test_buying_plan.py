"""The cheapest packs, by hand and against every way to buy; the one shop that comes close."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.buying_plan import BuyingPlan, ItemPlan, OneShop, PackLine, PackOffer, buying_plan, cheapest_packs

TODAY = date(2026, 8, 3)
A, B, C = "aldermill", "birchway", "corner store"


def pencils(units: int, price: int, store: str | None = A, most: int | None = None) -> PackOffer:
    return PackOffer("pencil", units, price, store, most)


def glue(units: int, price: int, store: str | None = A, most: int | None = None) -> PackOffer:
    return PackOffer("glue stick", units, price, store, most)


def bought(plan: ItemPlan) -> list[tuple[int, int, str | None]]:
    """Packs, units in one, and the shop of every line."""
    return [(line.packs, line.offer.units, line.offer.store) for line in plan.lines]


def plan_of(needs: dict[str, int], *offers: PackOffer) -> BuyingPlan:
    return buying_plan(needs, offers, TODAY)


def test_more_than_the_need_may_be_cheaper_than_just_enough() -> None:
    # 10 singles are 150, a box of 12 is 120
    plan = cheapest_packs("pencil", 10, [pencils(1, 15), pencils(12, 120)])

    assert bought(plan) == [(1, 12, A)]
    assert (plan.cost, plan.units, plan.leftover, plan.uncovered) == (120, 12, 2, 0)


def test_sizes_are_mixed_where_that_costs_less() -> None:
    # 30 = 24 + 6: 200 + 6 x 12 = 272; two boxes of 24 are 400, 30 singles 360
    plan = cheapest_packs("pencil", 30, [pencils(1, 12), pencils(24, 200)])

    assert bought(plan) == [(1, 24, A), (6, 1, A)]
    assert (plan.cost, plan.leftover) == (272, 0)


def test_a_line_counts_its_units_and_its_cost() -> None:
    # 2 x 12 = 24 for 2 x 47 = 94
    line = PackLine(pencils(12, 47), 2)

    assert (line.units, line.cost) == (24, 94)


def test_of_equal_cost_the_fewest_units_are_left_over() -> None:
    # 20 for 100 either way: one box of 20, or one of 24
    assert bought(cheapest_packs("pencil", 20, [pencils(24, 100), pencils(20, 100)])) == [(1, 20, A)]


def test_of_equal_cost_one_shop_goes_before_several() -> None:
    # 13 = 12 + 1 for 100 + 10: the box costs the same in both shops, the single is only in the second
    plan = cheapest_packs("pencil", 13, [pencils(12, 100, A), pencils(12, 100, B), pencils(1, 10, B)])

    assert bought(plan) == [(1, 12, B), (1, 1, B)]


def test_of_equal_cost_in_as_many_shops_the_fewest_packs_are_bought() -> None:
    # 12 for 120: twelve singles, two of 6, or one of 12
    assert bought(cheapest_packs("pencil", 12, [pencils(1, 10), pencils(12, 120), pencils(6, 60)])) == [(1, 12, A)]


def test_of_equal_offers_the_first_by_name_with_a_known_shop_is_taken() -> None:
    offers = [pencils(12, 100, None), pencils(12, 100, C), pencils(12, 100, B)]

    assert bought(cheapest_packs("pencil", 24, offers)) == [(2, 12, B)]


def test_no_more_packs_are_bought_than_the_limit_allows() -> None:
    # 48 = 2 x 12 for 50 + 24 for 200: 300
    plan = cheapest_packs("pencil", 48, [pencils(12, 50, A, most=2), pencils(24, 200, A)])

    assert bought(plan) == [(1, 24, A), (2, 12, A)]
    assert plan.cost == 300


def test_where_limits_run_out_all_is_bought_and_the_rest_is_told() -> None:
    # 2 x 12 + 1 x 5 = 29 of 40: 11 are missing; 2 x 50 + 30 = 130
    plan = cheapest_packs("pencil", 40, [pencils(12, 50, A, most=2), pencils(5, 30, B, most=1)])

    assert bought(plan) == [(2, 12, A), (1, 5, B)]
    assert (plan.cost, plan.units, plan.leftover, plan.uncovered) == (130, 29, 0, 11)


def test_limits_that_just_suffice_leave_nothing_uncovered() -> None:
    plan = cheapest_packs("pencil", 29, [pencils(12, 50, A, most=2), pencils(5, 30, B, most=1)])

    assert (plan.units, plan.leftover, plan.uncovered) == (29, 0, 0)


def test_a_limited_offer_told_twice_counts_once() -> None:
    # one pack of 12 at 50, the other 12 at 100
    plan = cheapest_packs("pencil", 24, [pencils(12, 50, A, most=1), pencils(12, 100, B), pencils(12, 50, A, most=1)])

    assert plan.cost == 150


def test_the_same_limited_price_in_two_shops_is_had_in_both() -> None:
    plan = cheapest_packs("pencil", 36, [pencils(12, 50, B, most=2), pencils(12, 50, A, most=1)])

    assert bought(plan) == [(1, 12, A), (2, 12, B)]


def test_nothing_is_bought_for_no_need() -> None:
    assert cheapest_packs("pencil", 0, [pencils(12, 0)]).lines == ()


def test_what_is_free_is_taken_first_and_no_more_of_it_than_needed() -> None:
    # 2 x 12 of the 3 free packs cover 20
    assert bought(cheapest_packs("pencil", 20, [pencils(12, 0, A, most=3), pencils(1, 5)])) == [(2, 12, A)]


def test_without_an_offer_all_is_uncovered() -> None:
    assert cheapest_packs("pencil", 7, [glue(1, 5), pencils(5, 5, A, most=0)]) == ItemPlan("pencil", 7, ())
    assert cheapest_packs("pencil", 7, []).uncovered == 7


def test_a_need_below_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="a need of -1"):
        cheapest_packs("pencil", -1, [])


@pytest.mark.parametrize(("units", "price", "most"), [(0, 5, None), (12, -1, None), (12, 5, -1)])
def test_packs_that_cannot_be_are_refused(units: int, price: int, most: int | None) -> None:
    with pytest.raises(ValueError, match="a pack of"):
        PackOffer("pencil", units, price, most=most)


def test_a_million_units_are_bought_exactly() -> None:
    # 199,999 fives for 599,997 and 4 more: a five at 3, or two threes at 4; 3 more: one three at 2
    offers = [pencils(3, 2), pencils(5, 3)]

    assert cheapest_packs("pencil", 1_000_000, offers).cost == 600_000
    assert cheapest_packs("pencil", 999_999, offers).cost == 600_000
    assert cheapest_packs("pencil", 999_998, offers).cost == 599_999


def test_a_million_units_of_packs_at_one_unit_price_fit_without_rest() -> None:
    # 7 a unit in every size: 1,000,003 x 7, whatever sizes add up to it, some of them limited
    offers = [pencils(units, units * 7, A, most) for units, most in ((144, None), (143, 5_000), (139, 9), (131, None))]

    plan = cheapest_packs("pencil", 1_000_003, offers)

    assert (plan.cost, plan.leftover) == (7_000_021, 0)


def test_items_keep_the_order_of_the_needs() -> None:
    plan = plan_of({"glue stick": 3, "pencil": 12}, pencils(12, 100), glue(3, 200))

    assert [one.item for one in plan.items] == ["glue stick", "pencil"]
    assert (plan.cost, plan.unknown) == (300, ())


def test_items_without_an_offer_are_listed_with_their_need() -> None:
    plan = plan_of({"ruler": 20, "pencil": 12, "eraser": 5}, pencils(12, 100), PackOffer("eraser", 1, 5, A, most=0))

    assert plan.unknown == (("ruler", 20), ("eraser", 5))
    assert [one.item for one in plan.items] == ["pencil"]


def test_an_item_of_which_nothing_is_needed_is_not_unknown() -> None:
    assert plan_of({"ruler": 0}) == BuyingPlan((ItemPlan("ruler", 0, ()),), (), None)


def test_an_offer_holds_on_its_last_day_and_no_longer() -> None:
    offers = [PackOffer("pencil", 12, 50, A, until=TODAY), PackOffer("pencil", 12, 100, B)]

    assert buying_plan({"pencil": 12}, offers, TODAY).cost == 50
    assert buying_plan({"pencil": 12}, offers, TODAY + timedelta(days=1)).cost == 100


def test_offers_of_what_is_not_needed_are_left_out() -> None:
    assert plan_of({"pencil": 12}, pencils(12, 100), glue(1, 5)).cost == 100


def test_one_shop_is_named_where_it_costs_at_most_a_tenth_more() -> None:
    # 600 + 400 = 1000 in two shops; 600 + 500 = 1100 in the first, 640 + 400 = 1040 in the second
    offers = [pencils(12, 600, A), glue(4, 500, A), pencils(12, 640, B), glue(4, 400, B)]
    plan = plan_of({"pencil": 12, "glue stick": 4}, *offers)
    without_glue = plan_of({"pencil": 12, "glue stick": 4}, *offers[:3], glue(4, 400, C))

    assert plan.cost == 1000
    assert plan.one_shop == OneShop(
        B,
        1040,
        (ItemPlan("pencil", 12, (PackLine(offers[2], 1),)), ItemPlan("glue stick", 4, (PackLine(offers[3], 1),))),
    )
    assert without_glue.one_shop
    assert (without_glue.one_shop.store, without_glue.one_shop.cost) == (A, 1100)


def test_one_shop_is_not_named_where_it_costs_more_than_a_tenth() -> None:
    # 600 + 400 = 1000 in two shops, 600 + 501 = 1101 in one
    plan = plan_of({"pencil": 12, "glue stick": 4}, pencils(12, 600, A), glue(4, 501, A), glue(4, 400, B))

    assert (plan.cost, plan.one_shop) == (1000, None)


def test_one_shop_is_not_named_where_the_plan_has_only_one() -> None:
    plan = plan_of({"pencil": 12, "glue stick": 4}, pencils(12, 600, A), glue(4, 400, A), glue(4, 400, B))

    assert plan.one_shop is None


def test_one_shop_is_judged_by_its_own_packs_though_others_are_cheaper() -> None:
    # 100 + 100 in two shops; in the second 12 singles at 9 are 108, and 100: 208
    offers = [pencils(12, 100, A), pencils(1, 9, B), glue(4, 100, B)]
    plan = plan_of({"pencil": 12, "glue stick": 4}, *offers)

    assert plan.cost == 200
    assert plan.one_shop
    assert [bought(one) for one in plan.one_shop.items] == [[(12, 1, B)], [(1, 4, B)]]


def test_one_shop_must_have_all_that_the_plan_covers() -> None:
    # 24 in the first shop at 100; the second would sell only 12 of them
    plan = plan_of({"pencil": 24, "glue stick": 4}, pencils(12, 50, A), pencils(12, 50, B, most=1), glue(4, 10, B))

    assert plan.one_shop is None


def test_one_shop_need_not_have_more_than_the_plan_covers() -> None:
    # 12 of 40 pencils can be had at all, in the second shop, which has the glue for 105 instead of 100
    plan = plan_of({"pencil": 40, "glue stick": 4}, pencils(12, 50, B, most=1), glue(4, 100, A), glue(4, 105, B))

    assert plan.one_shop
    assert (plan.one_shop.store, plan.one_shop.cost) == (B, 155)
    assert [one.uncovered for one in plan.one_shop.items] == [28, 0]


def test_of_equal_shops_the_first_by_name_is_named() -> None:
    # pencils in two parts, 90 + 90 in two shops; 190 in either of the others
    offers = [pencils(12, 90, C, most=1), pencils(12, 90, "depot", most=1), pencils(24, 190, B), pencils(24, 190, A)]

    plan = plan_of({"pencil": 24}, *offers)

    assert plan.cost == 180
    assert plan.one_shop
    assert plan.one_shop.store == A


def test_what_has_no_known_shop_is_neither_one_shop_nor_beside_one() -> None:
    # 90 where nobody said where, and 100 in the first shop, which has both for 200
    plan = plan_of({"pencil": 12, "glue stick": 4}, pencils(12, 90, None), pencils(12, 100, A), glue(4, 100, A))
    unsaid = plan_of({"pencil": 12, "glue stick": 4}, pencils(12, 90, None), glue(4, 100, None))

    assert plan.cost == 190
    assert plan.one_shop
    assert (plan.one_shop.store, plan.one_shop.cost) == (A, 200)
    assert unsaid.one_shop is None


stores = st.sampled_from([A, B, None])
packs = st.builds(pencils, st.integers(1, 7), st.integers(0, 12), stores, st.none() | st.integers(0, 4))
shelves = st.lists(packs, max_size=4)
Rank = tuple[int, int, int, bool, int]


def rank(need: int, lines: Sequence[tuple[PackOffer, int]]) -> Rank:
    """What is uncovered, the cost, what is left over, whether in several shops, and the packs: the less the better."""
    units = sum(offer.units * count for offer, count in lines)
    cost = sum(offer.price * count for offer, count in lines)
    several = len({offer.store for offer, count in lines if count}) > 1
    return max(0, need - units), cost, max(0, units - need), several, sum(count for _, count in lines)


def best_rank(need: int, offers: Sequence[PackOffer]) -> Rank:
    """The best of every way to buy up to as many packs of each as cover the need alone."""
    different = list(dict.fromkeys(offers))
    alone = [-(-need // offer.units) for offer in different]
    most = [enough if one.most is None else min(one.most, enough) for one, enough in zip(different, alone, strict=True)]
    ways = product(*(range(up_to + 1) for up_to in most))
    return min(rank(need, list(zip(different, counts, strict=True))) for counts in ways)


@given(st.integers(0, 9), shelves)
def test_no_way_to_buy_is_better(need: int, offers: list[PackOffer]) -> None:
    plan = cheapest_packs("pencil", need, offers)

    assert rank(need, [(line.offer, line.packs) for line in plan.lines]) == best_rank(need, offers)
    assert all(line.offer in offers and line.packs > 0 for line in plan.lines)
    assert all(line.offer.most is None or line.packs <= line.offer.most for line in plan.lines)


@given(st.integers(1, 1_000_000), st.lists(st.tuples(st.integers(1, 12), st.integers(0, 30)), min_size=1, max_size=4))
def test_a_large_need_adds_packs_of_the_best_unit_price(need: int, sizes: list[tuple[int, int]]) -> None:
    # Of packs dearer a unit never as many as the best has units: some of them would make up packs of the best. So past
    # (units of the best - 1) x (units of the largest), here at most 11 x 12, one more of the best is in every plan.
    units, price = min(sizes, key=lambda one: Fraction(one[1], one[0]))
    more = max(0, (need - 132) // units)
    costs = [0]
    for number in range(1, need - more * units + 1):
        costs.append(min(costs[max(0, number - own)] + each for own, each in sizes))

    plan = cheapest_packs("pencil", need, [pencils(own, each) for own, each in sizes])

    assert plan.cost == costs[-1] + more * price


@given(st.integers(0, 300), st.data())
def test_the_order_of_the_offers_does_not_matter(need: int, data: st.DataObject) -> None:
    offers = data.draw(st.lists(packs, max_size=12, unique_by=lambda one: (one.units, one.price, one.store)))
    others = data.draw(st.permutations(offers))

    assert cheapest_packs("pencil", need, offers) == cheapest_packs("pencil", need, others)


@given(st.integers(0, 9), st.integers(0, 9), shelves, shelves)
def test_the_one_shop_is_the_cheapest_that_covers_as_much(
    first: int, second: int, some: list[PackOffer], more: list[PackOffer]
) -> None:
    needs = {"pencil": first, "glue stick": second}
    offers = [*some, *(glue(one.units, one.price, one.store, one.most) for one in more)]
    plan = buying_plan(needs, offers, TODAY)
    near = []
    for store in (A, B):
        own = [
            cheapest_packs(one.item, one.need, [offer for offer in offers if offer.store == store])
            for one in plan.items
        ]
        cost = sum(one.cost for one in own)
        if [one.uncovered for one in own] == [one.uncovered for one in plan.items] and 10 * cost <= 11 * plan.cost:
            near.append((cost, store))
    several = len({line.offer.store for one in plan.items for line in one.lines}) > 1

    named = plan.one_shop and (plan.one_shop.cost, plan.one_shop.store)

    assert named == (min(near) if near and several else None)
