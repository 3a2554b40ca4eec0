"""Messages a second through the whole path, against a bare echo application; ``python -m tests.bench.load``.

Both are processes of their own and poll the same stand-in, which is a third. The echo is python-telegram-bot's own
application with one handler; the clerk is as people run it, on SQLite, but for the limits on how fast it may speak.
"""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.storage.books import Database
from bot.transports.telegram.pacing import Limits
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from tests.bench.timing import heading
from tests.conftest import HARBOUR_LANE
from tests.telegram.serve import Far, Verb
from tests.telegram_stand_in import TOKEN

CHATS = 50
KNOWN = 4 * CHATS
"""Messages before the measurement: every member of every chat has spoken."""
MESSAGES = 1500
ROUNDS = 3
STEADY_SECONDS = 10
AIM = 0.7
BOUNDLESS = (1e9, 1)
ROOT = Path(__file__).parents[2]


def echo(url: str) -> None:
    """The reference: answers each message with its own words."""
    from telegram import Update
    from telegram.ext import Application, ContextTypes, MessageHandler, filters

    async def say(update: Update, _: ContextTypes.DEFAULT_TYPE) -> None:
        if update.message is not None and update.message.text is not None:
            await update.message.reply_text(update.message.text, do_quote=True)

    application = Application.builder().token(TOKEN).base_url(f"{url}/bot").build()
    application.add_handler(MessageHandler(filters.TEXT, say))
    application.run_polling()


def clerk(url: str, database_url: str) -> None:
    """The clerk, for packers who want no deal alerts."""
    group = read_group(HARBOUR_LANE)
    packers = replace(group, settings=replace(group.settings, alerts_a_day=0))
    with closing(Database(database_url)) as database:
        database.migrate()
        limits = Limits(BOUNDLESS, BOUNDLESS, BOUNDLESS)
        logging.getLogger("telegram").setLevel(logging.CRITICAL)
        Telegram(bot_of(TOKEN, url), database, Assistant(database, packers), Polling, limits).run()


@contextmanager
def running(*arguments: str) -> Iterator[None]:
    """One of the two in a process of its own."""
    process = subprocess.Popen(  # noqa: S603 - our own command
        [sys.executable, "-m", "tests.bench.load", *arguments],
        cwd=ROOT,
        env=os.environ | {"PTB_TIMEDELTA": "true"},
    )
    try:
        yield
    finally:
        process.terminate()
        process.wait()


def said(first: int, number: int) -> list[Verb]:
    """So many messages, chat after chat, each of another member and at another price."""
    return [
        (
            "says",
            {
                "user": f"{'KLMN'[at // CHATS % 4]}{at % CHATS}",
                "text": f"12 pencils 0.{at % 60 + 20} at corner store",
                "chat": -1001 - at % CHATS,
            },
        )
        for at in range(first, first + number)
    ]


def answered(telegram: Far, number: int) -> None:
    """Wait until so many messages have been sent."""
    while telegram.does("calls").get("sendMessage", 0) < number:
        time.sleep(0.02)


def burst(side: Callable[[str], Sequence[str]]) -> float:
    """Messages a second when all of them wait; each member has spoken before."""
    with Far() as telegram, running(*side(telegram.url)):
        telegram.does_all(said(0, KNOWN))
        answered(telegram, KNOWN)
        began = time.perf_counter()
        telegram.does_all(said(KNOWN, MESSAGES))
        answered(telegram, KNOWN + MESSAGES)
        return MESSAGES / (time.perf_counter() - began)


def steady(side: Callable[[str], Sequence[str]], a_second: float) -> list[float]:
    """The seconds that each reply takes while messages come evenly."""
    with Far() as telegram, running(*side(telegram.url)):
        telegram.does_all(said(0, KNOWN))
        answered(telegram, KNOWN)
        began, at = time.perf_counter(), KNOWN
        while (passed := time.perf_counter() - began) < STEADY_SECONDS:
            due = KNOWN + int(passed * a_second)
            if due > at:
                telegram.does_all(said(at, due - at))
                at = due
            time.sleep(0.005)
        answered(telegram, at)
        chats = [("answer_times", {"chat": -1001 - chat}) for chat in range(CHATS)]
        return [taken for of_chat in telegram.does_all(chats) for taken in of_chat[4:]]


def main() -> None:
    """Print the rates, their ratio round by round, and the reply times at half the clerk's rate."""
    heading("The whole path on Telegram against a bare echo", "python-telegram-bot", "aiohttp", "sqlalchemy")
    rates: dict[str, list[float]] = {"echo": [], "clerk": []}
    with TemporaryDirectory() as folder:
        names = iter(range(1000))

        def clerks(url: str) -> Sequence[str]:
            return "clerk", url, f"sqlite:///{folder}/{next(names)}.db"

        def echoes(url: str) -> Sequence[str]:
            return "echo", url

        for _ in range(ROUNDS):
            rates["echo"].append(burst(echoes))
            rates["clerk"].append(burst(clerks))
        for name, of_side in rates.items():
            spread = f"{min(of_side):.0f} to {max(of_side):.0f}"
            print(f"{name:8} {median(of_side):7.0f} messages a second, median of {ROUNDS} ({spread})")
        figure = median(one / other for one, other in zip(rates["clerk"], rates["echo"], strict=True))
        print(f"clerk / echo {figure:.3f}   aim {AIM}: {'met' if figure >= AIM else 'MISSED'}")
        half = median(rates["clerk"]) / 2
        taken = [1000 * seconds for seconds in steady(clerks, half)]
        late = quantiles(taken, n=100)[-1]
        print(f"at {half:.0f} messages a second: reply in {median(taken):.0f} ms, 99th percentile {late:.0f} ms")


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["echo", url]:
            echo(url)
        case ["clerk", url, database_url]:
            clerk(url, database_url)
        case _:
            main()
