"""What all deeds share: the text of the job file taken, changed, and put back as one step."""

from __future__ import annotations

import re
from collections.abc import Mapping

from attrs import define, field

from darby.desk.bench import Bench
from darby.desk.files.cells import number_of
from darby.desk.files.folder import RefusedError, Stamp, stamp_of
from darby.desk.files.job_text import JobText
from darby.desk.kept import NAME, Keeping
from darby.desk.panes.own_line import Looked
from darby.job.model import Job
from darby.saved.model import Saved

Form = Mapping[str, str]
_NAME = re.compile(r"[^\w .()-]+")


@define(eq=False)
class Writing:
    """Changes files of one folder."""

    bench: Bench
    look: Looked
    """Looks at a line of her own before it is written."""
    keeping: Keeping | None = None
    """Keeps the order, to compare with."""
    _opened: tuple[Stamp, Saved | None] | None = field(default=None, init=False)

    def kept(self) -> Saved | None:
        """The order that was kept; None where there is none that can be read."""
        try:
            data = self.bench.folder.read(NAME)
        except RefusedError:
            return None
        if data is None or self.keeping is None:
            return None
        stamp = stamp_of(data)
        if self._opened is None or self._opened[0] != stamp:
            self._opened = stamp, self.keeping.opened(data)
        return self._opened[1]

    def job_text(self) -> JobText:
        """The text of the job file as it lies there."""
        text, stamp = self.bench.folder.seen(self.bench.folder.job)
        return JobText.of(text, stamp)

    def last_job(self) -> Job | None:
        """The job as it was worked out last."""
        now = self.bench.look().estimate
        return now.job if now is not None else None

    def job_becomes(self, what: str, text: JobText) -> None:
        """The job file with another text."""
        self.change(what, {self.bench.folder.job: text.text.encode()}, {self.bench.folder.job: text.stamp})

    def change(self, what: str, files: Mapping[str, bytes | None], seen: Mapping[str, str]) -> None:
        """Some files changed in one step."""
        self.bench.folder.change(what, files, seen)

    def free_name(self, said: str, otherwise: str) -> str:
        """The name for a new file: as it was said, without signs that file systems refuse, and not one there is."""
        name = re.sub(r" +(?=\.|$)", "", " ".join(_NAME.sub(" ", said).split())).strip(" .")[:100] or otherwise
        if "." not in name:
            name += "." + otherwise.rpartition(".")[2]
        stem, _, ending = name.rpartition(".")
        for number in range(2, 1000):
            if self.bench.folder.read(name) is None:
                return name
            name = f"{stem}-{number}.{ending}"
        raise RefusedError(f"There are too many files called {stem}. Give it another name.")

    def take_out(self, form: Form, *path: str) -> None:
        """One text of a list taken out, as the form shows it."""
        text, number = self.job_text(), number_of(form.get("number", ""))
        items = text.items(*path)
        if number >= len(items) or items[number] != form.get("line", ""):
            raise RefusedError("That line is no longer there.")
        self.job_becomes(f"taking “{items[number][:60]}” out", text.without_item(number, *path))
