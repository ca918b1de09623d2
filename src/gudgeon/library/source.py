"""Where a number was read, and the reading of the tables that stand beside these modules."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class Source:
    """Where a number comes from.

    work  : the book, standard or data set; "common practice, no source" when there is none
    where : page, table or note inside it, "" when there is nothing to add
    known : how we know it: read in a public copy, package run, calculation, from memory
    """

    work: str
    where: str
    known: str

    def __str__(self) -> str:
        return f"{self.work}, {self.where}" if self.where else self.work


Row = Mapping[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """The rows of a table kept beside this module, each by its column heads, as written there.

    name : the file's name without its ending, "woods"
    """
    path = Path(__file__).parent / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(lines, strict=True))


def source_of(row: Row, prefix: str = "") -> Source:
    """The source a row names, in its columns source, where and how_known.

    prefix : "shrinkage_" where one part of the row has its own place in the same work
    """
    return Source(row["source"], row[f"{prefix}where"], row[f"{prefix}how_known"])


def figure(text: str) -> float | None:
    """The number in a cell, None for an empty one."""
    return float(text) if text else None
