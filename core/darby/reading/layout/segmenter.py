"""A document to clauses: articles, paragraphs, lists, tables, wrapped lines; each clause knows what it stands under."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import groupby

from attrs import define, field

from darby.reading.layout.blanks import closed_up, single_blanks
from darby.reading.layout.clause import Clause, Layout
from darby.reading.layout.footnotes import cite_footnotes
from darby.reading.layout.headings import label_lines, tell_notes
from darby.reading.layout.lines import SENTENCE_END, Line, runs_on, set_apart, split_lines
from darby.reading.layout.questions import answers_under_questions
from darby.reading.layout.sections import tell_sections
from darby.reading.layout.table_rows import Tabled, tabled
from darby.reading.layout.tables.blocks import Block, blocks
from darby.reading.layout.tables.columns import Means, unheard
from darby.text.spans import View


def clauses(view: View, known: Callable[[str], bool], means: Means = unheard) -> Layout:
    """Take a mended document apart. `known` tells whether a lower-case word is one of the language's, `means` what the
    words of a table's heads and keys are."""
    view = single_blanks(view, known)
    lines = split_lines(view.text)
    tell_sections(lines)
    apart = list(set_apart(lines, view))
    done: list[Clause] = []
    for section, own in groupby((line for line in lines if line.kind != "apart"), key=lambda line: line.section):
        lines = list(own)
        label_lines(lines, view, apart)
        tell_notes(lines)
        builder = _Builder(view, known, means, max((line.indent + len(line.text) for line in lines), default=0))
        for block in blocks(lines):
            builder.add(block)
        builder.flush()
        answers_under_questions(builder.done)
        cite_footnotes(builder.done)
        for clause in builder.done:
            clause.section = section
        done.extend(builder.done)
    return Layout(tuple(done), tuple(apart))


_LABELLED = re.compile(r"[A-Z][A-Za-z /,-]{2,30}:\s")
_SECOND_LABEL = re.compile(r"(?<!\s)\s{3,80}(?=[A-Z][A-Za-z -]{1,30}:\s)")
_TITLE = 60
_EARLY = 15
"""Letters that are left of a line that ends before the next word had to."""
_RECENT = 8
_CUT = 3
"""Clauses that can cut a table in two: a footnote, the name of a floor."""
_DEEPEST = 12
"""Headings and lists that a clause can stand under: real documents have half as many."""


