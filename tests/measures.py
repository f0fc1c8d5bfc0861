"""Jobs that are read for what there is to check in their measures."""

from __future__ import annotations

from darby.job.checks.all import checks_of
from darby.job.loader import load
from darby.job.marks import Marks
from darby.job.model import Job
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

MARKS = Marks({"color": ("wall",), "supports": (), "hung": ()})


def room(name: str, length: str = "12 ft", width: str = "10 ft", height: str = "8 ft", more: str = "") -> str:
    """The row of a room."""
    return f'[[rooms]]\nname = "{name}"\nlength = "{length}"\nwidth = "{width}"\nheight = "{height}"\n{more}\n'


def wall(name: str, length: str = "11 ft", height: str = "8 ft", more: str = "faces = 1") -> str:
    """The row of a wall."""
    return f'[[walls]]\nname = "{name}"\nlength = "{length}"\nheight = "{height}"\n{more}\n'


def job_of(rows: str, top: str = "", units: str = "us") -> Job:
    """The job of some rows, which have to be right."""
    job, found = load(Source("job.toml", f'name = "Try"\nunits = "{units}"\n{top}\n{rows}'), MARKS)
    assert job is not None, [d.message for d in found]
    return job


def checks(rows: str, top: str = "", units: str = "us") -> tuple[Diagnostic, ...]:
    """What there is to check in the job of some rows."""
    return checks_of(job_of(rows, top, units))


def told(rows: str, top: str = "", units: str = "us") -> list[tuple[str, str]]:
    """The code of each check and the text it stands at."""
    return [(d.code, d.span.text if d.span else "") for d in checks(rows, top, units)]
