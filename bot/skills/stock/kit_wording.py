"""Every sentence about kits: what they hold, for whom, by when, and what one costs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from bot.wording.amounts import money, to_the_tenth
from bot.wording.days import by_day, day
from bot.wording.things import capital, counted, listed, plural
from core.cautions import Ages
from core.group import Kit, Settings
from core.kits import KitLine, KitNeed, PricedKit, heaviest, rounded_up
from core.money import half_up
from core.stock import Cost

PACK_IT = "Pack it all the same"
NO_KITS = "No kit yet. Say what goes in one, such as: new kit: wash bag, 1 comb and 1 bar of soap"
WHICH_DAY = "By which day is that? Say it, such as: goal 150 school pouches by nov 14"
COST_SAID_AGAIN = "How much is that for each kit? Say it, such as: shipping is 9.00 per school pouch"
AGES_SAID_AGAIN = "Which ages are that? Say them, such as: school pouches are for ages 5 to 9"


def no_such_kit(kit: str, kits: Sequence[Kit]) -> str:
    """Said of a kit that the group has not."""
    if not kits:
        return NO_KITS
    return f"We have no kit called {kit}. Ours: {listed([one.name for one in kits])}."


def line_answer(kit: str, item: str, count: int, was: int, new: bool) -> str:
    """The echo of a line of a kit."""
    line = capital(line_summary(kit, item, count))
    if new:
        return f"New kit. {line}."
    changed = "" if not was or not count else f" (was {was:,})" if was != count else ", as before"
    return f"{line}{changed}."


def not_in_it(kit: str, item: str) -> str:
    """Said of something that is to go out of a kit and was not in it."""
    return f"The {kit} has no {plural(item)} anyway."


def line_summary(kit: str, item: str, count: int) -> str:
    """A line of a kit, in the line that names it when taken back."""
    return f"each {kit} gets {counted(count, item)}" if count else f"no {plural(item)} in the {kit} any more"


def on_top(kit: str, item: str, was: int, count: int) -> str:
    """The question whether a count is the new one, or one on top of what is in the kit."""
    return f"Each {kit} has {counted(was, item)} now. {was + count:,} then, or {count:,} in all?"


def in_each(count: int) -> str:
    """The label: that many in each kit."""
    return f"{count:,} in each"


def on_the_list(item: str, name: str) -> str:
    """The question about something that the group has said it will not pack."""
    listed_as = "" if name == item else f" (as {name})"
    return f"{capital(plural(item))}: that is on our do-not-pack list{listed_as}. Put it in all the same?"


def which_goal(kit: str, counts: Sequence[int]) -> str:
    """The question which number the goal is."""
    return f"How many {plural(kit)}: {listed([f'{count:,}' for count in counts], 'or')}?"


def goal_summary(kit: Kit, settings: Settings, today: date) -> str:
    """A goal in one line."""
    if not kit.goal:
        return f"no {plural(kit.name)} this season"
    return f"goal of {counted(kit.goal, kit.name)}{by_day(kit.by, today, settings.country)}"


def goal_answer(need: KitNeed, was: Kit, settings: Settings, today: date) -> str:
    """The echo of a goal: what it was before, how far it is, how many items are short."""
    text = capital(goal_summary(need.kit, settings, today))
    changed = []
    if was.goal and was.goal != need.kit.goal:
        changed.append(f"{was.goal:,}")
    if was.by and was.by != need.kit.by:
        changed.append(f"by {day(was.by, today, settings.country)}")
    text += f" (was {' '.join(changed)})." if changed else "."
    if not need.kit.goal:
        return text
    done = f" {need.packed:,} packed, {need.remaining:,} to go." if need.packed else ""
    if not need.kit.contents:
        return f"{text}{done} What goes in one? Say it, such as: each {need.kit.name} gets 4 pencils"
    return f"{text}{done}{_short_of(need)}"


def _short_of(need: KitNeed) -> str:
    if not need.short:
        return " Everything for them is here." if need.remaining else ""
    most = max(need.short, key=lambda item: need.short[item])
    if len(need.short) == 1:
        return f" Short of {counted(need.short[most], most)}."
    if len(set(need.short.values())) == 1:
        return f" Short of {len(need.short)} items, {need.short[most]:,} of each."
    return f" Short of {len(need.short)} items, most of all {counted(need.short[most], most)}."


def day_is_past(by: date, settings: Settings, today: date) -> str:
    """Said of a day that lies behind."""
    return f"{capital(day(by, today, settings.country))} is past. Say a day to come, such as: by nov 14"


def collection(by: date, settings: Settings, today: date) -> str:
    """The collection day in one line."""
    return f"collection of all kits on {day(by, today, settings.country)}"


def collection_answer(line: str, kits: Sequence[Kit]) -> str:
    """The echo of the collection day, with the goals that are due then."""
    goals = [counted(kit.goal, kit.name) for kit in kits if kit.goal]
    return f"{capital(line)}{f': {listed(goals)}' if goals else ''}."


def cost_line(kit: str, what: str, amount: int, settings: Settings) -> str:
    """A cost of each kit in one line."""
    return f"{what} {money(amount, settings)} for each {kit}"


def cost_answer(line: str, others: Mapping[str, int], was: int | None, settings: Settings) -> str:
    """The echo of a cost of each kit, with what comes besides."""
    changed = f" (was {money(was, settings)})" if was is not None else ""
    besides = [f"{what} {money(amount, settings)}" for what, amount in others.items()]
    return f"{capital(line)}{changed}.{f' Besides: {listed(besides)}.' if besides else ''}"


def nothing_in(kit: str) -> str:
    """Said of a kit of which nobody has told what it holds."""
    return f"Nothing is said yet of what goes in a {kit}. Say it, such as: each {kit} gets 4 pencils and 1 notebook"


def ages(said: Ages) -> str:
    """Ages in words: "ages 5 to 9", "ages 10 and up"."""
    if said.high is None:
        return f"ages {said.low} and up"
    return f"age {said.low}" if said.low == said.high else f"ages {said.low} to {said.high}"


def ages_line(kit: str, said: Ages) -> str:
    """The ages of a kit in one line."""
    return f"{plural(kit)} are for {ages(said)}"


def ages_answer(line: str, was: Ages | None) -> str:
    """The echo of the ages of a kit, with those before."""
    return f"{capital(line)}{f' (was {ages(was)})' if was else ''}."


def bar_line(item: str, lifted: bool) -> str:
    """A thing that is not packed, or may be again, in one line."""
    return f"{plural(item)} may be packed again" if lifted else f"no {plural(item)} in the kits"


def bar_answer(line: str, item: str, kits: Sequence[str]) -> str:
    """The echo of a new rule, with the kits that still hold the thing."""
    still = f" Still in the {listed(kits)}; say: no {plural(item)} in the {kits[0]}" if kits else ""
    return f"{capital(line)}.{still}"


def list_unchanged(item: str, on_it: bool) -> str:
    """Said where a rule stands already, or never stood."""
    on = "on our do-not-pack list already" if on_it else "not on our do-not-pack list"
    return f"{capital(plural(item))}: {on}."


def barred_list(names: Sequence[str]) -> str:
    """All that the group has said it will not pack."""
    if not names:
        return "Nothing is on our do-not-pack list yet. Say it, such as: we don't pack balloons"
    return f"We do not pack: {', '.join(plural(name) for name in names)}."


def is_barred(item: str, name: str) -> str:
    """Said of a thing on the list."""
    return f"{capital(plural(item))}: on our do-not-pack list{'' if name == item else f' (as {name})'}."


def no_caution(item: str, kit_ages: Ages | None) -> str:
    """Said of a thing for which nothing matters at a kit's ages; that is no all-clear."""
    at_ages = f" at {ages(kit_ages)}" if kit_ages else ""
    return f"I know of no usual caution for {plural(item)}{at_ages}; that is no all-clear."


