"""Counts of things: "12 pencils", "1 brush", "3 bars of soap"."""

from __future__ import annotations

from collections.abc import Sequence

_IRREGULAR = {
    "knife": "knives",
    "child": "children",
    "tooth": "teeth",
    "dice": "dice",
    "scarf": "scarves",
    "shelf": "shelves",
}
_AS_THEY_ARE = frozenset("paper toothpaste scissors paints cards playdough chalk".split())


def plural(name: str) -> str:
    """The plural of a thing's name; its head word changes: bar of soap, bars of soap."""
    head, of, rest = name.partition(" of ")
    *before, last = head.split(" ")
    return " ".join([*before, _plural_word(last)]) + of + rest


def _plural_word(word: str) -> str:
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word in _AS_THEY_ARE or (word.endswith("s") and not word.endswith(("ss", "us"))):
        return word
    if word.endswith(("s", "x", "ch", "sh", "z")):
        return word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def counted(count: int, name: str) -> str:
    """A count with its thing: "12 pencils"."""
    return f"{count:,} {name if count == 1 else plural(name)}"


def listed(parts: Sequence[str], joint: str = "and") -> str:
    """Parts as a list in a sentence: "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {joint} {parts[-1]}"


def listed_up_to(items: Sequence[str], most: int) -> str:
    """So many items as a list in a sentence, and how many are left out: "a, b and 3 more items"."""
    rest = len(items) - most
    return listed([*items[:most], counted(rest, "more item")] if rest > 0 else items)


def capital(text: str) -> str:
    """A sentence's first letter in capitals; the rest as it is."""
    return text[:1].upper() + text[1:]
