"""The rules of the house that neither ruff nor import-linter can see."""

from __future__ import annotations

import ast
import io
import statistics
import tokenize
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from bot.skills import KINDS
from tests.examples import BOT, examples, kind_files, read

ROOT = BOT.parent
FEWEST_MESSAGES = 20
LONGEST_FUNCTION = 60
LONGEST_AS_A_RULE = 25
MEDIAN_FUNCTION = 8
MOST_ARGUMENTS = 5
LONGEST_FILE = 400
CLOCKS = {
    "datetime": {"now", "utcnow", "today"},
    "date": {"today"},
    "time": {"time", "time_ns", "localtime", "gmtime", "ctime", "strftime"},
    "func": {"now", "current_timestamp", "current_date"},
}
NOT_CODE = (tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT)

Function = ast.FunctionDef | ast.AsyncFunctionDef


def modules(*folders: str) -> list[Path]:
    """The Python files under folders of the repository."""
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))


def place(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def code_lines(path: Path) -> frozenset[int]:
    """The lines of a file that hold code: no comments, no docstrings, no blank lines."""
    found: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(path.read_text("utf-8")).readline):
        if token.type not in NOT_CODE:
            found.update(range(token.start[0], token.end[0] + 1))
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found.difference_update(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    return frozenset(found)


@dataclass(frozen=True, slots=True)
class Measured:
    """A function with its code lines and its arguments, self not counted."""

    where: str
    lines: int
    arguments: int


def functions(*folders: str) -> Iterator[Measured]:
    for path in modules(*folders):
        for node in ast.walk(tree(path)):
            if isinstance(node, Function):
                reach = range(node.lineno, (node.end_lineno or node.lineno) + 1)
                lines = len(code_lines(path).intersection(reach))
                yield Measured(f"{place(path)}: {node.name}", lines, len(_arguments(node)))


def _arguments(node: Function) -> list[str]:
    named = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    named += [one for one in (node.args.vararg, node.args.kwarg) if one]
    return [one.arg for one in named if one.arg not in ("self", "cls")]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_examples(kind: str) -> None:
    beside = [path for path in kind_files().values() if path.stem == kind]
    said = [one for one in examples("reads", "asks") if one.kind == kind]

    assert len(beside) == 1
    assert beside[0].with_suffix(".py").exists()
    assert len(said) >= FEWEST_MESSAGES


def test_every_example_file_belongs_to_a_kind() -> None:
    assert {path.stem for path in kind_files().values()} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_taught_lines_read_as_their_kind(kind: str) -> None:
    for line, _ in KINDS[kind].teach:
        assert [reading["kind"] for reading in read(line)] == [kind]


def test_every_kind_but_unclear_teaches() -> None:
    assert [name for name, kind in KINDS.items() if not kind.teach] == ["unclear"]


def test_no_message_is_claimed_twice() -> None:
    claimed = Counter(one.message for one in examples("reads", "asks", "known_failures"))

    assert [message for message, times in claimed.items() if times > 1] == []


def test_examples_read_as_the_kind_beside() -> None:
    strangers = [
        one.label for one in examples("reads") if {reading["kind"] for reading in one.entry["as"]} != {one.kind}
    ]

    assert strangers == []


def test_every_module_opens_with_its_purpose() -> None:
    silent = [place(path) for path in modules("bot", "core", "tests") if not _purpose(path)]

    assert silent == []


def _purpose(path: Path) -> bool:
    """Whether a docstring of one closed sentence opens the file."""
    first = (ast.get_docstring(tree(path)) or "").split("\n\n")[0].strip()
    return first.endswith((".", ":"))


def test_no_function_is_too_long() -> None:
    long = [one for one in functions("bot", "core", "tests") if one.lines > LONGEST_FUNCTION]

    assert long == []


def test_functions_are_short_as_a_rule() -> None:
    lines = [one.lines for one in functions("bot", "core")]

    assert statistics.median(lines) <= MEDIAN_FUNCTION
    assert statistics.quantiles(lines, n=10)[-1] <= LONGEST_AS_A_RULE


def test_no_function_takes_too_many_arguments() -> None:
    crowded = [one for one in functions("bot", "core", "tests") if one.arguments > MOST_ARGUMENTS]

    assert crowded == []


def test_no_file_is_too_long() -> None:
    lengths = {place(path): len(path.read_text("utf-8").splitlines()) for path in modules("bot", "core", "tests")}

    assert {where: length for where, length in lengths.items() if length > LONGEST_FILE} == {}


def test_only_the_clock_asks_the_time() -> None:
    asking = [place(path) for path in modules("bot", "core") if any(map(_asks_time, ast.walk(tree(path))))]

    assert asking == ["bot/clock.py"]


def _asks_time(node: ast.AST) -> bool:
    """True for datetime.now(...) and its like, and for names that would hide one."""
    if isinstance(node, ast.ImportFrom) and node.module == "time":
        return any(one.name in CLOCKS["time"] for one in node.names)
    if not isinstance(node, ast.Attribute):
        return False
    owner = node.value
    name = owner.id if isinstance(owner, ast.Name) else owner.attr if isinstance(owner, ast.Attribute) else ""
    return node.attr in CLOCKS.get(name, ())


def test_only_its_transport_knows_telegram() -> None:
    allowed = ("bot/transports/telegram/", "bot/commands/")
    importing = [place(path) for path in modules("bot", "core") if any(map(_imports_telegram, ast.walk(tree(path))))]

    assert importing
    assert [where for where in importing if not where.startswith(allowed)] == []


def _imports_telegram(node: ast.AST) -> bool:
    if isinstance(node, ast.Import):
        return any(one.name.split(".")[0] == "telegram" for one in node.names)
    return isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "telegram"
