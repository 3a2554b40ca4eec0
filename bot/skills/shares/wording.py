"""Every sentence of the money book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from fractions import Fraction

from bot.wording.amounts import money, to_the_tenth
from bot.wording.days import day
from bot.wording.judged import point_words
from bot.wording.things import capital, counted, listed, plural
from core.group import Settings
from core.items import PricePoint
from core.ledger import Debt, LedgerLine, Payment
from core.settling import EXACT_UP_TO, is_exact
from core.shares import Case, Part, Split, Standing, State, TooFewUnitsError, TooManyUnitsError

CLOSE = "Close"
NOT_FOR_ME = "Not for me"
ALL_SQUARE = "All square: nobody owes anything."
NOTHING_TO_SPLIT = (
    "There is no purchase to share out yet. Say the case with it, such as:"
    " split 144 sharpeners 12.60 between me, Ines and Tobias"
)
YES_SHARE = "Yes, share them"
NOTHING_OPEN = "No case is open to take a part of. Offer one: I can get 200 bar soaps for 31.00, who wants some?"
MANY_OPEN = "Which case?"
NOTHING_TO_CALL_OFF = "No case is open, and none was closed in the last weeks."
OVERTAKEN = "That case is closed already. To change it, take back the closing first."
NOT_TO_ONESELF = "A payment goes from one member to another, such as: paid Ines 4.20"


def case_words(case: Case, settings: Settings) -> str:
    """A case in a few words: "144 sharpeners $12.60"."""
    return f"{counted(case.count, case.item)} {money(case.total, settings)}"


def unit_words(case: Case, point: PricePoint, settings: Settings) -> str:
    """What one unit of a case costs, with the price point."""
    aim = f" ({point_words(point, settings)})" if point.most is not None else ""
    # To the tenth, so that a few of them add up to the parts told beside it.
    return f"{to_the_tenth(Fraction(case.total, case.count), settings)} each{aim}"


def split_answer(split: Split, point: PricePoint, settings: Settings, spare: tuple[str, int] | None) -> str:
    """The echo of a split: what one costs, then units and share of each, and where the spare units went."""
    case = split.case
    lines = [f"Shared: {case_words(case, settings)}, {case.payer} pays. {capital(unit_words(case, point, settings))}."]
    lines += [part_line(part, settings) for part in split.parts]
    if spare:
        lines.append(spare_line(*spare))
    return "\n".join(lines)


def part_line(part: Part, settings: Settings) -> str:
    """One member's part: "Ines: 48 for $4.20"."""
    return f"{part.member}: {part.units:,} for {money(part.amount, settings)}"


def spare_line(member: str, units: int) -> str:
    """Who takes the units that nobody else is to have."""
    return f"{units:,} left over {'goes' if units == 1 else 'go'} to {member}."


def split_summary(split: Split, settings: Settings) -> str:
    """A split as the line that names it later."""
    others = [part.member for part in split.parts if part.member != split.case.payer]
    return f"split of {case_words(split.case, settings)} ({split.case.payer} paid, with {listed(others) or 'nobody'})"


def too_many(fault: TooManyUnitsError, item: str) -> str:
    """Said where the units asked for exceed the case."""
    each = listed([f"{one.member} {one.units}" for one in fault.wanted if one.units])
    asked = sum(one.units or 0 for one in fault.wanted)
    return f"{each} make {asked:,}, but there are only {counted(fault.count, item)}. Say it again with less."


def too_few(fault: TooFewUnitsError, item: str) -> str:
    """Said where equal shares would be less than one unit."""
    return f"{counted(fault.left, item)} cannot go round {fault.members} members. Say how many each gets."


def split_already(case: Case, settings: Settings) -> str:
    """Said of a purchase that has been shared out."""
    return f"{capital(case_words(case, settings))} has been shared out already. Take that back first to share it anew."


def did_you_buy(case: Case, settings: Settings) -> str:
    """Asked of a price told, which is no purchase yet."""
    return f"Did you buy the {case_words(case, settings)}?"


def which_purchase(items: Sequence[str]) -> str:
    """Asked where the last purchase held several items."""
    return f"Which of them: {listed([plural(item) for item in items], 'or')}?"


def live_text(standing: Standing, point: PricePoint, settings: Settings, today: date) -> str:
    """The post of an open split: the case, who took how many, what is left, until when."""
    case = standing.case
    head = f"{case.payer} can get {case_words(case, settings)}: {unit_words(case, point, settings)}."
    if standing.state is not State.OPEN:
        done = "closed" if standing.state is State.SHARED else "called off"
        return f"{capital(case_words(case, settings))}: {done}."
    lines = [head]
    if standing.taken:
        lines.append(", ".join(f"{one.member} {one.units:,}" for one in standing.taken) + ".")
    lines.append(f"{standing.left:,} left.{_missing(standing)}{_closing(standing, settings, today)}")
    if not standing.taken:
        lines.append("Say how many, such as: put me down for 24")
    return "\n".join(lines)


