"""Addenda carried out: what they delete leaves the specification, what they change takes the place of the old number or words.

Rules of an addendum beat those below it by their layer alone. Here is what a cascade cannot know: that a paragraph is
gone, and which number is meant by "change 12 to 8". What cannot be found, or is found more than once, is asked about.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence

from attrs import evolve, frozen

from darby.reading.addenda.by_topic import ByTopic
from darby.reading.addenda.instructions import Instruction, instructions
from darby.reading.addenda.number_changes import BareNumbers, NumberChanges
from darby.reading.addenda.paragraphs import Placed, covers, overlap, section_name, short, where_of
from darby.reading.addenda.rewording import Again, Texts
from darby.reading.addenda.word_changes import WordChanges
from darby.reading.addenda.wording.paragraph_names import Stand, pieces, stands
from darby.reading.addenda.wording.titles import addenda_numbers, own_number
from darby.reading.addenda.wording.topics import ROOM
from darby.reading.addenda.wording.unheard import names_of, tells_of
from darby.reading.addenda.work import Papers, Work
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.read import Language, Reading, read
from darby.rules.rule import SPECIFICATION, Rule, addendum
from darby.rules.systems import DESCRIBES, SYSTEM, join_systems
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span

__all__ = ["addenda_numbers", "amend", "own_number"]

_ADDENDA = addendum(1).rank


def amend(
    readings: Sequence[Reading], language: Language, again: Again | None = None
) -> tuple[list[Reading], list[Diagnostic]]:
    """Readings of documents with all addenda carried out, in the order of their numbers, and what came of it.

    Readings keep their order. A changed rule keeps kind, subject, scope and bound; its layer and place are the addendum's.
    Where a narrower rule stands beside it, its layer stays what it was, so that it does not beat what it never spoke of.
    Where words change, the document is read `again` with the new ones in it, and what it then says stands where it stood.
    """
    addenda = sorted((r for r in readings if r.layer.rank == _ADDENDA), key=lambda r: r.layer)
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
    _on_its_sheet(work, found)
    _give_way(work)
    _look_as_before(work)
    _ask_unheard(work, [stand for stand in found if id(stand.clause) not in aside])
    return work.done()


_SHEET = re.compile(
    r"\b(?P<word>sheet|page|plot|block|record)\s(?:no\.?\s)?(?P<code>[A-Z]{0,3}[-.]?[0-9]{1,4}[A-Z]?)(?![\w.-])",
    re.IGNORECASE,
)
"""What a part of a document is called by its number: `Sheet 04`."""


def _on_its_sheet(work: Work, found: Sequence[Stand]) -> None:
    """What an addendum says of a sheet that is one room's (`Sheet 04, ceiling: one coat`) is of that room; else it is to be confirmed."""
    starts = [stand.start for stand in found]
    for rule in (r for r in work.reading.rules if ROOM not in r.scope and "mark" not in r.scope):
        at = bisect_right(starts, rule.span.start)
        clause = found[at - 1].clause if at and id(rule) not in work.dropped else None
        named = _SHEET.search(clause.text, 0, max(clause.text.find(rule.span.text), 0)) if clause is not None else None
        rooms = _rooms_of(work.papers, named["word"], named["code"]) if named is not None else None
        if rooms is not None and named is not None:
            doubt = "" if len(rooms) == 1 else f"which rooms {named[0]} is of was not understood"
            work.dropped.add(id(rule))
            scopes = [{**rule.scope, ROOM: room} for room in rooms] if len(rooms) == 1 else [rule.scope]
            work.made.extend(evolve(rule, scope=scope, confirm=rule.confirm or doubt) for scope in scopes)


def _rooms_of(papers: Papers, word: str, code: str) -> set[str] | None:
    """The rooms of what stands below the title of a sheet; None where no title calls one so."""
    for text in papers.texts.texts:
        titles = [
            (stand.start, m["code"].upper())
            for stand in text.stands
            if (m := _SHEET.match(f"{stand.clause.label} {stand.clause.text}".lstrip()))
            and m["word"].lower() == word.lower()
        ]
        for number, (start, own) in enumerate(titles):
            if own == code.upper():
                end = titles[number + 1][0] if number + 1 < len(titles) else len(text.reading.source.text)
                inside = (r for r in text.reading.rules if start <= r.span.start < end)
                return {r.scope[ROOM] for r in inside if ROOM in r.scope}
    return None


