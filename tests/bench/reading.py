"""Microseconds to read a message, against hassil and dateparser's search_dates; ``python -m tests.bench.reading``."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from importlib import resources
from random import Random
from statistics import median
from typing import Any

from dateparser.search import search_dates
from hassil import Intents, recognize, recognize_best

from bot.reading.marking import Listener
from bot.reading.names import names_of
from bot.reading.reader import Reader
from bot.skills import FORMS
from tests.bench import catalogue
from tests.bench.timing import against, alternating, heading, ratio, times

ROUNDS = 15
CHATTER = "chatter"
_FIRST_DAY = datetime(2026, 8, 3, 10, 15)  # noqa: DTZ001 - a message without a zone is on the group's own clock


@dataclass(frozen=True, slots=True)
class Said:
    """A message with what it should be read as; ``items`` in their order."""

    text: str
    kind: str
    items: tuple[str, ...]
    at: datetime


Meaning = tuple[str, tuple[str, ...]]
"""The kind and the items of what was understood; chatter and none where nothing was."""
Ear = Callable[[Said], Meaning]


def messages(number: int) -> list[Said]:
    """All messages of a round, with items and a day of its own, so that no memory of earlier rounds helps."""
    chance = Random(number)  # noqa: S311 - no secret
    at = _FIRST_DAY + timedelta(days=number)
    return [_said(text, kind, chance, at) for kind, texts in _data("messages.toml").items() for text in texts]


def _said(text: str, kind: str, chance: Random, at: datetime) -> Said:
    one, other = chance.sample(catalogue.ITEMS, 2)
    filled = text.format(one=one, many=catalogue.plural(one), other=catalogue.plural(other))
    named = tuple(item for item, places in ((one, ("{one}", "{many}")), (other, ("{other}",))) if _any(places, text))
    return Said(filled, kind, () if kind == CHATTER else named, at)


def _any(places: Sequence[str], text: str) -> bool:
    return any(place in text for place in places)


def _data(name: str) -> dict[str, Any]:
    return tomllib.loads(resources.files(__package__).joinpath(name).read_text("utf-8"))


def clerk() -> Ear:
    """The clerk's reader, its index of names built once."""
    group = catalogue.group()
    reader, listener = Reader(FORMS), Listener(names_of(group), group.settings, "Mei")

    def hear(said: Said) -> Meaning:
        readings = reader.read(said.text, said.at, listener).readings
        if not readings:
            return CHATTER, ()
        slots = [reading.slots.as_json(group.settings.currency) for reading in readings]
        return readings[0].kind, tuple(str(one["item"]) for one in slots if "item" in one)

    return hear


def grammar() -> Intents:
    """The templates and all names, compiled once; singular and plural are plain values of one list."""
    data = _data("templates.toml")
    forms = [(form, item) for item in catalogue.ITEMS for form in (item, catalogue.plural(item))]
    lists: dict[str, Any] = {"item": {"values": [{"in": form, "out": item} for form, item in forms]}}
    lists |= {slot: {"values": values} for slot, values in data["values"].items()}
    lists |= {
        slot: {"range": {"from": first, "to": last, "words": False}} for slot, (first, last) in data["ranges"].items()
    }
    lists["remark"] = {"wildcard": True}
    intents = {kind: {"data": [{"sentences": texts}]} for kind, texts in data["sentences"].items()}
    whole = {"language": "en", "intents": intents, "lists": lists, "expansion_rules": data["rules"]}
    return Intents.from_dict(whole)


def hassil(recognizer: Callable[[str, Intents], Any], intents: Intents) -> Ear:
    """One of hassil's two ways to recognise a sentence."""

    def hear(said: Said) -> Meaning:
        result = recognizer(said.text, intents)
        if result is None:
            return CHATTER, ()
        return result.intent.name, tuple(entity.value for entity in result.entities_list if entity.name == "item")

    return hear


def dates(languages: list[str] | None, said: Said) -> Meaning:
    """The dates that search_dates finds; told no language it guesses one first, as it does by itself."""
    found = search_dates(said.text, languages=languages, settings={"RELATIVE_BASE": said.at})
    return ("dates", tuple(words for words, _ in found)) if found else (CHATTER, ())


def understood(ear: Ear, said: Sequence[Said]) -> set[int]:
    """The numbers of the messages of which an ear gets the kind and the items, or the silence, right."""
    return {number for number, one in enumerate(said) if ear(one) == (one.kind, one.items)}


def _hear(ear: Ear, rounds: Sequence[Sequence[Said]], chosen: set[int], number: int) -> None:
    for place in chosen:
        ear(rounds[number][place])


def compare(title: str, ears: dict[str, Ear], chosen: set[int], rounds: Sequence[Sequence[Said]]) -> None:
    """Print the times of the chosen messages in all rounds, the first to warm up, and ratios with aims."""
    print(f"\n{title}: {len(chosen)} messages")
    works = {name: partial(_hear, ear, rounds, chosen) for name, ear in ears.items()}
    taken = alternating(works, len(rounds) - 1, len(chosen))
    times(taken, "message")
    ours, *others = ears
    for other in others:
        against(f"  {ours} / {other}", ratio(taken, ours, other), 0.1 if other.startswith("search_dates") else 0.5)


def by_kind(ear: Ear, rounds: Sequence[Sequence[Said]]) -> None:
    """Print the clerk's time for the messages of each kind."""
    print("\nthe clerk by kind, us a message")
    kinds = list(dict.fromkeys(said.kind for said in rounds[0]))
    chosen = {kind: {place for place, said in enumerate(rounds[0]) if said.kind == kind} for kind in kinds}
    for kind, places in chosen.items():
        taken = alternating({kind: partial(_hear, ear, rounds, places)}, ROUNDS, len(places))
        print(f"  {kind:12} {median(taken[kind]):6.0f}")


def main() -> None:
    """Print counts of what was understood, then times and ratios."""
    heading("Reading a message, 500 items in the catalogue", "hassil", "dateparser", "rapidfuzz")
    intents = grammar()
    ears = {
        "clerk": clerk(),
        "hassil recognize": hassil(recognize, intents),
        "hassil recognize_best": hassil(recognize_best, intents),
    }
    rounds = [messages(number) for number in range(ROUNDS + 1)]
    right = {name: understood(ear, rounds[0]) for name, ear in ears.items()}
    for name, places in right.items():
        missed = [said.text for place, said in enumerate(rounds[0]) if place not in places]
        print(f"{name:22} understood {len(places)} of {len(rounds[0])}; not: {missed}")
    english = partial(dates, ["en"])
    dated = sum(english(said)[0] == "dates" for said in rounds[0])
    print(f"{'search_dates':22} found something it takes for a date in {dated} of {len(rounds[0])}")
    every = set(range(len(rounds[0])))
    compare("All", {**ears, "search_dates, told English": english}, every, rounds)
    slow: dict[str, Ear] = {"clerk": ears["clerk"], "search_dates as it comes": partial(dates, None)}
    compare("All, search_dates guessing the language", slow, every, rounds[:6])
    compare("What all understand", ears, set.intersection(*right.values()), rounds)
    talk = {place for place, said in enumerate(rounds[0]) if said.kind == CHATTER}
    compare("Talk between people", ears, talk, rounds)
    by_kind(ears["clerk"], rounds)


if __name__ == "__main__":
    main()