def _missing(standing: Standing) -> str:
    if not standing.offer.least:
        return ""
    if not standing.missing:
        return f" The {standing.offer.least:,} it takes are asked for."
    return f" Worth it from {standing.offer.least:,} on: {standing.missing:,} more needed."


def _closing(standing: Standing, settings: Settings, today: date) -> str:
    if standing.offer.closes_at is None:
        return ""
    return f" Closes {moment(standing.offer.closes_at, settings, today)}."


def moment(at: datetime, settings: Settings, today: date) -> str:
    """A closing time: "Fri Aug 7 18:00"; the end of a day is told as the day."""
    local = at.astimezone(settings.zone)
    when = f"{local:%a} {day(local.date(), today, settings.country)}" if local.date() != today else "today"
    return when if (local.hour, local.minute) == (23, 59) else f"{when} {local:%H:%M}"


def offer_summary(case: Case, settings: Settings) -> str:
    """An open split as the line that names it later."""
    return f"the offer of {case_words(case, settings)}"


def claimed(standing: Standing, member: str, settings: Settings) -> str:
    """The echo of a claim."""
    units = standing.units_of(member)
    if not units:
        return f"{member} takes none of the {plural(standing.case.item)}. {standing.left:,} left."
    share = next(part.amount for part in standing.parts() if part.member == member)
    about = money(_own_share(standing, member, share), settings)
    left = f"{standing.left:,} left." if standing.left else "That was the last of them."
    return f"{member}: {counted(units, standing.case.item)}, about {about}. {left}"


def _own_share(standing: Standing, member: str, share: int) -> int:
    """The cost of what was asked for; the payer's part holds what is left as well."""
    case = standing.case
    return round(Fraction(case.total * standing.units_of(member), case.count)) if member == case.payer else share


def claim_summary(standing: Standing, member: str) -> str:
    """A claim as the line that names it later."""
    units = standing.units_of(member)
    return f"{member} {counted(units, standing.case.item) if units else f'no {plural(standing.case.item)}'}"


def whose(case: Case, settings: Settings) -> str:
    """One of several cases of an item: whose it is, and what it costs."""
    return f"{case.payer}’s, {money(case.total, settings)}"


def only_left(left: int, item: str) -> str:
    """Said where more is asked for than is left."""
    return (
        f"Only {counted(left, item)} {'is' if left == 1 else 'are'} left." if left else f"No {plural(item)} are left."
    )


def take_the_rest(left: int) -> str:
    """The label that takes what is left."""
    return f"Take {left:,}"


def all_left(left: int) -> str:
    """The label of everything that is left of an open split."""
    return f"All {left:,} left"


def in_all_or_more(member: str, before: int, units: int) -> str:
    """Asked of somebody who has asked for some already."""
    return f"{member} has {before:,} already. Is that {units:,} in all, or {units:,} more?"


def in_all(units: int) -> str:
    """The label of so many in all."""
    return f"{units:,} in all"


def more(units: int, total: int) -> str:
    """The label of so many more."""
    return f"{units:,} more, {total:,} in all"


def has_none(member: str, item: str) -> str:
    """Said to somebody who lets go of nothing."""
    return f"{member} has asked for no {plural(item)}."


def none_open_of(item: str, open_items: Sequence[str]) -> str:
    """Said of an item of which no case is open."""
    others = f" Open now: {listed([plural(name) for name in open_items])}." if open_items else ""
    return f"No case of {plural(item)} is open.{others}"


def closed_answer(split: Split, point: PricePoint, settings: Settings, spare: tuple[str, int] | None) -> str:
    """The result of an open split."""
    case = split.case
    lines = [f"Closed: {case_words(case, settings)}, {case.payer} buys. {capital(unit_words(case, point, settings))}."]
    lines += [part_line(part, settings) for part in split.parts]
    if spare:
        lines.append(spare_line(*spare))
    lines.append("If it is not bought after all, say: didn’t buy it")
    return "\n".join(lines)


def too_little_wanted(standing: Standing) -> str:
    """Asked where fewer units are wanted than make the case worth buying."""
    case = standing.case
    wanted = case.count - standing.left
    return f"Only {wanted:,} of the {standing.offer.least:,} {plural(case.item)} it takes are asked for. Buy anyway?"


BUY_ANYWAY = "Buy anyway"
CALL_OFF = "Call it off"


def nobody_wanted(standing: Standing, settings: Settings) -> str:
    """Said where an open split closes without a taker."""
    return f"Nobody asked for any of the {case_words(standing.case, settings)}. It is closed, and nothing is booked."


