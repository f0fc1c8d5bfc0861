"""Addenda carried out: what they delete leaves the specification, what they change takes the place of the old number or words.

Rules of an addendum beat those below it by their layer alone. Here is what a cascade cannot know: that a paragraph is
gone, and which number is meant by "change 12 to 8". What cannot be found, or is found more than once, is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve, frozen

from darby.reading.addenda.by_topic import ByTopic
from darby.reading.addenda.instructions import Instruction, instructions, may_instruct
from darby.reading.addenda.number_changes import BareNumbers, NumberChanges
from darby.reading.addenda.paragraphs import Placed, covers, section_name, where_of
from darby.reading.addenda.rewording import Again, Texts
from darby.reading.addenda.word_changes import WordChanges
from darby.reading.addenda.wording.paragraph_names import Stand, stands
from darby.reading.addenda.wording.titles import addenda_numbers, own_number
from darby.reading.addenda.work import Papers, Work
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.read import Language, Reading, read
from darby.rules.rule import SPECIFICATION, Rule, addendum
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span

__all__ = ["addenda_numbers", "amend", "own_number"]

_ADDENDA = addendum(1).rank


def _amends(reading: Reading) -> bool:
    """Whether a document is an addendum that may tell to delete or change something, or say something without its goods or its place."""
    says = bool(reading.rules) or any(number.became == "unread" for number in reading.numbers)
    return reading.layer.rank == _ADDENDA and (says or may_instruct(reading.source.text))


def amend(
    readings: Sequence[Reading], language: Language, again: Again | None = None
) -> tuple[list[Reading], list[Diagnostic]]:
    """Readings of documents with all addenda carried out, in the order of their numbers, and what came of it.

    Readings keep their order. A changed rule keeps kind, subject, scope and bound; its layer and place are the addendum's.
    Where a narrower rule stands beside it, its layer stays what it was, so that it does not beat what it never spoke of.
    Where words change, the document is read `again` with the new ones in it, and what it then says stands where it stood.
    """
    addenda = sorted((r for r in readings if _amends(r)), key=lambda r: r.layer)
    if not addenda:
        return list(readings), []
    papers = Papers(
        language, Texts(language, again or (lambda r, view: read(r.source, r.layer, language, within=view)))
    )
    for reading in readings:
        if reading.layer == SPECIFICATION:
            found = _stands(reading, language)
            papers.standing.put_down(reading.rules, found)
            papers.texts.put_down(reading, found)
    changed = {id(reading): _carried_out(reading, papers) for reading in addenda}
    out = [changed.get(id(reading), reading) for reading in readings]
    gone = {id(rule) for rule in papers.standing.gone}
    if not gone:
        return out, papers.told
    return [evolve(r, rules=tuple(rule for rule in r.rules if id(rule) not in gone)) for r in out], papers.told


def _stands(reading: Reading, language: Language) -> list[Stand]:
    """The clauses of a document, each with its section and paragraph."""
    view = reading.within or mend(reading.source, language.known)
    return stands(reading.source, clauses(view, language.known))


def _carried_out(reading: Reading, papers: Papers) -> Reading:
    """Do what one addendum tells; gives its reading with the rules it makes by changing others."""
    work = Work(papers, reading)
    numbers = NumberChanges(work, WordChanges(work))
    carrying = _Carrying(work, numbers, ByTopic(work, numbers))
    elsewhere: dict[str, Span] = {}
    found = _stands(reading, papers.language)
    aside = _under_alternates(found)
    for one in instructions(found, reading.within.whole.end if reading.within else len(reading.source.text)):
        if id(one.clause) in aside:
            work.say("amend-several", one, "speaks of a change under an alternate, which the base bid does not follow")
        elif one.section and not papers.standing.has_section(one.section):
            elsewhere.setdefault(one.section, one.span)
        else:
            carrying.do(one)
    if elsewhere:
        named = ", ".join(map(section_name, sorted(elsewhere)))
        several = "s" if len(elsewhere) > 1 else ""
        message = f"{reading.layer.name} also changes section{several} {named}, which this job does not hold."
        place = next(iter(elsewhere.values()))
        papers.told.append(problem("amend-nothing", message, place, severity=Severity.NOTE, help="Nothing to do."))
    BareNumbers(work, numbers).complete(found)
    return work.done()


def _under_alternates(found: Sequence[Stand]) -> set[int]:
    """The clauses, by id, that stand under the title of an alternate, up to the next line without a label."""
    inside, under = False, set[int]()
    for stand in found:
        opens = f"{stand.clause.label} {stand.clause.text}".strip().upper().startswith("ALTERNATE")
        inside = opens or (inside and bool(stand.clause.label))
        if inside:
            under.add(id(stand.clause))
    return under


@frozen(eq=False)
class _Carrying:
    """Carries out one instruction after another."""

    work: Work
    numbers: NumberChanges
    by_topic: ByTopic

    def do(self, one: Instruction) -> None:
        homes = self.work.papers.standing.homes(one)
        where = where_of(one)
        if one.at is not None:
            self.work.settled.append((one.at, "set aside", "a paragraph number"))
        if one.through:
            self.work.say("amend-several", one, f"names a run of paragraphs from {where} on, which is not followed")
        elif not homes and (one.path or one.what != "change"):
            self.work.say("amend-nothing", one, f"speaks of {where}, and there is none")
        elif len(homes) > 1 and one.path:
            named = " and ".join(sorted(section_name(section) or file for file, section in homes))
            self.work.say("amend-several", one, f"speaks of {where}, and there is one in {named}")
        elif one.what == "delete":
            self.work.delete(one, self.work.papers.standing.placed_in(one), f"deletes {where}")
        elif one.what == "replace":
            self._replace(one)
        elif one.what == "change" and not one.path and not one.beside:
            self.by_topic.change(one)
        elif one.what == "change":
            self.numbers.change(one)
        elif one.what == "unclear":
            self.work.say("amend-several", one, f"speaks of words of {where} in a way that is not understood")
        else:
            self.numbers.delete_words(one)

    def _replace(self, one: Instruction) -> None:
        low, high = one.region
        new = [r for r in self.work.reading.rules if low <= r.span.start < high]
        old = self.work.papers.standing.placed_in(one)
        unread = [n for n in self.work.reading.numbers if low <= n.span.start < high and n.became == "unread"]
        if old and not new and unread:
            message = f"gives {where_of(one)} a new text whose numbers could not be read; the old one was kept"
            self.work.say("amend-nothing", one, message)
            return
        left = [p for p in old if not any(covers(r, p.rule) for r in new)]
        for placed in old:
            placed.holds = placed in left
        for said in new:
            rule = self._in_place(said, old)
            self.work.papers.standing.put(rule, one.section, one.path)
        if left:
            self.work.delete(one, left, f"gives {where_of(one)} a new text")
        self.work.answered.append(one.span)

    def _in_place(self, rule: Rule, old: Sequence[Placed]) -> Rule:
        """A rule of a new text. Where the old one gave way to a narrower rule so does this: it then stays in its layer."""
        was = [p for p in old if not p.holds and covers(rule, p.rule)]
        layer = next((p.rule.layer for p in was if self.work.papers.standing.narrowed(rule, p.rule.layer)), None)
        if layer is None or layer == rule.layer:
            return rule
        self.work.dropped.add(id(rule))
        self.work.papers.standing.gone.extend(p.rule for p in was)
        kept = evolve(rule, layer=layer)
        self.work.made.append(kept)
        return kept
