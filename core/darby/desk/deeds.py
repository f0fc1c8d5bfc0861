"""What can be done at the desk: each deed takes what a form holds, changes files of the job, and says what it did.

What cannot be done raises `RefusedError` with the reason; nothing is then changed.
"""

from __future__ import annotations

from collections.abc import Callable

from attrs import define

from darby.desk.bench import ROLES
from darby.desk.files.cells import is_plain, number_of, shown, value_of
from darby.desk.files.folder import RefusedError, stamp_of
from darby.desk.files.job_text import JobText
from darby.desk.files.uploads import looked_over
from darby.desk.kept import NAME
from darby.desk.lists import MEASURED, Lists
from darby.desk.own_words import OwnWords
from darby.desk.panes.grid import MEASURES, digest
from darby.desk.panes.problems import BARE, SIZES
from darby.desk.terms import PRICES, Terms
from darby.desk.views import PAPERS, ROLE_NAMES
from darby.desk.writing import Form
from darby.documents.words import one_line
from darby.job.loader import LISTS, SENDING

_UNITS = {"ft": "feet", "in": "inches", "m": "metres", "mm": "millimetres"}


@define(eq=False)
class Deeds(OwnWords, Lists, Terms):
    """All deeds, over one folder."""

    def named(self, name: str) -> Callable[[Form], str] | None:
        """The deed of a form, by the name in its address."""
        return {
            "begin": self.begin, "name": self.name, "row": self.row, "row-new": self.row_new, "row-remove": self.row_remove,
            "row-unit": self.row_unit,
            "text": self.text, "paste": self.paste, "document-add": self.document_add, "document-remove": self.document_remove,
            "list": self.list, "list-rows": self.list_rows, "line": self.line, "line-remove": self.line_remove, "undo": self.undo, "redo": self.redo,
            "pin": self.pin, "ask": self.ask, "leave": self.leave, "sent": self.sent, "sending": self.sending, "not-ours": self.not_ours, "ours-again": self.ours_again,
            "question": self.question, "question-remove": self.question_remove,
            "alternate-take": self.alternate_take, "alternate-leave": self.alternate_leave,
            "bid-begin": self.bid_begin, "bid-write": self.bid_write, "bid-line": self.bid_line, "bid-line-remove": self.bid_line_remove,
        }.get(name)  # fmt: skip

    def begin(self, form: Form) -> str:
        """A new job file, where there is none."""
        units = form.get("units", "us")
        text = (
            JobText.of("")
            .with_value(units if units in ("us", "metric") else "us", "units")
            .with_value(one_line(form.get("name", "")) or "New job", "name")
        )
        self.change("the new job", {self.bench.folder.job: text.text.encode()}, {self.bench.folder.job: ""})
        return "A new job was begun. Paste the specification next, or type the rooms."

    def name(self, form: Form) -> str:
        """The name and units of the job."""
        text = self.job_text()
        if name := one_line(form.get("name", "")):
            text = text.with_value(name, "name")
        if (units := form.get("units", "")) in ("us", "metric") and units != text.data.get("units", "us"):
            text = text.with_value(units, "units")
        self.job_becomes("the name and units", text)
        return "The name and units of the job were written."

    def row(self, form: Form) -> str:
        """The cells of one row, as they stand now in the grid."""
        text, table, number = self._row(form)
        row = text.rows(table)[number]
        for key, _, _ in MEASURES[table]:
            if key in form and key not in LISTS and is_plain(row.get(key, "")):
                was, said = shown(row.get(key, "")), form[key]
                if value_of(key, said) != value_of(key, was):
                    text = text.with_cell(table, number, key, said)
        named = one_line(str(text.rows(table)[number].get("name", ""))) or f"row {number + 1}"
        self.job_becomes(f"the change of {named}", text)
        return f"{named} was written."

    def row_new(self, form: Form) -> str:
        """A new row of a table."""
        table = self._table(form)
        text = self.job_text().with_row(table, {key: form.get(key, "") for key, _, _ in MEASURES[table]})
        named = one_line(form.get("name", "")) or "The new row"
        self.job_becomes(f"the new row {named}", text)
        return f"{named} was put into {table}."

    def row_remove(self, form: Form) -> str:
        """A row taken out."""
        text, table, number = self._row(form)
        named = one_line(str(text.rows(table)[number].get("name", ""))) or f"row {number + 1}"
        self.job_becomes(f"taking {named} out", text.without_row(table, number))
        return f"{named} was taken out of {table}."

    def row_unit(self, form: Form) -> str:
        """The unit of the sizes of a row that have none."""
        text, table, number = self._row(form)
        unit, row = form.get("unit", ""), text.rows(table)[number]
        if unit not in _UNITS:
            raise RefusedError("Say whether they are feet, inches, metres or millimetres.")
        for key, _, _ in MEASURES[table]:
            if key in SIZES and BARE.fullmatch(str(row.get(key, ""))):
                text = text.with_cell(table, number, key, f"{row[key]} {unit}")
        named = one_line(str(row.get("name", ""))) or f"row {number + 1}"
        self.job_becomes(f"the unit of {named}", text)
        return f"The sizes of {named} are in {_UNITS[unit]} now."

    def text(self, form: Form) -> str:
        """The whole text of a document, or of the job file."""
        name = form.get("name", "")
        if name != self.bench.folder.job and name not in (known for known, _ in self.bench.files()):
            raise RefusedError("The job names no such document.")
        before = self.bench.folder.read(name) or b""
        text = form.get("text", "").replace("\r\n", "\n")
        if b"\r\n" in before:
            text = text.replace("\n", "\r\n")
        self.change(f"the text of {name}", {name: text.encode()}, {name: form.get("stamp", "")})
        return f"{name} was written."

    def paste(self, form: Form) -> str:
        """A pasted text as a new document of the job."""
        role = self._role(form)
        text = form.get("text", "").replace("\r\n", "\n")
        if not text.strip():
            raise RefusedError("Nothing was pasted.")
        name = self.free_name(form.get("name", ""), f"{role}.txt")
        return self._add(role, name, text.encode() if text.endswith("\n") else f"{text}\n".encode())

    def upload(self, role: str, name: str, data: bytes) -> str:
        """A file taken in as a new document of the job."""
        if role == MEASURED:
            return self.list_file(name, data)
        if role == PRICES:
            return self.price_list(name, data)
        role = self._role({"role": role})
        safe = self.free_name(name.replace("\\", "/").rpartition("/")[2], "document.txt")
        looked_over(data, safe)
        return self._add(role, safe, data)

    def document_add(self, form: Form) -> str:
        """A file that lies in the folder already, named as a document."""
        role, name = self._role(form), form.get("name", "").strip()
        if self.bench.folder.read(name) is None:
            raise RefusedError(f"There is no {name[:60]} beside the job.")
        self._not_twice(name)
        self.job_becomes(f"taking {name} in", self.job_text().with_item(name, "documents", role))
        return f"{name} is now read as {ROLE_NAMES[role].lower()}."

    def document_remove(self, form: Form) -> str:
        """A document that the job no longer names; its file stays."""
        name, role = form.get("name", ""), self._role(form)
        text = self.job_text()
        items = text.items("documents", role)
        if name not in items:
            raise RefusedError("The job names no such document.")
        self.job_becomes(f"leaving {name} out", text.without_item(items.index(name), "documents", role))
        return f"{name} is no longer read. The file stays in the folder."

    def undo(self, _: Form) -> str:
        """The last change taken back."""
        return f"Taken back: {self.bench.folder.undo()}."

    def redo(self, _: Form) -> str:
        """The change that was taken back, made again."""
        return f"Done again: {self.bench.folder.redo()}."

    def pin(self, _: Form) -> str:
        """The order as it is kept, to compare with; or let go again."""
        folder = self.bench.folder
        there = folder.read(NAME)
        if there is not None:
            self.change("letting the kept order go", {NAME: None}, {NAME: stamp_of(there)})
            return f"The order that was kept to compare with was let go, and {NAME} taken away. Undo brings it back."
        data = self.keeping.data() if self.keeping is not None else b""
        if not data:
            raise RefusedError("The job cannot be worked out as it stands, so there is no order to keep.")
        self.change("keeping the order", {NAME: data}, {NAME: ""})
        return f"The order as it is now is kept in {NAME}: what changes from here on stands beside each line, with what did it."

    def sending(self, form: Form) -> str:
        """What a paper says besides the order: its date, sender, recipient and the like."""
        paper, text = form.get("paper", ""), self.job_text()
        if paper not in SENDING:
            raise RefusedError("There is no such paper.")
        said = text.table(paper)
        if digest(said) != form.get("was", ""):
            raise RefusedError(
                "This has been changed since, by another program or another window. Look at it as it is now."
            )
        for key in SENDING[paper]:
            if key in form and key not in LISTS and one_line(form[key]) != one_line(shown(said.get(key, ""))):
                text = text.with_value(one_line(form[key]), paper, key)
        self.job_becomes(f"what stands on the {paper}", text)
        return f"What stands on the {PAPERS[paper]} was written into the job."

    def _add(self, role: str, name: str, data: bytes) -> str:
        job = self.job_text().with_item(name, "documents", role)
        files: dict[str, bytes | None] = {name: data, self.bench.folder.job: job.text.encode()}
        self.change(f"the document {name}", files, {name: "", self.bench.folder.job: job.stamp})
        return f"{name} was put beside the job, and is read as {ROLE_NAMES[role].lower()}."

    @staticmethod
    def _table(form: Form) -> str:
        table = form.get("table", "")
        if table not in MEASURES:
            raise RefusedError("There is no such table of measures.")
        return table

    def _row(self, form: Form) -> tuple[JobText, str, int]:
        text, table, number = self.job_text(), self._table(form), number_of(form.get("at-row", ""))
        rows = text.rows(table)
        if number >= len(rows) or digest(rows[number]) != form.get("was", ""):
            raise RefusedError(
                "That row has been changed since, by another program or another window. Nothing was written: look at it as it is now."
            )
        return text, table, number

    @staticmethod
    def _role(form: Form) -> str:
        role = form.get("role", "")
        if role not in ROLES:
            raise RefusedError("Say what the document is: the specification, an addendum, or your own rates.")
        return role

    def _not_twice(self, name: str) -> None:
        if name in (known for known, _ in self.bench.files()):
            raise RefusedError(f"{name} is read already.")
