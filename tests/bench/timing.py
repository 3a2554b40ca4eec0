"""How a measurement is taken and printed: rounds that alternate, medians, the aim beside the ratio."""

from __future__ import annotations

import os
import platform
from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import version
from statistics import median
from time import perf_counter_ns

Round = Callable[[int], None]
"""The work of one round, told the round's number, so that none hears the same words twice."""


def per_piece(work: Round, number: int, pieces: int) -> float:
    """Microseconds for each of so many pieces of work that one round does."""
    began = perf_counter_ns()
    work(number)
    return (perf_counter_ns() - began) / 1000 / pieces


def alternating(works: Mapping[str, Round], rounds: int, pieces: int) -> dict[str, list[float]]:
    """Microseconds a piece in every round, all works in each round, each first in its turn; round 0 warms up."""
    names = list(works)
    taken: dict[str, list[float]] = {name: [] for name in names}
    for number in range(rounds + 1):
        first = number % len(names)
        for name in names[first:] + names[:first]:
            microseconds = per_piece(works[name], number, pieces)
            if number:
                taken[name].append(microseconds)
    return taken


def ratio(taken: Mapping[str, Sequence[float]], name: str, reference: str) -> float:
    """The median over the rounds of one work's time over the reference's in the same round."""
    return median(one / other for one, other in zip(taken[name], taken[reference], strict=True))


def heading(title: str, *libraries: str) -> None:
    """Print what is measured, with which versions, on what machine."""
    versions = ", ".join(f"{name} {version(name)}" for name in libraries)
    print(title)
    print(f"Python {platform.python_version()}, {versions}; {platform.system()}, {os.cpu_count()} cores\n")


def times(taken: Mapping[str, Sequence[float]], piece: str) -> None:
    """Print the median of each work with the fastest and the slowest round."""
    for name, microseconds in taken.items():
        spread = f"{min(microseconds):.0f} to {max(microseconds):.0f}"
        print(f"{name:36} {median(microseconds):10.0f} us a {piece}, median of {len(microseconds)} ({spread})")


def against(name: str, figure: float, aim: float) -> None:
    """Print a ratio with its aim, the most that it should be."""
    verdict = "met" if figure <= aim else "MISSED"
    print(f"{name:60} {figure:7.3f}   aim {aim:g}: {verdict}")