def called_off(case: Case, settings: Settings) -> str:
    """The echo of a case that was not bought."""
    return f"Called off: {case_words(case, settings)}. Nobody owes anything for it."


def take_back_this(summary: str) -> str:
    """Said of a split that was shared at once: it is taken back by its button."""
    return f"No open case of that. To undo the {summary}, press the button."


def only_by(names: Sequence[str]) -> str:
    """Said to somebody who may not close another's case."""
    return f"Only {listed(list(dict.fromkeys(names)), 'or')} can close that case."


def paid_answer(payment: Payment, before: Mapping[str, int], after: Mapping[str, int], settings: Settings) -> str:
    """The echo of a payment, with where it leaves the two."""
    lines = [f"Noted: {payment.payer} paid {payment.payee} {money(payment.amount, settings)}."]
    owed = -before.get(payment.payer, 0)
    if after.get(payment.payer, 0) > 0 and owed >= 0 and payment.amount > owed:
        too_much = money(payment.amount - owed, settings)
        over = f"That is {too_much} more than {payment.payer} owed in all, so it turns round."
        lines.append(over if owed else f"{payment.payer} owed nothing before.")
    lines.append(f"{balance_words(payment.payer, after, settings)} {balance_words(payment.payee, after, settings)}")
    return "\n".join(lines)


def balance_words(member: str, balances: Mapping[str, int], settings: Settings) -> str:
    """A member's balance as a sentence."""
    amount = balances.get(member, 0)
    if not amount:
        return f"{member} is square."
    if amount > 0:
        return f"{member} is owed {money(amount, settings)}."
    return f"{member} owes {money(-amount, settings)}."


def payment_summary(payment: Payment, settings: Settings) -> str:
    """A payment as the line that names it later."""
    return f"{payment.payer} paid {payment.payee} {money(payment.amount, settings)}"


def debt_answer(debt: Debt, balances: Mapping[str, int], settings: Settings) -> str:
    """The echo of a booked debt."""
    both = " ".join(balance_words(name, balances, settings) for name in (debt.debtor, debt.creditor))
    return f"Booked: {debt_summary(debt, settings)}.\n{both}"


def debt_summary(debt: Debt, settings: Settings) -> str:
    """A booked debt as the line that names it later."""
    why = f" for {debt.why}" if debt.why else ""
    return f"{debt.debtor} owes {debt.creditor} {money(debt.amount, settings)}{why}"


def who_owes(balances: Mapping[str, int], payments: Sequence[Payment], settings: Settings) -> str:
    """The balances of all, and the payments that settle them."""
    if not balances:
        return ALL_SQUARE
    ordered = sorted(balances, key=lambda name: (-balances[name], name))
    lines = [balance_words(name, balances, settings) for name in ordered]
    fewest = "Fewest payments" if is_exact(balances) else f"With over {EXACT_UP_TO} open balances, maybe not the fewest"
    lines.append(f"{fewest} to be square ({len(payments)}):")
    lines += [payment_line(payment, settings) for payment in payments]
    return "\n".join(lines)


def payment_line(payment: Payment, settings: Settings) -> str:
    """A payment to be made."""
    return f"{payment.payer} pays {payment.payee} {money(payment.amount, settings)}"


def own_balance(member: str, balances: Mapping[str, int], payments: Sequence[Payment], settings: Settings) -> str:
    """One member's balance and the payments that settle it."""
    lines = [balance_words(member, balances, settings)]
    own = [payment for payment in payments if member in (payment.payer, payment.payee)]
    if own:
        lines.append("To be square: " + "; ".join(payment_line(payment, settings) for payment in own) + ".")
    return "\n".join(lines)


def entries_behind(member: str, lines: Sequence[LedgerLine], before: int, settings: Settings, today: date) -> str:
    """The entries that make up a balance, oldest first."""
    if not lines:
        return ""
    told = ["It comes from:"]
    if before:
        told.append(f"earlier entries: {_signed(before, settings)}")
    told += [
        f"{day(settings.day(line.at), today, settings.country)}: {line.summary}, {_signed(line.amount, settings)}"
        for line in lines
    ]
    return "\n".join([*told, f"(+ is owed to {member}, - is owed by {member})"])


def _signed(amount: int, settings: Settings) -> str:
    return f"{'+' if amount > 0 else '-'}{money(abs(amount), settings)}"


def how_much(payer: str, payee: str, owed: int, settings: Settings) -> str:
    """Asked of a payment without its amount."""
    paid = f"How much did {payer} pay {payee}? Type the amount."
    return f"{paid} {money(owed, settings)} would settle it." if owed > 0 else paid
