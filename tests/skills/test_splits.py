"""Cases shared out in the chat: parts to the cent, units to their takers, and what is refused."""

from __future__ import annotations

from bot.storage.ledger import balances
from bot.storage.prices import recent
from bot.storage.stock import held
from tests.chat import Chat


def owed(chat: Chat) -> dict[str, int]:
    """The balances, in cents; above zero is owed to the member."""
    with chat.books() as books:
        return balances(books)


def stock(chat: Chat, item: str) -> dict[str, int]:
    """Who holds how many of an item."""
    with chat.books() as books:
        return held(books, item)


def test_a_split_books_shares_and_units(chat: Chat) -> None:
    chat.says("Mei", "split 144 sharpeners 12.60 between me, Ines and Tobias")

    # 12.60 / 3 = 4.20; Mei paid for the other two
    assert owed(chat) == {"Mei": 840, "Ines": -420, "Tobias": -420}
    assert stock(chat, "sharpener") == {"Mei": 48, "Ines": 48, "Tobias": 48}


def test_a_split_is_a_purchase_and_a_price_seen(chat: Chat) -> None:
    chat.says("Mei", "split 144 sharpeners 12.60 between me, Ines and Tobias")

    with chat.books() as books:
        [sighting] = recent(books, "sharpener", 5)
    assert (sighting.count, sighting.price) == (144, 1260)


def test_stated_units_share_in_proportion(chat: Chat) -> None:
    # 19.44 over 96 units is 20.25 cents: 40 cost 8.10, 24 cost 4.86, 32 cost 6.48
    chat.says("Mei", "split a case of 96 combs $18 + 1.44 tax: Ines 40, Tobias 24, rest me")

    assert owed(chat) == {"Mei": 1296, "Ines": -810, "Tobias": -486}
    assert stock(chat, "comb") == {"Mei": 32, "Ines": 40, "Tobias": 24}


def test_units_left_over_are_the_payers_and_said_so(chat: Chat) -> None:
    [post] = chat.says("Mei", "split 100 pens 7.00: Ines 30, Tobias 20")

    assert "50 left over go to Mei." in post.text
    assert stock(chat, "pen") == {"Mei": 50, "Ines": 30, "Tobias": 20}


def test_units_that_do_not_divide_go_where_it_is_said(chat: Chat) -> None:
    # 100 in three are 33 each, and 1 more
    [post] = chat.says("Mei", "split 100 pens 7.00 between me, Ines and Tobias, the extra goes to Ines")

    assert "1 left over goes to Ines." in post.text
    assert stock(chat, "pen") == {"Mei": 33, "Ines": 34, "Tobias": 33}


def test_another_member_paid(chat: Chat) -> None:
    # 18.00 / 3 = 6.00
    chat.says("Mei", "Ines paid 18 for 96 combs, split between Ines, me and Tobias")

    assert owed(chat) == {"Ines": 1200, "Mei": -600, "Tobias": -600}
    assert stock(chat, "comb") == {"Ines": 32, "Mei": 32, "Tobias": 32}


def test_taking_a_split_back_leaves_nothing(chat: Chat) -> None:
    chat.says("Mei", "split 144 sharpeners 12.60 between me, Ines and Tobias")
    chat.presses("Mei", "Take back")

    assert owed(chat) == {}
    assert stock(chat, "sharpener") == {}


def test_more_units_than_the_case_are_refused_with_the_numbers(chat: Chat) -> None:
    [post] = chat.says("Mei", "split 144 sharpeners 12.60: Ines 100, Tobias 60")

    assert post.text.startswith("Ines 100 and Tobias 60 make 160, but there are only 144.")
    assert owed(chat) == {}


def test_too_few_units_to_go_round_are_refused(chat: Chat) -> None:
    [post] = chat.says("Mei", "split 2 notebooks 1.20 between all of us")

    assert post.text == "2 notebooks cannot go round 4 members. Say how many each gets."
    assert owed(chat) == {}


def test_a_new_name_is_asked_about_and_then_shares(chat: Chat) -> None:
    [asked] = chat.says("Mei", "split 24 pens 2.40 between me and Joanna")
    assert asked.text == "Joanna is no member of the group yet. Add Joanna?"
    assert owed(chat) == {}

    chat.presses("Mei", "Add Joanna")

    assert owed(chat) == {"Mei": 120, "Joanna": -120}


