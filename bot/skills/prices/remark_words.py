"""The words by which a message tells what a sort of item is like; each list is one part of such a sentence."""

from __future__ import annotations

from bot.reading.form import words


def _verbs(text: str) -> frozenset[str]:
    """Verbs of the present, for one and for many: break, breaks."""
    return frozenset(form for verb in text.split() for form in (verb, verb + "s", verb + "es"))


def _with_particles(particles: dict[str, str]) -> dict[str, frozenset[str]]:
    return {form: words(after) for verbs, after in particles.items() for form in verbs.split()}


# What goes wrong with it.
FAILING = _verbs(
    "break snap crack leak smudge smear rip tear jam melt crumble rust fade peel fray shed skip smell stink squeak wilt"
    " splinter wobble deflate burst split bleed stain unravel shrink chip bend scratch snag dissolve curl warp clog"
    " blob itch shatter flake pill shred disintegrate drip buckle"
)
ONGOING = frozenset(form for verb in FAILING for form in (verb + "ing", verb[:-1] + "ing", verb + verb[-1] + "ing"))
KEEPING = words("keep keeps kept always constantly")
BROKEN = words(
    "broke snapped cracked leaked ripped tore bent melted smudged faded frayed rusted shrank split crumbled fell came"
    " popped lost broken crushed squashed dented damaged torn chipped"
)
SOON = words("after within straight right already first")
"""With these, what broke once tells of the sort: "broke after a day"."""
ARRIVING = words("arrive arrives arrived come comes came turned turn")
COMING = _with_particles(
    {
        "fall falls falling": "apart off out open to",
        "come comes coming": "apart off out loose undone unstuck open away",
        "pop pops": "open off out",
        "stick sticks": "out",
        "catch catches": "on",
        "wear wears wore": "off out thin through",
        "dry dries dried drying": "out up fast quickly",
        "run runs": "dry",
        "lose loses": "its their the all lids caps bristles teeth threads shape colour color",
        "turn turns turned": "to into",
    }
)
"""Verbs that tell of a fault with one of these words behind them."""
DOING = _verbs(
    "fit work write sharpen close open hold last show erase foam lather cut stand survive lock click stay draw rub"
    " bounce"
)
"""What it should do."""
DENYING = words("dont doesnt wont didnt cant cannot no not never barely hardly wouldnt")
ILL = words("badly poorly")
HARMS = words("itch itchy rash rashes hives headache headaches sneeze")
MAKING = words("make made makes give gave gives get gets got getting")

# What it is.
BAD = words(
    "flimsy weak scratchy itchy waxy greasy sticky dull blunt dead brittle bendy wonky crooked smelly leaky crumbly"
    " mushy soggy faded rubbish trash useless awful terrible horrible crap garbage junk lousy poor faulty defective"
    " unusable unsharpened stiff rough harsh bulky shoddy nasty hopeless faint watery mouldy moldy"
)
MEASURES = words(
    "big small large little long short wide narrow thick thin heavy light hard soft sharp bright strong tiny huge loose"
    " tight fat slippery pale dark fragile flat dry soggy"
)
"""What is no fault but with "too", or where it turns so: "go hard"."""
TURNING = words("go goes went get gets turn turns turned")
GOOD = words(
    "great lovely excellent brilliant perfect fantastic amazing superb decent nice beautiful smooth better best"
    " wonderful soft softer right wrong sturdy sturdier solid durable strong stronger"
)
STANDING = words("sturdy sturdier durable solid strong stronger")
"""Praise that nobody gives but to the sort."""
MANNERS = words("nicely well great lovely long beautifully perfectly smoothly clean forever ages")
MUCH = words("so very really super too way a bit kinda quite pretty all just far rather always totally rock the")
BEING = words(
    "is are r was were be theyre its get gets go goes went come comes came arrive arrives feel feels look looks seem"
    " seems stay stays"
)
TELLING = words("- : = ,")
ENDING = words("anymore after before against straight compared unless tho though imo honestly everywhere inside")
"""Words behind a quality that are no noun which it describes."""

# Whose, and which of it.
PARTS = words(
    "lead leads tip tips cap caps lid lids handle handles bristle bristles blade blades cover covers page pages tooth"
    " teeth eraser erasers rubber rubbers ink wrapper wrappers zip zips string strings spine spines binding spring"
    " springs clip clips edge edges seam seams staple staples pigment label labels paint paper wood point points lint"
    " head heads grip grips"
)
PIECES = words("singles packs pack ones bar bars sticks boxes")
HAVING = words("have has had having got with w come comes arrive arrives")
SORTS = words("kind ones one sort type brand")
POINTING = words("they theyre these those it its some half most")
ARTICLES = words("a an the these those our")
BESIDE = words("for with in at to by behind")
SHARES = words("half some most all lots many any none one both box pack bag kind sort type batch")
BEHIND_ITEM = words("w").union(
    FAILING, BROKEN, COMING, DOING, BAD, GOOD, MEASURES, PARTS, PIECES, BEING, MAKING, DENYING, KEEPING, ENDING
)
"""What may stand behind an item's name and is no noun that makes another thing of it."""

WANTED = words("want wants need needs prefer prefers like likes love loves asked")

# What others should do.
BUYING = words("buy buying get getting order ordering")
NEVER = words("dont never not stop wont wouldnt")
SHUNNING = words("skip avoid ditch")
MEANT = words("the those these that them this")
OFF = words("off about against")
NOT_YET = words("yet today now until till have has already enough tonight tomorrow")
"""With these, "dont get the pens" is said of what is short, not of how they are."""
FOR_ALL = words("record mind fyi psa note know heads tell say")

# What makes it talk.
PEOPLE = words("i we he she you u kid kids people someone somebody everyone who im ive ill weve to can could might may")
GETTING = words("got bought get buy have had has tried used use using found ordered picked opened brought grabbed")
"""What somebody did who is only named to tell which are meant: "the pens we got last time leak"."""
OF_SOMEBODY = words("my your ur his her mine yours mum mom son daughter sister brother nephew niece husband wife")
ASKING = words("who what whats when where why how did do does is are can could should shall anyone if")
BEFORE_A_NOUN = words("theyll itll will would a an the this my of for with at on in some any and")
DOUBTING = words("if whether why wonder wondering hope hopefully maybe perhaps bet wish unless love")

_OTHERS = words("thumbs bother recommend warn without missing no made quality use")
_FAULTS = FAILING.union(ONGOING, KEEPING, BROKEN, COMING, DOING, HARMS)
TELLING_WORDS = _FAULTS.union(BAD, MEASURES, GOOD, WANTED, BUYING, SHUNNING, _OTHERS)
"""The words, one of which every such remark says."""
CUES = "|".join(sorted(TELLING_WORDS))
