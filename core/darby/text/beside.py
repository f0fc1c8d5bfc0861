"""Files that a job names: they lie in its folder, unless the job is run with leave to go outside."""

from __future__ import annotations

from pathlib import Path

from darby.text.diagnostics import Diagnostic, problem
from darby.text.files import Decoded, Opened, decode, open_file
from darby.text.spans import Span


def open_beside(
    folder: Path,
    name: str,
    span: Span | None = None,
    *,
    anywhere: bool = False,
    table: bool = False,
    decoded: Decoded = decode,
) -> Opened:
    """The source in a file that a job names, looked up in the folder of the job; one that lies elsewhere only where it may."""
    if not anywhere and (told := outside(folder, name, span)) is not None:
        return None, (told,)
    return open_file(folder / name, name, span, table=table, decoded=decoded)


def outside(folder: Path, name: str, span: Span | None = None) -> Diagnostic | None:
    """That a file which a job names lies outside of the folder of the job, links followed; None where it lies in it."""
    try:
        if (folder / name).resolve().is_relative_to(folder.resolve()):
            return None
    except (
        OSError,
        ValueError,
        RuntimeError,
    ):  # a name that no system takes, or links in a circle: told when it is opened
        return None
    return problem(
        "file-outside", f"{name} lies outside of the folder of the job, and was not opened.", span, file=name,
        help="Copy it beside the job; or, if you trust the job, add --files-anywhere.",
    )  # fmt: skip
