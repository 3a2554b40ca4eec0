"""The words by which people name a setting."""

from __future__ import annotations

from core.choices import Setting

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
