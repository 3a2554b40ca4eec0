"""Cautions: which hazards an item has, and which published rules then matter for a kit's age range.

Ages, texts and citations are those of check-values.md, section 8; ``Rule.sure`` says how well they are known.
They point at what to look at and settle nothing: the collecting charity's list and local rules do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

OLDEST = 99
NO_SOURCE = "common practice, no source"


class Hazard(StrEnum):
    """What an item may be flagged for, in the order in which cautions are told."""

    SMALL_PARTS = "small parts"
    SHARP_POINTS = "sharp points"
    CORDS = "cords"
    BALLOONS = "balloons"
    MAGNETS = "magnets"
    SMALL_BALLS = "small balls"
    IMITATION_FOOD = "imitation food"
    LATEX = "latex"
    LIQUIDS = "liquids"


class Sure(StrEnum):
    """How well a rule's figures are known: the weakest of them counts."""

    READ = "read in the source"
    SECOND_HAND = "second-hand"
    MEMORY = "partly from memory"
    NOTHING = "no source"


@dataclass(frozen=True, slots=True)
class Ages:
    """The children a kit is for, in years, both inclusive; ``high`` None is "and up"."""

    low: int
    high: int | None

    def __post_init__(self) -> None:
        high = OLDEST if self.high is None else self.high
        if not 0 <= self.low <= high <= OLDEST:
            raise ValueError(f"ages {self.low} to {self.high}")

    def any_under(self, years: int) -> bool:
        """True where a child younger than that is among them: 5 to 9 has some under 6, 6 to 9 has none."""
        return self.low < years


ALL_AGES = Ages(0, None)


@dataclass(frozen=True, slots=True)
class Rule:
    """What is published about a hazard: clauses in plain words, to be put into a sentence.

    It matters for kits with children younger than ``under`` years; None is for all ages.
    """

    hazard: Hazard
    under: int | None
    cite: str
    says: str
    beyond: str
    """What the rule does not cover."""
    sure: Sure

    def matters_for(self, ages: Ages) -> bool:
        """True where the rule speaks of some of these children: under 8 matters for 5 to 9."""
        return self.under is None or ages.any_under(self.under)


_RULES = (
    Rule(
        Hazard.SMALL_PARTS,
        under=6,
        cite="16 CFR 1501.4, 1500.19",
        says="the rule bans them for under 3 and labels them for 3 to under 6",
        beyond="crayons, chalk, pencils, pens, toothbrushes, barrettes, clothing; no ban is no all-clear for a baby",
        sure=Sure.SECOND_HAND,
    ),
    Rule(
        Hazard.SHARP_POINTS,
        under=None,
        cite=NO_SOURCE,
        says="points and blades can cut",
        beyond="from what age; the collection sheet may say",
        sure=Sure.NOTHING,
    ),
    Rule(
        Hazard.CORDS,
        under=None,
        cite=NO_SOURCE,
        says="a long one can go round a neck",
        beyond="how long is too long, and from what age",
        sure=Sure.NOTHING,
    ),
    Rule(
        Hazard.BALLOONS,
        under=8,
        cite="16 CFR 1500.19",
        says="uninflated or burst ones can suffocate; the label warns for under 8",
        beyond="balloons not of latex; the small-parts ban leaves balloons out",
        sure=Sure.MEMORY,
    ),
    Rule(
        Hazard.MAGNETS,
        under=None,
        cite="16 CFR 1262.3",
        says="small loose or separable ones must be weak: flux index below 50 kG² mm²",
        beyond="toys, which follow ASTM F963 under 16 CFR 1250",
        sure=Sure.READ,
    ),
    Rule(
        Hazard.SMALL_BALLS,
        under=8,
        cite="16 CFR 1500.19, 60 FR 10742",
        says="the rule bans small balls for under 3 and labels them, like marbles, for 3 to under 8",
        beyond="balls too big for a 1.75 in (44.4 mm) hole",
        sure=Sure.MEMORY,
    ),
    Rule(
        Hazard.IMITATION_FOOD,
        under=None,
        cite="Regulation (EU) 2023/988, art. 6(1)(f)(i)",
        says="looking like food is weighed as a risk; the ban of 87/357/EEC ended 13 Dec 2024",
        beyond="countries outside the EU, and from what age",
        sure=Sure.READ,
    ),
    Rule(
        Hazard.LATEX,
        under=None,
        cite="no rule named",
        says="EU toys may carry a rubber-latex warning",
        beyond="things other than toys, and countries outside the EU",
        sure=Sure.SECOND_HAND,
    ),
    Rule(
        Hazard.LIQUIDS,
        under=None,
        cite=NO_SOURCE,
        says="they can leak over the rest of a kit",
        beyond="which ones are taken, and how much",
        sure=Sure.NOTHING,
    ),
)
RULES: Mapping[Hazard, Rule] = {rule.hazard: rule for rule in _RULES}


