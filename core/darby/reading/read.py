"""A document to rules: clause by clause through every reader, each number accounted for."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Mapping
from functools import cached_property, lru_cache

from attrs import field, frozen

from darby.job.rows.declared import SETTING_LINE
from darby.quantities.gc_pause import in_bulk
from darby.reading.account.ledger import Number
from darby.reading.account.statements import Statement
from darby.reading.clause_reader import Desk
from darby.reading.layout.clause import Clause, Layout
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.layout.tables.heads import Means, head_words
from darby.reading.others import Account, read_manual
from darby.reading.ownership import Ownership
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.rule import Kind, Layer, Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span, View

ROOMS = "the job's rooms"
"""The name of the words that a job's rooms add to a language."""


_COUNTS = frozenset("NUMBER BY BY_X LAYER COAT A_COAT A_LAYER LEVEL AND EITHER PER COMMA COLON STOP SEMICOLON".split())
"""Words of counts and sizes, of which no name of a place is made."""


@frozen(eq=False)
class Reading:
    """What one document says: its rules in order of place, every number once, and what could not be decided."""

    source: Source
    layer: Layer
    rules: tuple[Rule, ...]
    numbers: tuple[Number, ...]
    diagnostics: tuple[Diagnostic, ...]
    others: tuple[Account, ...] = ()
    """Sections of a project manual that are other trades'."""
    statements: tuple[Statement, ...] = ()
    """What speaks of our goods or gives a place something, and made no rule, in order of place."""
    marks: Mapping[str, str] = field(factory=dict)
    """The marks of systems that it defines, each with what it is a system of."""
    named: Mapping[str, Span] = field(factory=dict)
    """Goods that it names as work without a number, each with the first place that does."""
    within: View | None = None
    """The part of the source that was read, where it is not the whole."""


@frozen(eq=False, slots=False)
class Language:
    """Readers and words, made ready once for any number of documents."""

    readers: tuple[Reader, ...]
    vocabularies: tuple[Vocabulary, ...]

    @classmethod
    def of(cls, readers: Iterable[Reader], vocabularies: Iterable[Vocabulary]) -> Language:
        """The language of some readers and vocabularies; cheap, since compiling waits for the first text. The same of the same."""
        return _language(tuple(readers), tuple(vocabularies))

    def naming(self, rooms: Iterable[str], marks: Iterable[str] = ()) -> Language:
        """The same language with the rooms of a job, and the marks it gives, among its words; itself where it knows them all."""
        names = {r for r in rooms if sum(map(str.isalnum, r)) > 1}  # `x` or `.` stand in every text
        try:
            unknown = sorted(r for r in names if _is_a_name(self, r))
        except tomllib.TOMLDecodeError:  # the words of a guest, which is refused by its name where they are listened to
            unknown = sorted(names)
        given = sorted(set(marks))
        if not unknown and not given:
            return self
        tables = [("room", "room of the job", unknown), ("marks", "given", given)]
        text = "".join(
            f'[{table}]\n"{key}" = {json.dumps(some, ensure_ascii=False)}\n' for table, key, some in tables if some
        )
        return _with_rooms(self, text)

    @cached_property
    def lexicon(self) -> Lexicon:
        """All words, ready to tag."""
        return Lexicon.of(self.vocabularies)

    @cached_property
    def ownership(self) -> Ownership:
        """Which sections of a project manual are ours."""
        return Ownership.of(v.tables for v in self.vocabularies)

    @cached_property
    def kinds(self) -> dict[str, Kind]:
        """Every kind that some reader finds, by name."""
        return {kind.name: kind for reader in self.readers for kind in reader.kinds}

    @cached_property
    def settings(self) -> frozenset[str]:
        """The trades that have settings."""
        return frozenset(trade for v in self.vocabularies for trade in v.tables.get("settings", {}))

    @cached_property
    def means(self) -> Means:
        """What the words of a table's heads and keys are."""
        return head_words(self.lexicon.tags, self.lexicon.heads)

    def known(self, word: str) -> bool:
        """Whether a lower-case word is one of the language's."""
        return word in self.lexicon.stock.spelled


