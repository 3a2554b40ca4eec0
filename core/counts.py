"""How many single units a quantity holds: dozens, gross, packs."""

from __future__ import annotations

from dataclasses import dataclass

MAX_UNITS = 1_000_000
"""The largest count taken; a longer number is a slip of the finger."""

SHELF_PACKS = (10, 12, 24)
"""Single units in the packs most often on a shelf: what a question offers (common practice, no source)."""


class CountError(ValueError):
    """The count is zero, negative or absurdly large."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """``packs`` packs of ``pack_size`` single units; single units lying loose are packs of one.

    ``pack_size`` None says that packs were named but not their size.
    """

    packs: int
    pack_size: int | None = 1

    @property
    def units(self) -> int | None:
        """Single units in all: 2 packs of 12 are 24; None when the pack size is unknown."""
        return None if self.pack_size is None else self.packs * self.pack_size


def checked(units: int) -> int:
    """The count itself, if a group can mean it. Raises CountError for 0, less, or over a million."""
    if not 0 < units <= MAX_UNITS:
        raise CountError(str(units))
    return units
