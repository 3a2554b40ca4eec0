"""Shares of a case: whole units, and cents that add up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.money import currency
from core.shares import (
    Case,
    Offer,
    Part,
    Standing,
    TooFewUnitsError,
    TooManyUnitsError,
    Wanted,
    largest_remainder,
    parts_of,
    units_of,
)

SHARPENERS = Case("sharpener", 144, 1260, "Mei")
weights = st.lists(st.integers(0, 10_000), min_size=1, max_size=20).filter(any)
totals = st.integers(0, 10**9)
counts = st.integers(1, 10_000)


@given(totals, weights)
def test_shares_add_up_and_are_quotas_rounded_down_or_up(total: int, weights: list[int]) -> None:
    shares = largest_remainder(total, weights)

    quotas = [Fraction(total * weight, sum(weights)) for weight in weights]
    assert sum(shares) == total
    assert all(quota // 1 <= share <= -(-quota // 1) for quota, share in zip(quotas, shares, strict=True))


@given(totals, weights, st.integers(2, 9))
def test_only_the_proportions_count(total: int, weights: list[int], factor: int) -> None:
    assert largest_remainder(total, [weight * factor for weight in weights]) == largest_remainder(total, weights)


def test_ties_go_to_whoever_joined_first() -> None:
    # 10.00 in three is 333.33 cents each: one cent is left for the first
    assert largest_remainder(1000, [1, 1, 1]) == [334, 333, 333]
    # 100.00 in seven is 1428.57 each: four cents are left
    assert largest_remainder(10000, [1] * 7) == [1429, 1429, 1429, 1429, 1428, 1428, 1428]


def test_a_larger_remainder_goes_before_an_earlier_place() -> None:
    # 47 cents over 5, 4 and 3 of 12: 19.58, 15.67 and 11.75; 2 cents are left
    assert largest_remainder(47, [5, 4, 3]) == [19, 16, 12]


@pytest.mark.parametrize("weights", [[], [0, 0], [3, -1]])
def test_no_weights_no_division(weights: list[int]) -> None:
    with pytest.raises(ValueError, match="no division"):
        largest_remainder(100, weights)


def test_equal_shares_of_a_case() -> None:
    # 12.60 for 144 in three: 48 each, 4.20 each
    assert parts_of(SHARPENERS, [Wanted("Mei"), Wanted("Ines"), Wanted("Tobias")]) == (
        Part("Mei", 48, 420),
        Part("Ines", 48, 420),
        Part("Tobias", 48, 420),
    )


def test_units_that_do_not_divide_go_to_the_payer() -> None:
    # 100 in three are 33 each and one over; 7.00 / 100 is 7 cents a unit
    pens = Case("pen", 100, 700, "Mei")

    assert parts_of(pens, [Wanted("Ines"), Wanted("Mei"), Wanted("Tobias")]) == (
        Part("Ines", 33, 231),
        Part("Mei", 34, 238),
        Part("Tobias", 33, 231),
    )


def test_units_left_over_go_where_it_is_said() -> None:
    pens = Case("pen", 100, 700, "Mei")

    assert parts_of(pens, [Wanted("Ines", 40), Wanted("Tobias", 0)], spare_to="Tobias") == (
        Part("Ines", 40, 280),
        Part("Tobias", 60, 420),
    )


def test_units_left_over_are_the_payers_who_joins_last() -> None:
    assert parts_of(SHARPENERS, [Wanted("Ines", 44)]) == (Part("Ines", 44, 385), Part("Mei", 100, 875))


def test_stated_units_and_equal_shares_of_the_rest() -> None:
    # 144 - 44 = 100, in two: 50 each
    assert units_of(144, [Wanted("Ines", 44), Wanted("Mei"), Wanted("Tobias")], "Mei") == (
        Wanted("Ines", 44),
        Wanted("Mei", 50),
        Wanted("Tobias", 50),
    )


def test_more_units_than_the_case_holds_are_refused() -> None:
    with pytest.raises(TooManyUnitsError) as refusal:
        parts_of(SHARPENERS, [Wanted("Ines", 100), Wanted("Tobias", 60)])

    assert refusal.value.count == 144
    assert sum(one.units or 0 for one in refusal.value.wanted) == 160


def test_fewer_units_than_members_are_refused() -> None:
    with pytest.raises(TooFewUnitsError) as refusal:
        units_of(2, [Wanted("Mei"), Wanted("Ines"), Wanted("Tobias")], "Mei")

    assert (refusal.value.left, refusal.value.members) == (2, 3)


@given(counts, totals, st.lists(st.sampled_from(["Mei", "Ines", "Tobias", "Amara"]), min_size=1, max_size=6))
def test_parts_of_any_equal_split_add_up(count: int, total: int, members: list[str]) -> None:
    wanted = [Wanted(member) for member in members]
    if count < len(set(members)):
        return

    parts = parts_of(Case("pen", count, total, "Rosa"), wanted)

    assert sum(part.units for part in parts) == count
    assert sum(part.amount for part in parts) == total


@pytest.mark.parametrize(
    ("code", "total", "shares"),
    [
        ("JPY", "1000", ["334", "333", "333"]),  # no decimals: whole yen
        ("KWD", "10.000", ["3.334", "3.333", "3.333"]),  # three: thousandths of a dinar
        ("USD", "10.00", ["3.34", "3.33", "3.33"]),
    ],
)
def test_the_smallest_coin_is_the_currencys_own(code: str, total: str, shares: list[str]) -> None:
    money = currency(code)
    parts = parts_of(Case("pen", 3, money.minor(Fraction(total)), "A"), [Wanted("A"), Wanted("B"), Wanted("C")])

    assert [money.plain(part.amount) for part in parts] == shares


def standing(*taken: Wanted, least: int | None = None) -> Standing:
    return Standing(1, 1, Offer(Case("bar soap", 200, 3100, "Ines"), least), "Ines", taken)


def test_claims_take_from_what_is_left() -> None:
    after = standing().with_claim("Mei", 24).with_claim("Tobias", 36)

    assert after.taken == (Wanted("Mei", 24), Wanted("Tobias", 36))
    assert after.left == 140


def test_a_changed_claim_keeps_its_place() -> None:
    after = standing(Wanted("Mei", 24), Wanted("Tobias", 36)).with_claim("Mei", 48)

    assert after.taken == (Wanted("Mei", 48), Wanted("Tobias", 36))


def test_letting_go_leaves_no_claim() -> None:
    assert standing(Wanted("Mei", 24)).with_claim("Mei", 0).taken == ()


def test_a_claim_beyond_what_is_left_is_refused_with_what_is() -> None:
    with pytest.raises(TooManyUnitsError) as refusal:
        standing(Wanted("Mei", 190), Wanted("Tobias", 4)).with_claim("Tobias", 12)

    assert refusal.value.count == 10  # 200 - 190, his own 4 counted


def test_what_is_missing_for_it_to_be_worth_buying() -> None:
    assert standing(Wanted("Mei", 24), least=120).missing == 96
    assert standing(Wanted("Mei", 124), least=120).missing == 0
    assert standing().missing == 0


def test_units_nobody_asked_for_are_the_payers() -> None:
    # 31.00 / 200 is 15.5 cents: 24 cost 3.72, the other 176 27.28
    assert standing(Wanted("Tobias", 24)).parts() == (Part("Tobias", 24, 372), Part("Ines", 176, 2728))
