"""Deeds with measured lists: pasted or taken in as a file, their rows put into the grid, or kept beside the job as they are."""

from __future__ import annotations

from collections.abc import Collection

from attrs import define

from darby.desk.files.folder import RefusedError
from darby.desk.files.listed_rows import with_rows_of
from darby.desk.files.pasted import as_list
from darby.desk.files.uploads import looked_over
from darby.desk.panes.lists import list_view
from darby.desk.views import View
from darby.desk.writing import Form, Writing
from darby.documents.words import one_line
from darby.text.files import decode
from darby.text.spans import Source

MEASURED = "measured"
"""What a file is that holds measured rows, as the form for a file calls it."""


@define(eq=False)
class Lists(Writing):
    """What is done with lists of what was measured."""

    def list(self, form: Form) -> str:
        """A measured list that was pasted: its rows put into the grid, or the whole kept as a schedule of the job."""
        text = as_list(form.get("text", ""))
        if form.get("as") == "rows":
            return self._into_grid(Source("the list", text), "the pasted rows")
        name = self.free_name(form.get("name", ""), "measured.csv")
        self._kept(name, text.encode())
        return f"{name} was put beside the job, {text.count(chr(10)) - 1} rows. What is wrong in it stands under the order."

    def list_file(self, name: str, data: bytes) -> str:
        """A file with a measured list: its rows put into the grid, or, where they cannot be, the file kept beside the job."""
        safe = self.free_name(name.replace("\\", "/").rpartition("/")[2], "measured.csv")
        looked_over(data, safe, table=True)
        source, found = decode(data, safe, table=True)
        if source is None:
            raise RefusedError(" ".join(one_line(f"{d.message} {d.help}") for d in found))
        try:
            return self._into_grid(source, f"the rows of {safe}")
        except RefusedError as refused:
            self._kept(safe, data)
            return f"{refused} {safe} is kept beside the job instead."

    def list_rows(self, form: Form) -> str:
        """The rows of a list beside the job put into the grid; the file stays, and is no longer read."""
        name = form.get("name", "")
        job = self.job_text()
        items = job.items("schedules")
        if name not in items:
            raise RefusedError("The job names no such list.")
        source, found = decode(self.bench.folder.read(name) or b"", name, table=True)
        if source is None:
            raise RefusedError(" ".join(one_line(f"{d.message} {d.help}") for d in found))
        others = [one for one in self._beside() if one.name != name]
        made, many = with_rows_of(job.without_item(items.index(name), "schedules"), source, others, self._marks())
        self.job_becomes(f"the rows of {name}", made)
        return f"{_rows(many)} taken from {name}, and can be changed in the grid now. The file stays in the folder, and is no longer read."

    def list_preview(self, form: Form) -> View:
        """What a pasted list would be taken for; nothing is written."""
        name = self.free_name(form.get("name", ""), "measured.csv")
        try:
            return list_view(form.get("text", ""), name, self.job_text(), self._beside(), self._marks())
        except RefusedError as refused:
            return {"refused": str(refused)}

    def _into_grid(self, source: Source, what: str) -> str:
        made, many = with_rows_of(self.job_text(), source, self._beside(), self._marks())
        self.job_becomes(what, made)
        return f"{_rows(many)} put into the grid, where each can be changed."

    def _kept(self, name: str, data: bytes) -> None:
        job = self.job_text().with_item(name, "schedules")
        files = {name: data, self.bench.folder.job: job.text.encode()}
        self.change(f"the list {name}", files, {name: "", self.bench.folder.job: job.stamp})

    def _beside(self) -> Collection[Source]:
        """The lists that the job has already."""
        job = self.last_job()
        return job.schedules if job is not None else ()

    def _marks(self) -> Collection[str]:
        marks = self.bench.marks
        return marks() if marks is not None else ()


def _rows(many: int) -> str:
    return f"{many:,} row{'s were' if many > 1 else ' was'}" if many else "No rows were"