@define(eq=False)
class _Builder:
    """Joins lines to clauses and keeps the stack of what they stand under."""

    view: View
    known: Callable[[str], bool]
    means: Means
    width: int = 0
    """Letters in the longest line, as far as a line could have gone on."""
    done: list[Clause] = field(factory=list)
    stack: list[tuple[str, int, Clause]] = field(factory=list)
    open: list[Line] = field(factory=list)
    clause: Clause | None = None
    led: tuple[Clause, str, int] | None = None
    """A lead-in that stands in no list itself, and the style and indent of the list below it."""
    table: tuple[Tabled, tuple[Clause, ...], int] | None = None
    """The last table, what it stands under, and how many clauses were done behind it."""
    hanging: tuple[Clause, int] | None = None
    """The row of a code, and how far in lines stand that hang on it."""

    def add(self, block: Block[Line]) -> None:
        if block.parted:
            self.flush()
            self._table(block)
            return
        line = block.lines[0]
        if self._goes_on(line):
            self.open.append(line)
            return
        self.flush()
        self.clause = Clause(self.view.cut(line.start, line.end), line.label, heading=line.kind != "text")
        self.open = [line]
        self._place(line)
        self._hang(line)

    def _hang(self, line: Line) -> None:
        """Put a line that stands below a code and further in under the row of that code."""
        if self.hanging is None or self.clause is None:
            return
        row, indent = self.hanging
        if line.indent >= indent:
            self.clause.parents = (row, *self.clause.parents)
        else:
            self.hanging = None

    def _goes_on(self, line: Line) -> bool:
        """Whether a line continues the open clause."""
        if not self.open or line.style or line.kind != "text":
            return False
        last, first = self.open[-1], self.open[0]
        if line.blank_before or line.alone:
            return False
        if last.text.endswith("-"):
            return True
        if self.clause is not None and self.clause.heading:
            return False
        if first.style and line.indent > first.indent:
            if len(self.open) == 1 and self._titles(first, line):
                return False
            new = _LABELLED.match(line.shape) and not last.text.endswith((",", "&", ";"))
            return not last.text.endswith(":") and not new
        if last.text.endswith(SENTENCE_END):
            return line.shape[:1].islower()
        if _LABELLED.match(line.shape) and not runs_on(last, line) and (_LABELLED.match(first.shape) or not line.flat):
            return False  # one label to a line
        return (
            line.shape[:1].islower()
            or line.text[:1] in "(\"'"
            or line.text[:1].isdigit()
            or len(last.text) > 45
            or runs_on(last, line)
        )

    def _titles(self, first: Line, line: Line) -> bool:
        """Whether a numbered line is the title of what stands below it: it ends long before the next word had to."""
        ends = first.text.endswith((*SENTENCE_END, ",", "&", "-"))
        room = self.width - first.indent - len(first.label) - len(first.text) - len(line.text.partition(" ")[0])
        return not ends and len(first.text) < _TITLE and line.text[:1].isupper() and room > _EARLY

    def _place(self, line: Line) -> None:
        """Put the open clause under what it stands under."""
        assert self.clause is not None
        style = line.style
        if line.blank_before and not style and line.kind != "title":
            self._leave_finished()
        if not style and line.kind == "text":
            self._dedent(line.indent)
            self.clause.parents = self._path()
            return
        rank = line.indent
        if style == "bullet":
            self._pop(lambda s, r: s == "bullet" and r >= rank)
        elif style == "decimal":
            rank = line.label.strip(".").count(".")
            self._pop(
                lambda s, r: s not in ("part", "hash", "title") and not (s == "decimal" and r < rank), everything=True
            )
        elif style in ("part", "clause"):
            self._pop(lambda s, _: s not in ("title", *(("part",) if style == "clause" else ())), everything=True)
        elif style == "hash":
            rank = len(line.label)
            self._pop(lambda s, r: not (s == "hash" and r < rank), everything=True)
        elif style:
            if style == "whole" and line.shape.isupper() and not any(s == "upper" for s, _, _ in self.stack):
                self._pop(lambda s, _: s not in ("part", "title", "major"), everything=True)
            self._pop(lambda s, r: s == style or (s in ("indent", "bullet") and r >= rank))
        elif line.kind == "title":
            style = "title"
        elif line.blank_before:
            style = "major"
            self._pop(
                lambda s, _: s not in ("title", "part", "decimal", "clause", "hash", "whole", "upper"), everything=True
            )
        else:
            style = "indent" if rank or not line.shape.isupper() else "minor"
            again = any(s == style and r >= rank for s, r, _ in self.stack)
            self._pop(lambda s, r: s == style and r >= rank)
            if style == "minor" and not again and self.done and not self.done[-1].heading:
                self._pop(lambda s, _: s == "major")
        self.clause.parents = self._path()
        if len(self.stack) >= _DEEPEST:
            del self.stack[1]  # hostile nesting; the title stays
        self.stack.append((style, rank, self.clause))

    def _dedent(self, indent: int) -> None:
        """Leave what a line that stands further left cannot belong to: indented headings, lists, finished paragraphs."""
        while self.stack:
            style, rank, clause = self.stack[-1]
            done = style == "bullet" or (style in ("whole", "upper", "lower") and clause.text.rstrip().endswith("."))
            titled = clause.heading or (len(clause.text) < _TITLE and not clause.text.rstrip().endswith(SENTENCE_END))
            body = style in ("whole", "upper", "lower") and titled and self._has_body(clause)
            if indent <= rank and (style == "indent" or done or body):
                self.stack.pop()
            else:
                return

    def _leave_finished(self) -> None:
        """Leave numbered sentences that are finished: what comes behind a blank line without a number is none of theirs."""
        while self.stack:
            style, _, clause = self.stack[-1]
            finished = not clause.heading and clause.text.rstrip().endswith(".")
            if style not in ("decimal", "whole", "upper", "lower") or not finished:
                return
            self.stack.pop()

    def _has_body(self, clause: Clause) -> bool:
        return any(clause in c.parents for c in self.done[-_RECENT:])

    def _pop(self, drop: Callable[[str, int], bool], *, everything: bool = False) -> None:
        """Drop the first entry that matches and all above it; with `everything`, all that match from the top down."""
        if everything:
            while self.stack and drop(self.stack[-1][0], self.stack[-1][1]):
                self.stack.pop()
            return
        for at, (style, rank, _) in enumerate(self.stack):
            if drop(style, rank):
                del self.stack[at:]
                return

    def _path(self) -> tuple[Clause, ...]:
        path = tuple(c for _, _, c in reversed(self.stack))
        last = self.done[-1] if self.done else None
        item = (self.open[0].style, self.open[0].indent) if self.open else ("", 0)
        if last is not None and last.leads_in and last not in path and not last.heading and last.parents == path:
            self.led = last, *item
            return (last, *path)
        lead = self.led[0] if self.led is not None else None
        if (
            last is not None
            and lead is not None
            and item[0]
            and self.led == (lead, *item)
            and last.parents == (lead, *path)
        ):
            return (lead, *path)  # the next item of the list that it leads in
        return path

    def flush(self) -> None:
        """Close the open clause; a second label far to the right on its line begins another."""
        if self.clause is None:
            return
        self.clause.view = self._joined(self.open)
        second = _SECOND_LABEL.search(self.clause.view.text) if len(self.open) == 1 else None
        if second is not None and ":" in self.clause.view.text[: second.start()]:
            whole = self.clause.view
            self.clause.view = closed_up(whole.cut(0, second.start()))
            self.done.append(self.clause)
            self.clause = Clause(whole.cut(second.end(), len(whole.text)), "", self.clause.parents)
        self.clause.view = closed_up(self.clause.view)
        text = self.clause.view.text.rstrip()
        self.clause.leads_in = text.endswith(":")
        self.done.append(self.clause)
        self.clause, self.open = None, []

    def _joined(self, lines: Sequence[Line]) -> View:
        """The lines of a clause as one; a hyphen at a line's end goes where the word is known without it."""
        pieces: list[View] = []
        for n, line in enumerate(lines):
            view, text = self.view.cut(line.start, line.end), line.text
            after = lines[n + 1].text if n + 1 < len(lines) else ""
            if after and text.endswith("-") and len(text) > 1:
                if self._splits_word(text, after):
                    view = view.cut(0, len(text) - 1)
                pieces.append(view)
            else:
                pieces.extend((view, *([_blank(view)] if after else [])))
        return View.join(pieces, "") if len(pieces) > 1 else pieces[0]

    def _splits_word(self, text: str, after: str) -> bool:
        head, tail = re.search(r"[A-Za-z]{1,40}-$", text), re.match(r"[a-z]{1,40}|[A-Z]{1,40}", after)
        if head is None or tail is None or len(head[0]) < 2:
            return False
        whole, kept = (head[0][:-1] + tail[0]).lower(), (head[0] + tail[0]).lower()
        return self.known(whole) or not self.known(kept)

    def _table(self, block: Block[Line]) -> None:
        line = block.lines[0]
        if line.blank_before and not line.style:
            self._leave_finished()
        parents = self._path()
        if not line.style:
            self._dedent(line.indent)
            parents = self._path()
        caption = self.done[-1] if self.done and not line.blank_before else None
        if (
            caption is not None
            and not caption.cells
            and not caption.text.endswith(SENTENCE_END)
            and caption not in parents
        ):
            parents = (caption, *parents)
        made = tabled(self.view, block, self.known, self.means, self._table_above())
        if made is None:
            return
        if made.grid.again and self.table is not None:
            parents = self._carried_on(self.table[1])
        for clause in made.clauses:
            clause.parents = (*clause.parents, *parents)
            self.done.append(clause)
        self.table, self.hanging = (made, parents, len(self.done)), made.hanging

    def _table_above(self) -> Tabled | None:
        """The last table, where so little stands between it and here that its rows may go on."""
        if self.table is None or len(self.done) - self.table[2] > _CUT:
            return None
        return self.table[0]

    def _carried_on(self, parents: tuple[Clause, ...]) -> tuple[Clause, ...]:
        """What rows stand under that go on with a table: what it does, and the name right above that groups them."""
        name = self.done[-1]
        groups = not name.cells and not name.label and not name.text.endswith(SENTENCE_END) and name not in parents
        return (name, *parents) if groups else parents


def _blank(view: View) -> View:
    """A blank that stands for the end of a wrapped line."""
    end = len(view.text)
    return view.cut(end - 1, end).replace([(0, 1, " ")])