def flag_line(item: str, hazard: str) -> str:
    """A flag in one line."""
    return f"{plural(item)} flagged for {hazard}"


def flag_for_what(item: str) -> str:
    """The question what an item is to be flagged for."""
    return f"What are {plural(item)} to be flagged for?"


def flagged_before(line: str) -> str:
    """Said of a flag that stands already."""
    return f"{capital(line)} already."


def flag_answer(line: str, kits: Sequence[str]) -> str:
    """The echo of a flag, with the kits it matters for."""
    return f"{capital(line)}{f', in the {listed(kits)}' if kits else ''}."


def kit_answer(priced: PricedKit, settings: Settings, today: date) -> str:
    """What a kit holds and costs: by price points, at the best price known, and as paid."""
    kit = priced.kit
    goal = f", {kit.goal:,}{by_day(kit.by, today, settings.country)}" if kit.goal else ""
    for_ages = f" ({ages(kit.ages)})" if kit.ages else ""
    head = f"{capital(kit.name)}{for_ages}{goal}:"
    lines = [_line(line, priced.kits_paid, settings) for line in priced.lines]
    lines += [f"• {what}: {to_the_tenth(Fraction(amount), settings)}" for what, amount in kit.costs.items()]
    return "\n".join([head, *lines, *_totals(priced, settings)])