def test_a_price_far_off_is_asked_about_first(chat: Chat) -> None:
    # sharpeners should cost 11 cents; 126.00 / 144 is 87.5 cents, over four times that
    [asked] = chat.says("Mei", "split 144 sharpeners 126.00 with Ines")
    assert "Is 88¢ for one right?" in asked.text
    assert owed(chat) == {}

    chat.presses("Mei", "Keep it")

    assert owed(chat) == {"Mei": 6300, "Ines": -6300}


def test_that_is_the_last_purchase(chat: Chat) -> None:
    chat.says("Mei", "bought 144 sharpeners 12.60 at larkmoor")
    chat.says("Ines", "thanks!")
    [post] = chat.says("Mei", "split that with Ines and Tobias")

    assert "144 sharpeners $12.60" in post.text
    assert owed(chat) == {"Mei": 840, "Ines": -420, "Tobias": -420}
    assert stock(chat, "sharpener") == {"Mei": 48, "Ines": 48, "Tobias": 48}
    with chat.books() as books:
        assert len(recent(books, "sharpener", 5)) == 1


def test_a_purchase_and_its_split_in_one_message(chat: Chat) -> None:
    chat.says("Mei", "bought 144 sharpeners 12.60 at larkmoor, split it with Ines and Tobias")

    assert owed(chat) == {"Mei": 840, "Ines": -420, "Tobias": -420}
    assert stock(chat, "sharpener") == {"Mei": 48, "Ines": 48, "Tobias": 48}


def test_somebody_elses_purchase_is_owed_to_its_buyer(chat: Chat) -> None:
    chat.says("Ines", "bought 144 sharpeners 12.60 at larkmoor")
    chat.says("Mei", "split that with Ines and Tobias")

    assert owed(chat) == {"Ines": 840, "Mei": -420, "Tobias": -420}


def test_a_purchase_is_shared_once(chat: Chat) -> None:
    chat.says("Mei", "bought 144 sharpeners 12.60")
    chat.says("Mei", "split that with Ines")
    [post] = chat.says("Mei", "split that with Tobias")

    assert post.text.startswith("144 sharpeners $12.60 has been shared out already.")
    assert owed(chat) == {"Mei": 630, "Ines": -630}


def test_several_purchases_at_once_are_asked_about(chat: Chat) -> None:
    chat.says("Mei", "bought at larkmoor: 144 sharpeners 12.60 and 24 crayons 0.55")
    [asked] = chat.says("Mei", "split that with Ines")
    assert asked.text == "Which of them: sharpeners or crayons?"

    chat.presses("Mei", "sharpener")

    assert owed(chat) == {"Mei": 630, "Ines": -630}


def test_nothing_bought_nothing_to_split(chat: Chat) -> None:
    [post] = chat.says("Mei", "split that with Ines")

    assert post.text.startswith("There is no purchase to share out yet.")


def test_a_purchase_that_is_shared_is_not_taken_back_from_under_its_split(chat: Chat) -> None:
    [bought] = chat.says("Mei", "bought 144 sharpeners 12.60")
    chat.says("Mei", "split that with Ines")

    [post] = chat.replies("Mei", "take that back", bought)
    assert post.text.startswith("Take back what rests on it first: split of 144 sharpeners $12.60")

    chat.presses("Mei", "Take back")
    assert owed(chat) == {}


def test_a_reply_to_a_price_seen_shares_it_as_bought_now(chat: Chat) -> None:
    [seen] = chat.says("Tobias", "144 sharpeners 12.60 at larkmoor")
    chat.says("Mei", "12 pens 1.20")
    chat.replies("Mei", "split that with Ines and Tobias", seen)

    assert owed(chat) == {"Mei": 840, "Ines": -420, "Tobias": -420}
    assert stock(chat, "sharpener") == {"Mei": 48, "Ines": 48, "Tobias": 48}


def test_plus_tax_is_the_groups_own_rate(taxed: Chat) -> None:
    # 18.00 + 8.25 % = 19.485, half up 19.49; in two 9.75 and 9.74
    taxed.says("Mei", "split 96 combs 18.00 plus tax with Ines")

    assert owed(taxed) == {"Mei": 974, "Ines": -974}


def test_plus_tax_without_a_rate_is_asked_about(chat: Chat) -> None:
    [asked] = chat.says("Mei", "split 96 combs 18.00 plus tax with Ines")
    assert asked.text == "How much is the tax? Type the amount."

    chat.says("Mei", "1.44")

    assert owed(chat) == {"Mei": 972, "Ines": -972}