def met(hazards: Iterable[Hazard], ages: Ages | None) -> tuple[Rule, ...]:
    """The rules that matter for a kit, in the order of Hazard; without an age range it is for all ages.

    Small balls matter for 7 to 9 (under 8) and not for 8 to 12.
    """
    found = frozenset(hazards)
    return tuple(rule for rule in _RULES if rule.hazard in found and rule.matters_for(ages or ALL_AGES))


_NAMED = {
    Hazard.SMALL_PARTS: (
        "bead | button | charm | dice | sequin | googly eye | wiggly eye"
        " | mini eraser | shaped eraser | food eraser | fruit eraser"
    ),
    Hazard.SHARP_POINTS: "needle | pin | pushpin | razor | scissors | sharpener | thumbtack",
    Hazard.CORDS: "cord | drawstring | jump rope | lanyard | necklace | skip rope | skipping rope | yo-yo | yoyo",
    Hazard.BALLOONS: "balloon | foil balloon | mylar balloon | latex free balloon",
    Hazard.MAGNETS: "magnet | magnetic",
    Hazard.SMALL_BALLS: "bouncing ball | bouncy ball | marble | mini ball | small ball",
    Hazard.IMITATION_FOOD: (
        "play food | play fruit | play vegetable | pretend food | toy food | toy fruit | toy vegetable"
        " | fake food | fake fruit | food shaped | fruit shaped | food eraser | fruit eraser"
    ),
    Hazard.LATEX: "balloon | latex",
    Hazard.LIQUIDS: (
        "body wash | bubble | conditioner | glue | hair gel | hand cream | hand gel | hand sanitiser | hand sanitizer"
        " | liquid | lotion | mouthwash | nail polish | paint | shampoo | shower gel | slime | sunscreen"
        " | tooth paste | toothpaste"
    ),
}
"""What a name itself says, phrase by phrase; a longer phrase hides the shorter ones inside it."""

_NO_HAZARD = (
    "balloon pump | bobby pin | bowling pin | clothes pin | pin wheel | button down | button up | marble composition"
    " | marble notebook | latex free | bar shampoo | shampoo bar | conditioner bar | lotion bar | glue stick"
    " | paint brush | paint stick | bubble envelope | bubble gum | bubble mailer | bubble popper | bubble wrap"
)
"""Phrases that hold a hazard's word and do not mean it."""

_WORD = re.compile(r"[^\W\d_]+")


def _words(text: str) -> tuple[str, ...]:
    """The words of a name, each in the singular: "Yo-Yos" is yo, yo."""
    return tuple(map(_singular, _WORD.findall(text.casefold())))


def _singular(word: str) -> str:
    if len(word) < 3 or not word.endswith("s") or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-2] if word.endswith(("ches", "shes", "sses", "xes")) else word[:-1]


def _phrases() -> Mapping[tuple[str, ...], frozenset[Hazard]]:
    """Each phrase of the tables with all that it says."""
    found: dict[tuple[str, ...], frozenset[Hazard]] = {_words(one): frozenset() for one in _NO_HAZARD.split("|")}
    for hazard, phrases in _NAMED.items():
        for phrase in map(_words, phrases.split("|")):
            found[phrase] = found.get(phrase, frozenset()) | {hazard}
    return found


_PHRASES = _phrases()
_LONGEST = max(map(len, _PHRASES))


def hazards_of_name(name: str) -> frozenset[Hazard]:
    """The hazards that an item's everyday name says: "liquid soap" is a liquid, "bar soap" says nothing."""
    words = _words(name)
    told: set[int] = set()
    found: set[Hazard] = set()
    for length in range(_LONGEST, 0, -1):
        for start in range(len(words) - length + 1):
            reach = range(start, start + length)
            phrase = words[start : start + length]
            if phrase in _PHRASES and not told.issuperset(reach):
                told.update(reach)
                found |= _PHRASES[phrase]
    return frozenset(found)
