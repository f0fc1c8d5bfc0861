"""Saved estimates as tests: worked out again under today's rules and plugins, the comparison as the failure message.

The pytest plugin makes a test of every file in the folders named by `darby_saved`. Whoever uses pytest-regressions
already can go on doing so, and renew a file with `--force-regen` once the difference has been read:

    from darby.testing.saved import again, same_order

    def test_the_ferry_orders_what_it_did(file_regression) -> None:
        saved = Path("estimates/ferry.json")
        file_regression.check(again(saved), fullpath=saved, encoding="utf-8", check_fn=same_order)
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from darby.documents.terminal import comparison as comparison_terminal
from darby.documents.terminal.parts import plain, show_problems, written
from darby.saved.comparison import compare
from darby.saved.model import Choices, Saved
from darby.saved.reader import open_saved
from darby.saved.replay.causes import causes
from darby.saved.replay.file import Setup, office_for
from darby.saved.replay.file import again as worked_again
from darby.saved.replay.one import Worked
from darby.saved.writer import text_of, with_longhand
from darby.text.diagnostics import Diagnostic
from darby.text.files import open_file


class SavedError(AssertionError):
    """A saved estimate that cannot be used, in the words that `darby` would use."""


def again(path: Path, house: Sequence[Path] | None = None) -> str:
    """The canonical text of a saved estimate worked out again today. Raises SavedError where it cannot be.

    `house` files take the place of the house lines it was saved with.
    """
    worked = _worked(_open(path), _setup(house))
    assert worked.saved is not None
    assert worked.estimate is not None
    return text_of(with_longhand(worked.saved, worked.estimate))


def difference(path: Path, house: Sequence[Path] | None = None) -> str:
    """What moved in a saved estimate and why, as text; nothing where it orders the same today. Never raises."""
    try:
        setup = _setup(house)
        saved = _open(path)
        worked = _worked(saved, setup)
    except SavedError as error:
        return str(error)
    assert worked.saved is not None
    return _told(saved, worked.saved, setup)


def same_order(obtained: Path, expected: Path) -> None:
    """A `check_fn` for pytest-regressions. Raises SavedError with the comparison where two saved files order otherwise."""
    told = _told(_open(Path(expected)), _open(Path(obtained)), Setup())
    if told:
        raise SavedError(told)


def _told(before: Saved, after: Saved, setup: Setup) -> str:
    comparison = compare(before, after)
    if comparison.same:
        return ""
    return comparison_terminal.make(comparison, causes(comparison, office_for(setup, after.choices).plugins))


def _open(path: Path) -> Saved:
    saved, told = open_saved(path, office_for(Setup(), Choices()).language.kinds, path.name)
    if saved is None:
        raise SavedError(_problems(told))
    return saved


def _setup(house: Sequence[Path] | None) -> Setup:
    if house is None:
        return Setup()
    opened = [open_file(path, path.name) for path in house]
    wrong = [d for source, told in opened if source is None for d in told]
    if wrong:
        raise SavedError(_problems(wrong))
    return Setup(tuple((source.name, source.text) for source, _ in opened if source is not None))


def _worked(saved: Saved, setup: Setup) -> Worked:
    worked = worked_again(saved, setup)
    if worked.saved is None:
        raise SavedError(_problems(worked.problems))
    if worked.saved.missing and worked.saved.missing != saved.missing:
        raise SavedError(
            f"{', '.join(worked.saved.missing)} failed, and its lines are missing.\n" + _problems(worked.problems)
        )
    return worked


def _problems(told: Sequence[Diagnostic]) -> str:
    console, stream = plain()
    show_problems(console, told, pages=False)
    return written(stream).strip()
