"""Reading with the words and readers of plugins, and what becomes of those that break or speak of what is another's."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from attrs import evolve, field, frozen

from darby.plugin_host.isolation.bounds import quiet
from darby.plugin_host.isolation.failures import BrokenError, why
from darby.plugin_host.word_ownership import Guest, Owned, products, settle
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.reading.read import Language, Reading, read
from darby.rules.rule import Layer, Rule
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Source


@frozen(eq=False)
class Text:
    """A text to be read, and how: what `darby.reading.read.read` is called with."""

    source: Source
    layer: Layer
    how: Mapping[str, Any] = field(factory=dict)
    shared: bool = True
    """Whether it is everybody's, as a document of the job is, and not one plugin's own, as its defaults are."""


class Careful:
    """Reads with a language made of plugins, and leaves out of it what breaks: words that are no TOML, a faulty grammar.

    `told` says what was left out and which words changed hands, `missing` names what is missing. Guests are plugins that
    are not Darby's own: what they bring is tried on the texts before it is used (`listen`). It may read more about
    goods that it names, and take for its own what was read of another's, which is told; nothing else may change. An error that the plugins have no part in is ours, and is raised.
    """

    def __init__(
        self,
        language: Language,
        reader: Callable[..., Reading] = read,
        *,
        own: Sequence[Owned] = (),
        guests: Sequence[Guest] = (),
    ) -> None:
        self.language = language
        self.told: list[Diagnostic] = []
        self.missing: list[str] = []
        self._reader = reader
        self._own = own
        self._guests = tuple(g for g in guests if g.readers or g.vocabularies)
        strange = {id(r) for g in self._guests for r in g.readers}
        readers = [r for r in language.readers if id(r) not in strange]
        self._plain = Language.of(readers, (v for _, v in own)) if self._guests else None

    def __call__(self, source: Source, layer: Layer, **how: Any) -> Reading:
        """As `darby.reading.read.read` with the language in its place."""
        try:
            with quiet():
                return self._reader(source, layer, self.language, **how)
        except MemoryError:  # nobody's fault, and no word or grammar less would help
            raise
        except (Exception, SystemExit):  # anything may come out of a plugin's code
            self._leave_out(lambda language: self._reader(source, layer, language, **how))
            return self._reader(source, layer, self.language, **how)

    def plainly(self, source: Source, layer: Layer, **how: Any) -> Reading:
        """As a call, in Darby's own words alone."""
        return self(source, layer, **how) if self._plain is None else self._reader(source, layer, self._plain, **how)

    def listen(self, texts: Sequence[Text]) -> None:
        """Try what guests bring on all texts, and let those join the language who unsay nothing."""
        if self._plain is None:
            return
        # not with the reader given: one that remembers would take these readings for the real ones
        before = [read(t.source, t.layer, self._plain, **t.how) if t.shared else None for t in texts]
        good: list[Guest] = []
        for guest in self._guests:
            try:
                moved = self._changed(guest, texts, before)
            except (Exception, SystemExit) as error:
                self._fails(guest, why(error))
            else:
                good.append(guest)
                self.told += moved
        self.language, found = self._joined(good)
        self.told += found

    def _joined(self, guests: Sequence[Guest]) -> tuple[Language, tuple[Diagnostic, ...]]:
        assert self._plain is not None
        words, told = settle(self._own, guests)
        return Language.of((*self._plain.readers, *(r for g in guests for r in g.readers)), words), told

    def _changed(self, guest: Guest, texts: Sequence[Text], before: Sequence[Reading | None]) -> list[Diagnostic]:
        """What one guest makes otherwise of the texts. Raises BrokenError where that is not its own to change."""
        language, _ = self._joined([guest])
        others = products(v for plugin, v in self._own if plugin not in guest.replaces)
        mine = products((*guest.vocabularies, *(v for plugin, v in self._own if plugin in guest.replaces))) - others
        named = products(guest.vocabularies)
        moved: list[Diagnostic] = []
        for text, was in zip(texts, before, strict=True):
            now = read(text.source, text.layer, language, **text.how)
            if was is None:
                continue
            if any(d.code == "clause-failed" for d in now.diagnostics if d not in was.diagnostics):
                raise BrokenError("makes a clause unreadable")
            for rule, new in changes(was, now):
                if rule is not None and (new is None or new.subject not in mine):
                    raise BrokenError(f"contradicts {_said(rule)} ({rule.span}), which is not its own to change")
                if new is not None and new.subject not in mine | named:
                    raise BrokenError(f"makes {_said(new)} of “{new.span.text}” ({new.span}), which is not its own")
                if new is not None and (rule is not None or new.subject not in mine):
                    was_read = f"; without them it is {_said(rule)}" if rule is not None else ""
                    message = f"In the words of {guest.who}, “{new.span.text}” is {_said(new)}{was_read}."
                    moved.append(problem("word-taken", message, new.span, severity=Severity.NOTE))
        return moved

    def _fails(self, guest: Guest, why: str) -> None:
        what = " and ".join(n for n, some in (("vocabulary", guest.vocabularies), ("reader", guest.readers)) if some)
        message = f"The plugin {guest.who} cannot take part in reading; its {what} {why}."
        way_out = f"Tell its author, or run without it: --without {guest.plugin}."
        self.told.append(problem("plugin-broken", message, severity=Severity.WARNING, help=way_out))
        self.missing.append(f"{guest.plugin} ({what})")

    def _leave_out(self, attempt: Callable[[Language], Reading]) -> None:
        """Put the language together again piece by piece, without the pieces that raise."""
        sound = Language.of((), ())
        attempt(sound)
        for words in self.language.vocabularies:
            sound = self._with(sound, evolve(sound, vocabularies=(*sound.vocabularies, words)), attempt, words)
        for one in self.language.readers:
            sound = self._with(sound, evolve(sound, readers=(*sound.readers, one)), attempt, one)
        self.language = sound

    def _with(
        self, sound: Language, more: Language, attempt: Callable[[Language], Reading], piece: Vocabulary | Reader
    ) -> Language:
        try:
            attempt(more)
        except (Exception, SystemExit) as error:
            what = "vocabulary" if isinstance(piece, Vocabulary) else "reader"
            message = f"The {what} {piece.name} cannot be used and is left out: it {why(error)}."
            way_out = "Tell the author of the plugin that brings it, or run without that plugin."
            self.told.append(problem("plugin-broken", message, severity=Severity.WARNING, help=way_out))
            self.missing.append(f"{piece.name} ({what})")
            return sound
        return more


