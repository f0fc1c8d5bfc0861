"""Changes of a job file as text: a value, a row or a line is put in or taken out, and everything else stays as it was written.

Each change is checked before it is given back: read again, the file holds what was meant and nothing else has moved.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import Any

from attrs import frozen

from darby.desk.files.cells import copied, value_of, written
from darby.desk.files.folder import RefusedError
from darby.desk.files.row_places import RowPlaces, row_at, row_places
from darby.text.spans import Span
from darby.text.toml_places import Places, read_toml, source_of

Data = dict[str, Any]
Path = tuple[str | int, ...]

_IDLE = re.compile(r"\s*(#.*)?$")


@frozen(eq=False, slots=False)
class JobText:
    """The text of a job file, with its data and their places."""

    text: str
    data: Data
    places: Places
    stamp: str = ""
    """The stamp of the file that it was made from."""

    @classmethod
    def of(cls, text: str, stamp: str = "") -> JobText:
        """A job file's text; `RefusedError` where it is no TOML, so that nothing can be changed in it but by hand."""
        data, places, mistakes = read_toml(source_of("job.toml", text))
        if data is None or mistakes:
            line = mistakes[0].span.line if mistakes else 1
            raise RefusedError(f"job.toml cannot be read (line {line}). Mend its text first, under Documents.")
        return cls(text, data, places, stamp)

    def rows(self, table: str) -> list[Data]:
        """The rows of a table, as they were written; it may lie in another: `bid.wages`."""
        *above, last = table.split(".")
        found = (self.table(above[0]) if above else self.data).get(last)
        return found if isinstance(found, list) and all(isinstance(one, dict) for one in found) else []

    def table(self, name: str) -> Data:
        """A table of single values, as it was written; an empty one where there is none."""
        found = self.data.get(name)
        return found if isinstance(found, dict) else {}

    def items(self, *path: str) -> list[str]:
        """The texts of a list, a single text as a list of one, none where there is neither."""
        found: Any = self.data
        for key in path:
            found = found.get(key) if isinstance(found, dict) else None
        if isinstance(found, str):
            return [found]
        return [one for one in found if isinstance(one, str)] if isinstance(found, list) else []

    def with_cell(self, table: str, row: int, key: str, said: str) -> JobText:
        """One value of a row set, put in, or, where nothing is said, taken out."""
        if row >= len(self.rows(table)):
            raise RefusedError("That row is no longer there.")
        value = value_of(key, said)

        def meant(data: Data) -> None:
            if value is None:
                data[table][row].pop(key, None)
            else:
                data[table][row][key] = value

        place = self.places.known.get((table, row, key))
        if place is None:
            return self if value is None else self._put(self._after(table, row), f"{key} = {written(value)}\n", meant)
        if value is None:
            start = self.text.rfind("\n", 0, place.key.start) + 1
            return self._with(start, self._line_end(self._whole(place.value)[1]), "", meant)
        return self._with(*self._whole(place.value), written(value), meant)

    def with_row(self, table: str, cells: Mapping[str, str]) -> JobText:
        """A row put behind the last of its table."""
        values = {key: value for key, said in cells.items() if (value := value_of(key, said)) is not None}
        if not values:
            raise RefusedError("Nothing was typed for the new row.")
        return self.with_rows(table, [values])

    def with_rows(self, table: str, made: Sequence[Data]) -> JobText:
        """Rows put behind the last of their table, which may lie in another (`bid.wages`): texts, whole numbers, yes or no, lists of texts."""
        block = "\n".join(
            f"[[{table}]]\n" + "".join(f"{key} = {written(value)}\n" for key, value in row.items()) for row in made
        )
        rows = self.rows(table)
        *above, last = table.split(".")

        def meant(data: Data) -> None:
            for key in above:
                data = data.setdefault(key, {})
            data.setdefault(last, []).extend(map(copied, made))

        at = self._row(table, len(rows) - 1)[1] if rows and not above else len(self.text)
        return self._put(at, f"\n{block}", meant)

    def without_row(self, table: str, row: int) -> JobText:
        """A row taken out, with all its keys; remarks around it stay."""
        if row >= len(self.rows(table)):
            raise RefusedError("That row is no longer there.")

        def meant(data: Data) -> None:
            del data[table][row]
            if not data[table]:
                del data[table]

        start, end = self._row(table, row)
        if self.text[end : end + 1] == "\n" and (start == 0 or self.text[:start].endswith("\n\n")):
            end += 1  # one blank line of two
        return self._with(start, end, "", meant)

    def with_item(self, said: str, *path: str) -> JobText:
        """A text put at the end of a list, which is made where there is none: `rules`, or `documents`, `specification`."""

        def meant(data: Data) -> None:
            for key in path[:-1]:
                data = data.setdefault(key, {})
            data.setdefault(path[-1], []).append(said)

        place = self.places.known.get(path)
        if place is None:
            line = f"{path[-1]} = [{written(said)}]\n"
            if len(path) == 1:
                return self._put(self._top_end(), line, meant)
            table = self.places.known.get(path[:1])
            if table is None:
                return self._put(self._top_end(), f"\n[{path[0]}]\n{line}", meant)
            return self._put(self._line_end(table.value.end), line, meant)
        if not isinstance(self._at(path), list):
            raise RefusedError(f"{'.'.join(path)} of job.toml is no list. Mend its text first, under Documents.")
        start, end = place.value.start, place.value.end
        last = max((p for p in self.places.known if p[:-1] == path and isinstance(p[-1], int)), default=None)
        if last is None:
            return self._with(start, end, f"[{written(said)}]", meant)
        after = self._whole(self.places.known[last].value)[1]
        between = ",\n    " if "\n" in self.text[start:end] else ", "
        remark = re.compile(r"(?:[ \t]*(,))?([ \t]*#[^\n]*)").match(self.text, after)
        if remark is not None:
            return self._with(after, remark.end(), f",{remark[2]}\n    {written(said)}{remark[1] or ''}", meant)
        return self._with(after, after, between + written(said), meant)

    def without_item(self, number: int, *path: str) -> JobText:
        """A text taken out of a list; the last one takes the list with it, since an empty one says nothing."""
        place = self.places.known.get((*path, number))
        if place is None or len(self.items(*path)) != len(self._at(path)):
            raise RefusedError("That line is no longer there, or the list holds what is no text.")
        alone = len(self._at(path)) == 1

        def meant(data: Data) -> None:
            for key in path[:-1]:
                data = data[key]
            if alone:
                del data[path[-1]]
            else:
                del data[path[-1]][number]

        if alone:
            whole = self.places.known[path]
            start = self.text.rfind("\n", 0, whole.key.start) + 1
            return self._with(start, self._line_end(whole.value.end), "", meant)
        start, end = self._whole(place.value)
        after = re.compile(r"[ \t]*,[ \t]*(?:#[^\n]*)?\n?[ \t]*").match(self.text, end)
        if after is not None and (*path, number + 1) in self.places.known:
            return self._with(start, after.end(), "", meant)
        before = self._whole(self.places.known[*path, number - 1].value)[1] if number else start
        return self._with(before, end, "", meant)

    def with_value(self, said: str, *path: str | int) -> JobText:
        """A text set at the top of the file, or in a table of it, which is made where there is none; nothing said takes it out."""

        def meant(data: Any) -> None:
            for key in path[:-1]:
                data = data.setdefault(key, {}) if isinstance(data, dict) else data[key]
            data[path[-1]] = said
            if not said:
                del data[path[-1]]

        place = self.places.known.get(path)
        if place is None and not said:
            return self
        if place is not None and said:
            return self._with(*self._whole(place.value), written(said), meant)
        if place is not None:
            start = self.text.rfind("\n", 0, place.key.start) + 1
            return self._with(start, self._line_end(self._whole(place.value)[1]), "", meant)
        line = f"{path[-1]} = {written(said)}\n"
        if len(path) == 1:
            return self._put(0, line, meant)
        table = self.places.known.get(path[:-1])
        if table is None:
            return self._put(self._top_end(), f"\n[{path[0]}]\n{line}", meant)
        return self._put(self._line_end(table.value.end), line, meant)

    def row_of(self, span: Span | None) -> tuple[str, int] | None:
        """The table and the number of the row in which a place of this file lies, if it lies in one."""
        if span is None or span.source.text != self.text:
            return None
        return row_at(self._rows_at, span.start)

    @cached_property
    def _rows_at(self) -> RowPlaces:
        return row_places(self.places.known)

    def _at(self, path: Path) -> Any:
        found: Any = self.data
        for key in path:
            found = found[key]
        return found

    def _whole(self, span: Span) -> tuple[int, int]:
        """Where a value begins and ends, with its quotes."""
        sign = self.text[span.start - 1 : span.start]
        if sign not in ('"', "'") or not self.text.startswith(sign, span.end):
            return span.start, span.end
        quotes = 3 if self.text[span.start - 3 : span.start] == sign * 3 else 1
        return span.start - quotes, span.end + quotes

    def _line_end(self, at: int) -> int:
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end + 1

    def _header(self, table: str, row: int) -> Span:
        """The header of a row; `RefusedError` where it has none."""
        header = self.places.known[table, row].value
        if self.text[header.start : header.start + 1] != "[":
            raise RefusedError(f"{table} is written on one line of job.toml. Change it in its text, under Documents.")
        return header

    def _row(self, table: str, row: int) -> tuple[int, int]:
        """From the header of a row to behind its last key; remarks before the next header are not its own."""
        header = self._header(table, row)
        start = self.text.rfind("\n", 0, header.start) + 1
        end = self._next_header(header.end, (table, row))
        while True:  # back over blank lines and remarks
            before = self.text.rfind("\n", start, end - 1) + 1 if end - 1 > start else start
            if before <= header.start or not _IDLE.match(self.text[before:end].rstrip("\n")):
                break
            end = before
        return start, end

    def _next_header(self, at: int, inside: Path) -> int:
        """Where the next table begins that does not lie in this row."""
        starts = [
            place.value.start
            for path, place in self.places.known.items()
            if place.value.start >= at and place.key == place.value and path[:2] != inside
        ]
        if not starts:
            return len(self.text)
        return self.text.rfind("\n", 0, min(starts)) + 1

    def _after(self, table: str, row: int) -> int:
        """Behind the last plain key of a row that stands on a line of its own, else behind its header."""
        header = self._header(table, row)
        ends = [self._line_end(header.end)]
        for path, place in self.places.known.items():
            plain = path[:2] == (table, row) and len(path) == 3 and place.key != place.value
            if plain and "\n" not in self.text[place.key.start : place.value.end]:
                ends.append(self._line_end(self._whole(place.value)[1]))
        return max(ends)

    def _top_end(self) -> int:
        """Behind the last key at the top of the file."""
        ends = [self._line_end(self._whole(p.value)[1]) for path, p in self.places.known.items() if len(path) == 1 and p.key != p.value]  # fmt: skip
        return max(ends, default=0)

    def _put(self, at: int, line: str, meant: Callable[[Data], None]) -> JobText:
        """Whole lines put in, on lines of their own."""
        cut = at > 0 and not self.text[:at].endswith("\n")
        return self._with(at, at, "\n" * cut + line, meant)

    def _with(self, start: int, end: int, put: str, meant: Callable[[Data], None]) -> JobText:
        text = self.text[:start] + put + self.text[end:]
        wanted = copied(self.data)
        try:
            meant(wanted)
            made = JobText.of(text, self.stamp)
        except (RefusedError, AttributeError, TypeError, LookupError):  # what stands there is no table or no list
            made = None
        if made is None or made.data != wanted:
            raise RefusedError("This cannot be written into job.toml as it stands. Change its text, under Documents.")
        return made
