"""A document to clauses: articles, paragraphs, lists, tables, wrapped lines; each clause knows what it stands under."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from attrs import define, field

from darby.reading.layout.blanks import closed_up, single_blanks
from darby.reading.layout.clause import Apart, Clause, Layout
from darby.reading.layout.footnotes import tell_footnotes
from darby.reading.layout.headings import label_lines, tell_notes
from darby.reading.layout.lines import (
    LABELLED,
    NAME,
    SENTENCE_END,
    Line,
    counts_anew,
    goes_on_small,
    runs_on,
    set_apart,
    split_lines,
    tell_sizes,
)
from darby.reading.layout.outline import TITLE, Outline, tell_heads
from darby.reading.layout.questions import BARE_LABEL, answers_under_questions
from darby.reading.layout.sections import tell_sections
from darby.reading.layout.table_rows import Tabled, tabled, tell_spans
from darby.reading.layout.tables.bills import bill_lines, cut_prices
from darby.reading.layout.tables.blocks import Block, blocks
from darby.reading.layout.tables.cells import LEADING_MARK
from darby.reading.layout.tables.heads import Means, unheard
from darby.reading.layout.tables.run_on import rows_of
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
        apart.extend(Apart(span, "a blank for a price") for span in cut_prices(lines, view))
        lines = [line for line in lines if line.text]
        apart.extend(tell_sizes(lines, view, means))
        apart.extend(_tell_bills(lines, view, means))
        lines = [line for line in lines if line.text]
        label_lines(lines, view, apart)
        tell_notes(lines)
        tell_heads(lines, means)
        tell_spans(lines)
        builder = _Builder(view, known, means, max((line.indent + len(line.text) for line in lines), default=0))
        for block in blocks(lines, means):
            builder.add(block)
        builder.flush()
        apart += [*answers_under_questions(builder.done), *tell_footnotes(builder.done)]
        for clause in builder.done:
            clause.section = section
        done.extend(builder.done)
    return Layout(tuple(done), tuple(apart))


def _tell_bills(lines: Sequence[Line], view: View, means: Means) -> Iterator[Apart]:
    """Cut the lines of bills whose items run over several lines: what is left of each is what it describes, under its item. Where the
    chapters are numbered as the items are, their numbers say what stands under what."""
    found = list(bill_lines(lines, means))
    chapters = any(one.item[0] < one.item[1] and view.text[slice(*one.words)].isupper() for one in found)
    for one in found:
        line = lines[one.number]
        if one.beside[0] < one.beside[1]:
            yield Apart(view.span(*one.beside), one.why)
        if one.item[0] < one.item[1]:
            yield Apart(view.span(*one.item), "the number of an item")
            line.label, line.blank_before = view.text[slice(*one.item)], True
            line.style = "decimal" if chapters and line.label[:1].isdigit() else "bullet"
        line.blank_before |= one.chapter
        line.start, line.end = one.words
        line.text = line.shape = view.text[slice(*one.words)]
        line.indent = one.at


_CODE_LABEL = re.compile(r"(?:[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?|[A-Z]{1,3}-[A-Z]{1,2})\s?[:=]\s")
_STATES = re.compile(r"[0-9]|[a-z]\.\s")
"""What a line has that says something of its own, and is no name of a table below it."""
_SECOND_LABEL = re.compile(r"(?<!\s)\s{3,80}(?=[A-Z][A-Za-z -]{1,30}:\s)")
_EARLY = 15
"""Letters that are left of a line that ends before the next word had to."""
_CUT = 3
"""Clauses that can cut a table in two: a footnote, the name of a floor."""


@define(eq=False)
class _Builder:
    """Joins lines to clauses and puts each where it stands in the outline."""

    view: View
    known: Callable[[str], bool]
    means: Means
    width: int = 0
    """Letters in the longest line, as far as a line could have gone on."""
    done: list[Clause] = field(factory=list)
    outline: Outline = field(init=False)
    open: list[Line] = field(factory=list)
    clause: Clause | None = None
    table: tuple[Tabled, tuple[Clause, ...], int] | None = None
    """The last table, what it stands under, and how many clauses were done behind it."""
    hanging: tuple[Clause, int] | None = None
    """The row of a code, and how far in lines stand that hang on it."""

    def __attrs_post_init__(self) -> None:
        self.outline = Outline(self.done)

    def add(self, block: Block[Line]) -> None:
        if block.parted:
            self.flush()
            self._table(block)
            return
        line = block.lines[0]
        line.alone = line.alone or block.loose
        if self._goes_on(line):
            self.open.append(line)
            return
        self.flush()
        self.clause = Clause(self.view.cut(line.start, line.end), line.label, heading=line.kind != "text")
        self.open = [line]
        self.outline.place(self.clause, line)
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
        if self.open and line.kind == "title":
            return self.open[0].kind == "title"
        if not self.open or line.style or line.kind != "text":
            return False
        last, first = self.open[-1], self.open[0]
        codes = [_stem(code["mark"]) for one in (first, line) if (code := LEADING_MARK.match(one.text))]
        if len(codes) > 1 and ":" in line.text and codes[0] == codes[1]:
            return False  # one code of a legend to a line
        if _CODE_LABEL.match(line.text) and not last.text.endswith((",", "&")):
            return False  # the first of a legend below a sentence that uses it
        if line.blank_before or line.alone or any(BARE_LABEL.fullmatch(one.text) for one in (last, line)):
            return False
        if last.text.endswith("-") or (self.clause is not None and self.clause.heading):
            return last.text.endswith("-")
        if first.style and line.indent > first.indent:
            if len(self.open) == 1 and self._titles(first, line):
                return False
            new = LABELLED.match(line.shape) and not last.text.endswith((",", "&", ";"))
            return not last.text.endswith(":") and not new
        if last.text.endswith(SENTENCE_END):
            return line.shape[:1].islower()
        if LABELLED.match(line.shape) and not runs_on(last, line) and (LABELLED.match(first.shape) or not line.flat):
            return False  # one label to a line
        named = LABELLED.match(first.shape) and NAME.fullmatch(line.text) and self._ended_early(last, line)
        if named or counts_anew(first, last, line):
            return False  # the name of what the labels below it are of, or one count to a line
        return (
            line.shape[:1].islower()
            or line.text[:1] in "(\"'"
            or line.text[:1].isdigit()
            or len(last.text) > 45
            or runs_on(last, line)
            or goes_on_small(first, line)
        )

    def _titles(self, first: Line, line: Line) -> bool:
        """Whether a numbered line is the title of what stands below it."""
        return len(first.text) < TITLE and line.text[:1].isupper() and self._ended_early(first, line)

    def _ended_early(self, line: Line, following: Line) -> bool:
        """Whether a line ends long before the next word had to go below it, and nothing says that it goes on."""
        ends = line.text.endswith((*SENTENCE_END, ",", "&", "-"))
        room = self.width - line.indent - len(line.label) - len(line.text) - len(following.text.partition(" ")[0])
        return not ends and room > _EARLY

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
        if not self.clause.heading and (rows := rows_of(text)):
            whole = self.clause.view
            self.clause.view = whole.cut(*rows[0])
            self.done.extend(Clause(whole.cut(*row), self.clause.label, self.clause.parents) for row in rows[1:])
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
            self.outline.leave_finished()
        parents = self.outline.path()
        if not line.style:
            self.outline.dedent(line.indent, apart=line.blank_before)
            if line.blank_before:
                self.outline.leave_set_in(line.indent)
            self.outline.stand_below(line.indent)
            parents = self.outline.path()
        caption = self.done[-1] if self.done and not line.blank_before else None
        if (
            caption is not None
            and not caption.cells
            and not caption.text.endswith(SENTENCE_END)
            and caption not in parents
            and any(c.isalpha() for c in caption.text)
            and not (LABELLED.match(caption.text) and _STATES.search(caption.text))
        ):
            caption.leads_in = True
            parents = (caption, *parents)
        over = parents[0].view if parents and (parents[0].heading or parents[0].leads_in) else None
        made = tabled(self.view, block, self.known, self.means, self._table_above(), over)
        if made is None:
            return
        if made.grid is not None and made.grid.again and self.table is not None:
            parents = self._carried_on(self.table[1])
        within = parents
        for clause in made.clauses:
            if clause.heading and parents[:1] == (caption,) and _names_alike(parents[0], clause):
                within = parents[1:]  # the line above named the first group of rows only
            clause.parents = (*clause.parents, *within)
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
        since = self.table[2] if self.table is not None else len(self.done)
        if any(clause.heading and clause.label for clause in self.done[since:]):  # a chapter of its own
            return self.outline.path()
        groups = not name.cells and not name.label and not name.text.endswith(SENTENCE_END) and name not in parents
        return (name, *parents) if groups else parents


def _names_alike(one: Clause, other: Clause) -> bool:
    """Whether two lines name groups of one kind: `LEVEL 1` and `LEVEL 2`."""
    plain, like = (re.sub(r"[0-9]+|\b(?:[A-Z]|first|second|third)\b", "#", c.text.lower()) for c in (one, other))
    return plain == like and one.text != other.text


def _stem(mark: str) -> str:
    return mark.rstrip("0123456789abcdefghijklmnopqrstuvwxyz")


def _blank(view: View) -> View:
    """A blank that stands for the end of a wrapped line."""
    end = len(view.text)
    return view.cut(end - 1, end).replace([(0, 1, " ")])