def _line(line: KitLine, kits: int, settings: Settings) -> str:
    parts = []
    if line.at_target is not None:
        parts.append(to_the_tenth(line.at_target, settings))
    if line.at_best is not None:
        parts.append(f"best {to_the_tenth(line.at_best, settings)}")
    if line.paid is not None and line.paid.unpriced < line.paid.units:
        parts.append(f"paid {_paid(line.paid, kits, settings)}")
    return f"• {counted(line.count, line.item)}: {', '.join(parts) or 'no price known'}"


def _paid(cost: Cost, kits: int, settings: Settings) -> str:
    if not cost.amount and not cost.unpriced:
        return "nothing"
    some = " and some of unknown price" if cost.unpriced else ""
    return to_the_tenth(cost.amount / kits, settings) + some


def _totals(priced: PricedKit, settings: Settings) -> list[str]:
    """The totals, the costs besides the items among them, and the line that weighs most."""
    extra = sum(priced.kit.costs.values())
    lines = []
    targets = [line.at_target for line in priced.lines]
    known = [target for target in targets if target is not None]
    if known:
        exact = sum(known, Fraction(extra))
        up = sum((rounded_up(line) or 0 for line in priced.lines), extra)
        both = f"{money(up, settings)} rounded up, {_exact(exact, settings)} exact"
        shown = money(up, settings) if up == exact else both
        lines.append(f"By price points {shown}{_but(len(targets) - len(known))}.")
    best = [line.at_best for line in priced.lines if line.at_best is not None]
    if best:
        total = _exact(sum(best, Fraction(extra)), settings)
        lines.append(f"At the best prices now {total}{_but(len(targets) - len(best))}.")
    lines += _really_paid(priced, extra, settings)
    if (most := heaviest(priced.lines)) and len(priced.lines) > 1:
        lines.append(f"Dearest: {plural(most.item)}.")
    return lines


def _exact(amount: Fraction, settings: Settings) -> str:
    """An exact amount to the tenth of a coin: "58.8¢", "$1.53", "$1.534"."""
    if amount < 10**settings.currency.digits:
        return to_the_tenth(amount, settings)
    return money(Fraction(half_up(amount * 10), 10), settings)


def _but(missing: int) -> str:
    return f" without {counted(missing, 'item')} of unknown price" if missing else ""


def _really_paid(priced: PricedKit, extra: int, settings: Settings) -> list[str]:
    paid = priced.paid
    if paid.unpriced == paid.units:
        return []
    whose = f"for each of the {priced.packed:,} packed" if priced.packed else "for the next one, oldest units first"
    absent = [line.item for line in priced.lines if line.paid is None]
    parts = []
    if paid.unpriced:
        parts.append(f"; the price of {paid.unpriced:,} of {counted(paid.units, 'unit')} is unknown")
    if absent and not priced.packed:
        parts.append(f"; without {listed([plural(item) for item in absent])}, not in stock")
    each = paid.amount / priced.kits_paid + extra
    return [f"Really paid {_exact(each, settings)} {whose}{''.join(parts)}."]
