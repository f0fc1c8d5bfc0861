"""What came of working saved estimates out again: file by file, and added up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any, Literal

from attrs import field, frozen

from darby.saved.comparison import Moved
from darby.saved.model import Line, Measure

Became = Literal["same", "moved", "incomplete", "failed"]


@frozen
class Replayed:
    """One file. `incomplete` is an estimate in which a trade failed today; `failed` could not be worked out at all.

    `problem` says why, in a sentence; `digest` names the bytes that were worked out.
    """

    file: str
    became: Became
    digest: str = ""
    name: str = ""
    moved: tuple[Moved, ...] = ()
    problem: str = ""


@frozen
class Total:
    """What all jobs together order more or less of one package: `packages` more, in `jobs` of them."""

    product: str
    container: str
    package: Measure | None
    packages: int
    jobs: int


@frozen
class Summary:
    """All files, by name, and what they come to."""

    files: tuple[Replayed, ...]
    stopped: bool = False
    """Whether some files were left for another time."""
    counts: Mapping[str, int] = field(init=False, eq=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "counts", Counter(f.became for f in self.files))

    @property
    def moves(self) -> tuple[tuple[Replayed, Moved], ...]:
        """Every line that moved, the largest change first."""
        pairs = [(file, moved) for file in self.files for moved in file.moved]
        return tuple(sorted(pairs, key=lambda p: (-p[1].size[0], -p[1].size[1], p[0].file, p[1].id)))

    @property
    def unsound(self) -> tuple[Replayed, ...]:
        """The files that failed or came out incomplete."""
        return tuple(f for f in self.files if f.problem)

    @property
    def totals(self) -> tuple[Total, ...]:
        """Packages by product and size, what changed most first; what comes in no known package is left out."""
        packages: Counter[tuple[str, str, Measure | None]] = Counter()
        jobs: dict[tuple[str, str, Measure | None], set[str]] = {}
        for file in self.files:
            for moved in file.moved if file.became == "moved" else ():
                for line, sign in ((moved.before, -1), (moved.after, 1)):
                    if line is not None and line.count is not None and moved.ordered:
                        key = (line.product, line.container, line.package)
                        packages[key] += sign * line.count
                        jobs.setdefault(key, set()).add(file.file)
        found = [Total(*key, count, len(jobs[key])) for key, count in packages.items()]
        return tuple(sorted(found, key=lambda t: (-abs(t.packages), t.product, t.container, str(t.package))))


def as_json(one: Replayed) -> dict[str, Any]:
    """A result as plain data, for the journal of a run."""
    return {
        "file": one.file, "became": one.became, "digest": one.digest, "name": one.name, "problem": one.problem,
        "moved": [[_line_json(m.before), _line_json(m.after)] for m in one.moved],
    }  # fmt: skip


def of_json(data: Mapping[str, Any]) -> Replayed:
    """The result of plain data. Raises KeyError, TypeError or ValueError for what is none."""
    if data["became"] not in ("same", "moved", "incomplete", "failed"):
        raise ValueError(data["became"])
    texts = [str(data[key]) for key in ("digest", "name", "problem")]
    moved = tuple(Moved(_line_of(before), _line_of(after)) for before, after in data["moved"])
    return Replayed(str(data["file"]), data["became"], texts[0], texts[1], moved, texts[2])


def _line_json(line: Line | None) -> list[Any] | None:
    if line is None:
        return None
    package = None if line.package is None else [str(line.package.value), line.package.unit]
    need = [str(line.need.value), line.need.unit]
    return [line.id, line.trade, line.product, [list(p) for p in line.pool], need, line.count, package, line.container]


def _line_of(data: Any) -> Line | None:
    if data is None:
        return None
    name, trade, product, pool, need, count, package, container = data
    return Line(
        name, trade, product, tuple((k, v) for k, v in pool), _measure(need), count,
        None if package is None else _measure(package), container,
    )  # fmt: skip


def _measure(data: Iterable[str]) -> Measure:
    value, unit = data
    return Measure(Fraction(value), unit)