@lru_cache(8)
def _language(readers: tuple[Reader, ...], vocabularies: tuple[Vocabulary, ...]) -> Language:
    return Language(readers, vocabularies)


@lru_cache(10_000)
def _is_a_name(language: Language, name: str) -> bool:
    """Whether a name of the job is to be a word of its own; of a job that is worked out again most are as they were.

    No room is that a list knows already, and none that cannot be told from words of counts: `One` stands in every text and
    would swallow them.
    """
    tags = language.lexicon.tags(name)
    told = sum(t.end - t.start for t in tags) >= len(name.replace(" ", ""))
    numbered = [t.name for t in tags][-2:] == ["LEVEL", "NUMBER"]  # `Level 2` is a floor
    known = (
        bool(tags) and tags[0].name == "room" and not tags[0].start and tags[0].end >= len(name.rstrip(" 0123456789"))
    )
    return not known and (name.isdigit() or numbered or not (told and all(t.name in _COUNTS for t in tags)))


@lru_cache(32)
def _with_rooms(language: Language, text: str) -> Language:
    """A language with the rooms of a job: of one that is worked out again and again, as beside a desk, the same."""
    return Language(language.readers, (*language.vocabularies, Vocabulary(ROOMS, Source("rooms", text))))


@in_bulk()
def read(
    source: Source,
    layer: Layer,
    language: Language,
    *,
    strict: bool = False,
    subject: str = "",
    scope: Mapping[str, str] | None = None,
    within: View | None = None,
    elsewhere: Mapping[str, str] | None = None,
) -> Reading:
    """Read one document.

    `strict` is for defaults, house and override lines, where every number must be understood: what is not is an error.
    `subject` and `scope` hold for the whole text where it names none (a mark on a surface of the job). `within` reads
    only a part of the source, as a line of rules in a job file. `elsewhere` has the marks that other documents define.
    """
    view = mend(source, language.known) if within is None else within
    layout, settings, remarks = (
        _lines_alone(view, language.settings) if strict else (clauses(view, language.known, language.means), [], [])
    )

    def desk_for(scope: tuple[tuple[str, str], ...] = tuple((scope or {}).items())) -> Desk:
        return Desk(language.lexicon, language.readers, language.kinds, layer, strict, subject, scope, elsewhere or {})

    desk = desk_for()
    desk.ledger.words.extend(settings)
    for remark in remarks:
        desk.ledger.set_aside(remark, "a remark")
    others = read_manual(layout, language.ownership, desk, desk_for)
    numbers = desk.ledger.closed(source, within.whole if within is not None else None)
    rules = sorted(desk.rules, key=lambda r: (r.span.start, r.span.end))
    said = sorted(desk.statements, key=lambda s: s.span.start)
    own = desk.words.systems.defined_here(elsewhere or {})
    return Reading(
        source,
        layer,
        tuple(rules),
        tuple(numbers),
        tuple(desk.diagnostics),
        others,
        tuple(said),
        own,
        desk.named,
        within,
    )


def _lines_alone(view: View, settings: frozenset[str]) -> tuple[Layout, list[Span], list[Span]]:
    """Each line a clause of its own: how defaults and house lines are written. A line that begins with # is a remark, and one that sets
    something of a trade is no clause; settings and remarks are told apart.
    """
    out, at = [], 0
    aside: list[Span] = []
    remarks: list[Span] = []
    for line in view.text.split("\n"):
        if settings and (set_ := SETTING_LINE.fullmatch(line)) and set_[1].casefold() in settings:
            aside.append(view.span(at, at + len(line)))
        elif line.lstrip().startswith("#"):
            remarks.append(view.span(at, at + len(line)))
        elif line.strip():
            out.append(Clause(view.cut(at, at + len(line))))
        at += len(line) + 1
    return Layout(tuple(out), ()), aside, remarks
