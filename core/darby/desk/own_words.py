"""Deeds that answer the documents: a line of her own, and what is not ours."""

from __future__ import annotations

import re

from attrs import define

from darby.desk.files.folder import RefusedError
from darby.desk.panes.own_line import today
from darby.desk.writing import Form, Writing
from darby.documents.letters.asked import answered, dated, marked
from darby.documents.letters.own_questions import OwnQuestion
from darby.documents.words import one_line
from darby.job.model import Sending
from darby.reading.addenda.alternates import named

_BRACKETS = re.compile(r"[\[\]]")
_ASKED = 400
"""Letters of a question of her own."""
_LONGEST = 600
"""Letters of a clause that is quoted; one that is longer is cut, and says so."""


@define(eq=False)
class OwnWords(Writing):
    """What she says to the documents, written into the job file."""

    def line(self, form: Form) -> str:
        """A plain line of her own, with where it comes from."""
        said = one_line(form.get("line", ""))
        heard = self.look(said, self.last_job())
        if heard.wrong:
            raise RefusedError(f"“{said[:200]}” was not written: {heard.wrong}")
        source = _BRACKETS.sub("", one_line(form.get("source", "")))[:120]
        whole = f"{said} [{source}]" if source else said
        text = self.job_text().with_item(whole, "rules")
        point, before = one_line(form.get("point", "")), text.items("letter", "asked")
        at = next((n for n, line in enumerate(before) if point and dated(line)[0] == point), None)
        if at is not None:  # what was asked is kept with its answer
            text = text.without_item(at, "letter", "asked")
            text = text.with_item(answered(before[at], today(), said), "letter", "asked")
        elif point in (
            OwnQuestion.of(one).text for one in text.items("letter", "questions")
        ):  # answered before it was asked
            at = 0
            text = text.with_item(answered(point, today(), said), "letter", "asked")
        self.job_becomes(f"the line “{said[:60]}”", text)
        kept = " The point is kept as answered." if at is not None else ""
        return f"Your line was written, and reads: {'; '.join(heard.says)}.{kept}"

    def line_remove(self, form: Form) -> str:
        """A line of her own taken back."""
        self.take_out(form, "rules")
        return "Your line was taken out."

    def not_ours(self, form: Form) -> str:
        """What a clause asks for and others do, with the reason: an exclusion of the scope note, and where she wants it a plain line."""
        words, why = one_line(form.get("words", "")), one_line(form.get("why", ""))[:200].rstrip(".")
        if not words:
            raise RefusedError("Choose the words in a document first.")
        if not why:
            raise RefusedError("Say why it is not yours: who does it, or what leaves it out.")
        words = words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1].rstrip()}…"
        at = _BRACKETS.sub("", ", ".join(filter(None, (one_line(form.get("at", ""))[:120], today()))))
        text = self.job_text().with_item(f"“{words}”: not ours, because {why} [{at}]", "scope", "excluded")
        none = [one for one in form.get("none", "").splitlines() if one.strip()]
        for one in none:
            heard = self.look(one, self.last_job())
            if heard.wrong:
                raise RefusedError(f"“{one[:200]}” was not written: {heard.wrong}")
            text = text.with_item(f"{one_line(one)} [not ours: {_BRACKETS.sub('', why)[:80]}, {today()}]", "rules")
        self.job_becomes(f"the exclusion “{words[:60]}”", text)
        lines = one_line(form.get("lines", ""))[:200]
        if none:
            order = f"Written among your lines, so that none of it is ordered: {' '.join(none)}"
        elif lines:
            order = f"The order stays as it was: {lines}. Write a line of your own where less is to be ordered."
        else:
            order = "The order stays as it was: no line of it comes from there."
        return f"It stands under the exclusions of the scope note. {order}"

    def ours_again(self, form: Form) -> str:
        """An exclusion of the scope note taken back."""
        self.take_out(form, "scope", "excluded")
        kept = any("[not ours:" in line for line in self.job_text().items("rules"))
        rest = " Lines of your own that were written with it stay: take them out below where they are no longer right."
        return f"It no longer stands under the exclusions.{rest if kept else ''}"

    def ask(self, form: Form) -> str:
        """A point marked, so that the letter asks it."""
        text, point = self.job_text(), one_line(form.get("point", ""))
        if not point:
            raise RefusedError("Choose what is to be asked.")
        if point not in map(one_line, text.items("letter", "ask")):
            self.job_becomes(f"asking “{point[:60]}”", text.with_item(point, "letter", "ask"))
        return "The letter asks it, and of the others only those that are marked too."

    def leave(self, form: Form) -> str:
        """A point that the letter does not ask after all."""
        text, point = self.job_text(), one_line(form.get("point", ""))
        at = [one_line(one) for one in text.items("letter", "ask")]
        if point not in at:
            raise RefusedError("That is not marked to be asked.")
        self.job_becomes(f"not asking “{point[:60]}”", text.without_item(at.index(point), "letter", "ask"))
        return (
            "The letter no longer asks it." if len(at) > 1 else "Nothing is marked now, so the letter asks everything."
        )

    def question(self, form: Form) -> str:
        """A question of her own, about words of a document where she gives them."""
        one = OwnQuestion.about(*(form.get(key, "") for key in ("ask", "at", "words")))
        if not one.text:
            raise RefusedError("Say what is to be asked.")
        if len(one.text) > _ASKED:
            raise RefusedError(f"A question has at most {_ASKED} letters; this has {len(one.text)}.")
        text = self.job_text()
        before = [OwnQuestion.of(line) for line in text.items("letter", "questions")]
        if any(known.text == one.text for known in before):
            raise RefusedError("The letter asks this in the same words already. Say what is different about it.")
        now = self.bench.look().estimate
        found = one.words and now is not None and one.place(source for source, _ in now.papers)
        if one.words and now is not None and not found:
            raise RefusedError(f"“{one.words[:120]}” stands in no document in these words. Copy them from there.")
        self.job_becomes(f"the question “{one.text[:60]}”", text.with_item(str(one), "letter", "questions"))
        return "Your question was written, and the letter asks it."

    def question_remove(self, form: Form) -> str:
        """A question of her own taken back."""
        self.take_out(form, "letter", "questions")
        return "Your question was taken back."

    def alternate_take(self, form: Form) -> str:
        """An alternate of the documents put into the order and the bid."""
        name, text = one_line(form.get("name", "")), self.job_text()
        if not named(name):
            raise RefusedError("Choose an alternate first.")
        if named(name) not in map(named, text.items("bid", "take")):
            self.job_becomes(f"taking {name}", text.with_item(name, "bid", "take"))
        return f"{name} is taken: it is in the order and the bid, above the addenda and below your own lines."

    def alternate_leave(self, form: Form) -> str:
        """An alternate that is not taken after all."""
        name, text = one_line(form.get("name", "")), self.job_text()
        at = next((n for n, one in enumerate(text.items("bid", "take")) if named(one) == named(name)), None)
        if at is None:
            raise RefusedError("That is not taken.")
        self.job_becomes(f"leaving {name}", text.without_item(at, "bid", "take"))
        return f"{name} is no longer in the order."

    def sent(self, _: Form) -> str:
        """The letter has left the house: what was marked to be asked has been asked today, and with it what she asks besides."""
        text = self.job_text()
        to_ask, gone, own = (tuple(text.items("letter", key)) for key in ("ask", "asked", "questions"))
        points = marked(Sending(ask=to_ask, asked=gone, questions=own))
        if not points:
            raise RefusedError("Nothing is marked to be asked. Mark what the letter asked first.")
        before = [dated(line)[0] for line in gone]
        for _one in to_ask:
            text = text.without_item(0, "letter", "ask")
        for point in points:
            if point in before:
                text = text.without_item(before.index(point), "letter", "asked")
                before.remove(point)
            text = text.with_item(f"{point} [{today()}]", "letter", "asked")
        self.job_becomes("what was asked", text)
        return f"{len(points)} {'point is' if len(points) == 1 else 'points are'} kept as asked today."