def test_shares_in_packs_are_counted_in_units(chat: Chat) -> None:
    # 4 cases of 24 at 3.20 are 12.80: 24 cost 3.20, 48 cost 6.40
    chat.says("Mei", "split 4 cases of 24 pens, 3.20 each: Ines 1 case, Tobias 2 cases, me 1 case")

    assert stock(chat, "pen") == {"Mei": 24, "Ines": 24, "Tobias": 48}
    assert owed(chat) == {"Mei": 960, "Ines": -320, "Tobias": -640}


def test_a_number_for_each_holds_for_all_named_before(chat: Chat) -> None:
    chat.says("Ines", "split 144 sharpeners 12.60: Mei 20, Tobias and Amara 30 each, rest me")

    assert stock(chat, "sharpener") == {"Mei": 20, "Tobias": 30, "Amara": 30, "Ines": 64}


def test_who_is_left_out_has_nothing(chat: Chat) -> None:
    chat.says("Ines", "split 144 sharpeners 12.60 between everyone but Amara")

    assert stock(chat, "sharpener") == {"Ines": 48, "Tobias": 48, "Mei": 48}


def test_not_me_counts_the_speaker_out(chat: Chat) -> None:
    chat.says("Ines", "split 144 sharpeners 12.60 between Mei and Tobias, not me")

    assert owed(chat) == {"Ines": 1260, "Mei": -630, "Tobias": -630}


def test_everyone_else_shares_what_is_left(chat: Chat) -> None:
    # 144 - 24 = 120 in three
    chat.says("Ines", "split 144 sharpeners 12.60: Mei 24, everyone else equal")

    assert stock(chat, "sharpener") == {"Mei": 24, "Ines": 40, "Tobias": 40, "Amara": 40}


def test_shares_that_are_no_units_are_asked_about(chat: Chat) -> None:
    for said in ("2:1 me and Ines", "Ines a third, rest me", "Mei 40-50, rest me", "between me and my sister"):
        [post] = chat.says("Ines", f"split 144 sharpeners 12.60 {said}")
        assert post.text.startswith("Say how many units each gets"), said
    assert owed(chat) == {}


def test_tax_on_a_purchase_told_before_is_shared_with_it(chat: Chat) -> None:
    # 12.60 + 1.04 = 13.64, in two 6.82
    chat.says("Ines", "bought 144 sharpeners 12.60")
    chat.says("Ines", "split that with Mei, plus 1.04 tax")

    assert owed(chat) == {"Ines": 682, "Mei": -682}


def test_shipping_is_kept_through_the_question_about_a_markdown(chat: Chat) -> None:
    # 10.00 less 20% is 8.00, + 2.00 shipping
    chat.says("Mei", "split 100 pens $10 20% off plus 2 shipping with Ines")
    chat.presses("Mei", "Pay 8.00")

    assert owed(chat) == {"Mei": 500, "Ines": -500}


def test_names_typed_alone_answer_who_shares_it(chat: Chat) -> None:
    chat.says("Ines", "split 144 sharpeners 12.60")
    chat.says("Ines", "me and Mei")
    assert owed(chat) == {"Ines": 630, "Mei": -630}

    chat.says("Ines", "split 96 combs 9.60")
    chat.says("Ines", "Mei 40, rest me")
    assert stock(chat, "comb") == {"Mei": 40, "Ines": 56}


def test_yes_adds_the_new_member(chat: Chat) -> None:
    chat.says("Mei", "split 24 pens 2.40 between me and Joanna")
    chat.says("Mei", "yes")

    assert owed(chat) == {"Mei": 120, "Joanna": -120}


def test_a_price_just_told_may_have_been_bought(chat: Chat) -> None:
    chat.says("Mei", "96 combs 9.60 at wickerby")
    [asked] = chat.says("Mei", "split that with Ines")
    assert asked.text == "Did you buy the 96 combs $9.60?"

    chat.presses("Mei", "Yes, share them")

    assert owed(chat) == {"Mei": 480, "Ines": -480}


def test_an_older_purchase_is_found_by_its_item(chat: Chat) -> None:
    chat.says("Ines", "bought 10 pens 1.00")
    chat.says("Ines", "bought 10 soaps 4.00")
    chat.says("Ines", "split the pens with Tobias")

    assert owed(chat) == {"Ines": 50, "Tobias": -50}


def test_a_split_at_once_is_taken_back_where_its_case_is_cancelled(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [offered] = chat.says("Mei", "cancel the sharpener split")
    assert offered.text.startswith("No open case of that.")

    chat.presses("Mei", "Take back")

    assert owed(chat) == {}


CASE = "split 144 sharpeners 12.60 between me, Ines and Tobias"
