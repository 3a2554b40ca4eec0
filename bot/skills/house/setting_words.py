"""The words by which people name a setting, and those of which an order about one is made."""

from __future__ import annotations

from core.choices import Setting
from core.day_rules import WEEKDAYS

WEEKDAYS_SAID = "|".join(one for day in WEEKDAYS for one in (day, f"{day}s", day[:3], day[:4], day[:5]))
"""The weekdays, as cues write them."""
SUMMARY = "summary|summery|summry|sumary|summaries|roundup"
NAMED: tuple[tuple[Setting, str], ...] = (
    (Setting.QUIET_HOURS, "quiet silent late text allowed"),
    (Setting.SUMMARY, SUMMARY.replace("|", " ")),
    (Setting.TOPIC, "topic topics thread"),
    (Setting.ALERTS_A_DAY, "alert alerts"),
    (Setting.LEAD_DAYS, "lead ahead before befor warning notice"),
    (Setting.ROUNDING, "round rounding rounded"),
    (Setting.CURRENCY, "currency currnecy"),
    (Setting.TAX_RATE, "tax vat gst hst"),
    (Setting.COUNTRY, "country"),
    (Setting.TIMEZONE, "timezone zone zones"),
    (Setting.SEASON, "season"),
    (Setting.REACTIONS, "reactions reaction"),
)
"""Words that name a setting, the first that fits counts."""


def setting_named(words: set[str]) -> Setting | None:
    """The setting that words name; None where they name none."""
    return next((setting for setting, names in NAMED if words & set(names.split())), None)


def _set(text: str) -> frozenset[str]:
    return frozenset(text.split())


HEADS: dict[Setting, frozenset[str]] = {
    Setting.SUMMARY: _set(SUMMARY.replace("|", " ")),
    Setting.ALERTS_A_DAY: _set("alert alerts"),
    Setting.TOPIC: _set("alert alerts"),
    Setting.CURRENCY: _set("currency currnecy"),
    Setting.TAX_RATE: _set("tax taxes vat gst hst"),
    Setting.COUNTRY: _set("country counrty contry"),
    Setting.TIMEZONE: _set("timezone zone zones"),
    Setting.SEASON: _set("season seasson"),
    Setting.QUIET_HOURS: _set("quiet quite"),
    Setting.REACTIONS: _set("reaction reactions"),
}
"""The nouns of a setting: a word of another trade before one or behind it makes it another's ("deer season")."""

OWN_WORDS: dict[Setting, frozenset[str]] = {
    Setting.QUIET_HOURS: _set(
        "bother notifications msg msgs anything send quiet quite hours hour hrs silent silence shush hush "
        "message messages messaging text texts texting post posts posting ping pings pinging write writing "
        "buzz buzzing wake peep nothing night disturb mute alert alerts observe"
    ),
    Setting.SUMMARY: _set("weekly week summary wanted nobody reads instead better day days"),
    Setting.ALERTS_A_DAY: _set("deal deals price prices day daily enough unlimited many"),
    Setting.ROUNDING: _set(
        "unit unitary price prices cent cents penny pence tenth tenths part fraction whole full next nearest "
        "piece one upward upwards decimal exact always work"
    ),
    Setting.CURRENCY: _set("prices amounts money everything buy pay dealing code"),
    Setting.TAX_RATE: _set("sales tax rate percent per cent exempt county state levies charges stands pay buy zero"),
    Setting.COUNTRY: _set("country code buy shop group united"),
    Setting.TIMEZONE: _set("time zone clock clocks go"),
    Setting.SEASON: _set("packing close closes open opens year"),
    Setting.REACTIONS: _set(
        "react reacting price prices word words text sign signs thumb thumbs emoji emojis reply replying "
        "respond answer answering enough need each deal deals"
    ),
    Setting.TOPIC: _set("deal deals price topic thread main general chat part place belong belongs"),
}
"""What an order about a setting may speak of besides its value."""

ORDERING = _set(
    "take lift carry unmute start set make change switch put move use turn keep cap limit stop send post show "
    "drop kill remove delete cancel skip adjust amend observe let dont never do please pls plz kindly pray "
    "clerk bot you your u ur yr yours yourself want wants need prefer wish like update mute react answer "
    "reply respond round enable disable resume restore quit give get bring"
)
"""Words that order or ask for something; with one of them a word that nothing explains is let pass."""

PLAIN = ORDERING | _set(
    "notice k btw fyi fix see says group a an the this that it its them em all any some our we us for of to "
    "at on in by from until till til through thru between and or not no none only just more most less than "
    "least maximum max minimum min tops up down off out over is are be am should shall will would could can "
    "might may must id i me have having has come comes coming start starts starting begin begins end ends "
    "ending run runs goes go going lasts last late later early earlier after before past now today tomorrow "
    "tonight again back here where when whenever there so then also too well ok okay hi hello hey yes yeah if "
    "whether rather really possibly wonder effective onwards onward forward further anymore longer away rid "
    "thanks thank ta cheers folks everyone everybody guys instead new time day date sharp about around same "
    "every each one other both per with as accordingly reach arrive sent moved delivered posted said say tell "
    "much many little lot lots such sort kind please exactly total good fine great better best nice soon "
    "first second without within during think were weve wed"
)
ASKING = _set(
    "youre remind force since next coming week weeks wk wks lst previous prev month months year years see go "
    "gone got what whats which wich wot wat how when whens whos who do does did using used uses name show "
    "list state settings set quick short brief"
)
"""Words of which a question about a setting may be made besides."""
DAYS_AND_NUMBERS = _set(
    "am pm oclock noon midday midnight morning mornings afternoon afternoons evening evenings night nights "
    "lunchtime monday mondays tuesday tuesdays wednesday wednesdays thursday thursdays friday fridays "
    "saturday saturdays sunday sundays mon tue tues wed weds thu thur thurs fri sat sun january february "
    "march april june july august september october november december jan feb mar apr jun jul aug sep sept "
    "oct nov dec one two three four five six seven eight nine ten eleven twelve fifteen twenty thirty half "
    "quarter percent first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth "
    "thirteenth fourteenth fifteenth st nd rd th"
)
"""Words of which a value is made."""
ANOTHERS = _set(
    "he she they hes shes theyre theyd his her hers their theirs him my mine went had has got gotten been did "
    "came became took gave told said was wasnt whose who"
)
"""Words of somebody else's things, and of what is over."""
JOINTS = _set("because cause cos bc since cuz but ok okay lol omg haha , ; (")
"""What parts one statement from the next: a reason, an aside."""
SUBJECTS = _set("its im i my we were weve theres hes shes they he she thats")
"""Words that begin another statement where a value has been said before them: "max 3 alerts a day my phone melts"."""
NOUNS = _set("hours hour hrs rate zone a day")
"""Words that end the name of a setting."""
LEADING_ON = _set("of for on in at from about")
ARTICLES = _set("new old own whole the a an this that our your ur yr any all these those")
