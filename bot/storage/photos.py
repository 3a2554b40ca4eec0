"""Photos that came with what was entered, by the transport's own keys; the pictures themselves stay in the chat."""

from __future__ import annotations

from sqlalchemy import insert, select

from bot.storage.books import Books
from bot.storage.tables import entries, items, photos, purchases, sightings


def add_photo(books: Books, entry: int, photo: str) -> None:
    """Keep the photo that came with an entry."""
    books.connection.execute(insert(photos), {"group_id": books.group_id, "entry_id": entry, "photo": photo})


def photo_of(books: Books, entry: int) -> str | None:
    """The photo that came with an entry, taken back or not."""
    own = (photos.c.group_id == books.group_id, photos.c.entry_id == entry)
    found: str | None = books.connection.execute(select(photos.c.photo).where(*own).limit(1)).scalar()
    return found


def newest_photo(books: Books, item: str | None = None) -> tuple[int, str] | None:
    """The newest photo of a living entry, of an item's prices and purchases or of anything, with its entry."""
    standing = (entries.c.group_id == photos.c.group_id) & (entries.c.id == photos.c.entry_id)
    found = (
        select(photos.c.entry_id, photos.c.photo)
        .join(entries, standing)
        .where(photos.c.group_id == books.group_id, entries.c.undone_at.is_(None))
        .order_by(photos.c.id.desc())
        .limit(1)
    )
    if item is not None:
        of_item = select(items.c.id).where(items.c.group_id == books.group_id, items.c.name == item).scalar_subquery()
        seen = select(sightings.c.entry_id).where(
            sightings.c.group_id == books.group_id, sightings.c.item_id == of_item
        )
        bought = select(purchases.c.entry_id).where(
            purchases.c.group_id == books.group_id, purchases.c.item_id == of_item
        )
        found = found.where(photos.c.entry_id.in_(seen.union(bought)))
    row = books.connection.execute(found).first()
    return (row.entry_id, row.photo) if row else None