_AS_NOTED = re.compile(
    r"\b(?:except|unless)\b[^.;]{0,40}\b(?:noted|specified|shown|indicated|scheduled|stated|listed|otherwise)\b",
    re.IGNORECASE,
)


def _give_way(work: Work) -> None:
    """What an addendum says anew of all, `except as noted`, gives way to what the specification says of a part, as the old rule did."""
    standing = work.papers.standing
    for rule in work.reading.rules:
        origin = rule.amount.step.origin
        if (
            rule.layer.rank != _ADDENDA
            or id(rule) in work.dropped
            or origin is None
            or not _AS_NOTED.search(origin.text)
        ):
            continue
        was = [p for p in standing.all() if covers(rule, p.rule) and _bare(rule) == _bare(p.rule)]
        if was and standing.narrowed(rule, was[0].rule.layer):
            work.dropped.add(id(rule))
            work.made.append(evolve(rule, layer=was[0].rule.layer))
            standing.remove(was)


def _look_as_before(work: Work) -> None:
    """What an addendum says anew of some place, and of which it does not say what it is like, is there as it was before.

    `M-3: two coats` leaves the color of M-3 what it was. Not so in a new text of a whole paragraph, or where other words of the addendum
    choose it. Where it says nothing of that sort, or something else than before, what is kept waits to be confirmed.
    """
    standing = [p.rule for p in work.papers.standing.all()]
    before = [r for r in (*standing, *join_systems(standing).rules) if not r.kind.assigns and not r.choice]
    own = [r for r in work.reading.rules if id(r) not in work.dropped and r.layer == work.reading.layer]
    chosen = {(r.kind.name, r.subject) for r in own if r.choice}
    for rule in own:
        if rule.choice or any(overlap(rule.span, region) for region in work.regions):
            continue
        here = [r for r in before if r.layer < rule.layer and (r.kind, r.subject) == (rule.kind, rule.subject)]
        here = [r for r in here if _bare(r).items() <= _bare(rule).items()]
        most = max((len(_bare(r)) for r in here), default=0)
        likes = {tuple((key, r.scope.get(key, "")) for key in DESCRIBES) for r in here if len(_bare(r)) == most}
        was = {key: said for key, said in likes.pop() if said} if len(likes) == 1 else {}
        kept = {k: said for k, said in was.items() if k not in rule.scope and (k, rule.subject) not in chosen}
        if kept:
            work.dropped.add(id(rule))
            same = {rule.scope[key] == said for key, said in was.items() if key in rule.scope}
            doubt = "" if same == {True} else f"it does not say that it is {' and '.join(kept.values())} as before"
            work.made.append(evolve(rule, scope={**rule.scope, **kept}, confirm=rule.confirm or doubt))


def _bare(rule: Rule) -> dict[str, str]:
    """Where a rule holds, without what the thing is like."""
    return {key: said for key, said in rule.scope.items() if key not in (*DESCRIBES, SYSTEM)}


def _ask_unheard(work: Work, found: Sequence[Stand]) -> None:
    """Ask about each sentence that tells a change of what is ordered here and of which nothing was made."""
    papers, reading, marks = work.papers, work.reading, work.marks()
    parents = {id(parent) for stand in found for parent in stand.clause.parents}
    heard = [
        *(rule.span for rule in reading.rules),
        *(number.span for number in reading.numbers if number.became != "set aside"),
        *(d.span for d in reading.diagnostics if d.span is not None),
        *(span for span, _, _ in work.settled),
        *work.answered,
        *work.regions,
    ]
    for stand in found:
        clause = stand.clause
        ours = not stand.section or papers.standing.has_section(stand.section)
        if not ours or clause.heading or clause.cells or id(clause) in parents:
            continue
        silent = not any(overlap(clause.view.whole, other) for other in heard)
        at = 0
        for end in pieces(clause.text):
            sentence, start, at = clause.text[at:end], at, end
            span = clause.view.span(start, start + len(sentence.rstrip()))
            tags, paths = papers.language.lexicon.tags(sentence), papers.standing.paths()
            told = (silent and names_of(sentence, marks, paths)) or tells_of(sentence, tags)
            if told and not any(overlap(span, other) for other in heard):
                one = Instruction("unclear", stand.section, (), "", span, clause)
                work.say("amend-nothing", one, f"says “{short(span)}”, and nothing was made of it")


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
        numbers = [n for n in self.work.reading.numbers if low <= n.span.start < high]
        self.work.regions.append(Span(one.span.source, low, high))
        if old and not new and any(n.became != "read" and "paragraph" not in n.why for n in numbers):
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