def forgiving(reading: Reading, away: Sequence[str]) -> Reading:
    """What is not understood, as a warning: it may be meant for a plugin that is away, and costs nobody else's lines."""
    found = [
        evolve(softer(d), help=f"It may be for what is left out: {', '.join(away)}.")
        if d.code == "line-not-understood"
        else d
        for d in reading.diagnostics
    ]
    return evolve(reading, diagnostics=tuple(found))


def softer(diagnostic: Diagnostic) -> Diagnostic:
    """An error as a warning."""
    return evolve(diagnostic, severity=Severity.WARNING) if diagnostic.severity is Severity.ERROR else diagnostic


def changes(was: Reading, now: Reading) -> Iterator[tuple[Rule | None, Rule | None]]:
    """The rules by which two readings of one text differ: what is no longer said, with what took its place, and what is new."""
    before, after = ({_identity(r): r for r in reading.rules} for reading in (was, now))
    new = [rule for key, rule in after.items() if key not in before]
    taken: set[int] = set()
    for key, rule in before.items():
        if key not in after:
            place = next((n for n in new if n.span.start < rule.span.end and rule.span.start < n.span.end), None)
            taken.add(id(place))
            yield rule, place
    yield from ((None, rule) for rule in new if id(rule) not in taken)


def _identity(rule: Rule) -> tuple[object, ...]:
    return (rule.span.start, rule.kind.name, rule.subject, rule.scope, rule.answer, rule.bound)


def _said(rule: Rule) -> str:
    return f"{rule.kind.name} of {rule.subject}, {rule.says()}"
