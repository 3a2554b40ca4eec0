"""Database faults told as one sentence that a person can act on; a password is never part of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import URL
from sqlalchemy.exc import DataError, DBAPIError, IntegrityError, NotSupportedError, ProgrammingError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError


class DatabaseTroubleError(Exception):
    """The database cannot be used as it is; the text says what is wrong and what to do."""


IN_USE = "The database {place} is in use by another program: wait for it to finish, then try again."
READ_ONLY = "The database {place} is read-only: allow writing to it and its folder, or name another one."
NOT_A_DATABASE = "The file {place} is no database, or a damaged one: move it away, or name another one."
UNOPENED = "The database {place} cannot be opened: check that its folder exists and may be written to."
FULL = "The database {place} cannot grow, for the disk is full: make room, then try again."
UNREACHABLE = (
    "The database {place} cannot be reached: check that its server runs and that address, user and password"
    " are right ({reason})."
)
UNUSABLE = "The database {place} cannot be used: {reason}."
NEWER = "The database {place} was made by a newer version of Packing Clerk: update it, or name another one."
BAD_URL = (
    "The database address {place} is not understood: it reads like sqlite:///books.db"
    " or postgresql://user@server/books."
)
NO_FILE = "There is no file {place}: name the database in which the books are."
NO_BOOKS = "The database {place} holds no books of Packing Clerk: name the one that does."
OLDER = (
    "The books in the database {place} are as an older version of Packing Clerk kept them: start the clerk on it"
    " once (DATABASE_URL says where), for that brings them up to date, then try again."
)
NOT_EMPTY = "The database {place} already holds the books of a group: name an empty one to move to."
SAME = "The books are in the database {place} already: name another one to move to."
UNFIT = "The database {place} cannot keep all that the books hold ({reason}): nothing was moved."
UNEQUAL = "The database {place} did not keep what it was given ({reason}): nothing was moved."
NO_DRIVER = "The database {place} needs the Python package {reason}: install it, or name an SQLite file."

_SIGNS = {
    "locked": IN_USE,
    "busy": IN_USE,
    "readonly": READ_ONLY,
    "read-only": READ_ONLY,
    "not a database": NOT_A_DATABASE,
    "malformed": NOT_A_DATABASE,
    "unable to open": UNOPENED,
    "is full": FULL,
    "QueuePool": IN_USE,
}
_CODES = {
    "55P03": IN_USE,  # lock_not_available
    "40P01": IN_USE,  # deadlock_detected
    "40001": IN_USE,  # serialization_failure
    "25006": READ_ONLY,  # read_only_sql_transaction
    "53100": FULL,  # disk_full
}
_BUGS = (IntegrityError, ProgrammingError, DataError, NotSupportedError)


@contextmanager
def told(url: URL) -> Iterator[None]:
    """Raises DatabaseTroubleError for whatever the database, not the program, did wrong inside."""
    try:
        yield
    except _BUGS:
        raise
    except DBAPIError as fault:
        raise _trouble(url, fault.orig or fault) from fault
    except (PoolTimeoutError, sqlite3.OperationalError) as fault:
        raise _trouble(url, fault) from fault


def sentence(url: URL, wording: str, reason: str = "") -> DatabaseTroubleError:
    """The error of one of the wordings above, the place named without its password."""
    served = url.get_backend_name() != "sqlite"
    place = url.set(query={}).render_as_string(hide_password=True) if served else url.database
    return DatabaseTroubleError(wording.format(place=place or "in memory", reason=reason))


def _trouble(url: URL, fault: BaseException) -> DatabaseTroubleError:
    reason = (str(fault).splitlines() or [type(fault).__name__])[0].rstrip(".")
    code: str | None = getattr(fault, "sqlstate", None)
    wording = _CODES.get(code or "") or next((said for sign, said in _SIGNS.items() if sign in reason), None)
    if wording is None:
        served = url.get_backend_name() != "sqlite"
        wording = UNREACHABLE if served and code is None else UNUSABLE
    return sentence(url, wording, reason)
