"""An estimate to one self-contained, canonical JSON text, and that text to a file without ever harming the one before.

The text is laid out for people and for version control: each part begins a line, each rule, line to order and document
has a line of its own, and the same input gives the same bytes. `checks` at its end hold a checksum of every part.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from attrs import evolve

from darby.estimate.model import Estimate
from darby.estimate.working import Line as Working
from darby.estimate.working import working
from darby.quantities import own_units
from darby.quantities.amounts import Amount
from darby.quantities.units import Unit
from darby.reading.read import Reading
from darby.rules.rule import Rule
from darby.saved.model import SCHEMA, Choices, Line, Measure, Open, Paper, Saved
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span

Json = dict[str, Any]

MOST_LINES = 400
"""Lines of a longhand that are kept of one item: nobody reads more, and a list of 100,000 rooms has as many."""
_PART = re.compile(r'\n"(\w+)": ')
"""Where a part begins: no text can hold such a line, since JSON writes its line ends as `\\n`. It begins with the line end,
since what begins with a letter is found a hundred times as fast."""


def outline(
    estimate: Estimate, *, language: str, readings: Mapping[int, Reading], defaults: Mapping[str, Source],
    plugins: Iterable[tuple[str, str]], choices: Choices | None = None,
) -> Saved:  # fmt: skip
    """All of an estimate that is kept, but for the longhand, which comparing has no need of.

    `readings` hold what was read in each paper, by the `id` of its source; `defaults` each trade's default lines.
    """
    papers = [Paper(readings[id(s)].source, layer, readings[id(s)]) for s, layer in estimate.papers]
    return Saved(
        name=estimate.job.name,
        job=estimate.job.source,
        units=estimate.job.units,
        choices=choices or Choices(),
        plugins=tuple(plugins),
        trades=estimate.trades,
        language=language,
        papers=tuple(papers),
        defaults=tuple(sorted(defaults.items())),
        rules=estimate.rules,
        items=tuple(Line.of(item) for item in estimate.items),
        questions=tuple(Open(q.text, q.to, q.items) for q in estimate.questions),
        missing=estimate.missing,
        schedules=estimate.job.schedules,
        own_units=tuple(own_units.told(_units(estimate)).items()),
    )


def _units(estimate: Estimate) -> Iterator[Unit]:
    """What the rules and the lines of an estimate are measured in."""
    for rule in estimate.rules:
        yield from (said.unit for said in (rule.amount, rule.upper, rule.by, rule.per) if said is not None)
    for item in estimate.items:
        yield from (said.unit for said in (item.need, item.package) if said is not None)


def with_longhand(saved: Saved, estimate: Estimate) -> Saved:
    """The same with the longhand of every line, and the rules behind it."""
    at = {id(rule): number for number, rule in enumerate(saved.rules)}
    lines = []
    for line, item in zip(saved.items, estimate.items, strict=True):
        longhand = working(item, saved.rules)
        behind = [*(one.rule for one in longhand if one.rule is not None), *item.rules]
        rules = dict.fromkeys(at[id(rule)] for rule in behind if id(rule) in at)
        lines.append(evolve(line, rules=tuple(rules), working=_kept(longhand)))
    return evolve(saved, items=tuple(lines))


def _kept(longhand: Sequence[Working]) -> tuple[Json, ...]:
    """A longhand as it is kept: of one that is as long as a list of rooms its beginning and its end."""
    left = len(longhand) - MOST_LINES
    if left <= 0:
        return tuple(map(_working, longhand))
    half = MOST_LINES // 2
    note = f"{left:,} further lines of this longhand are not kept; darby explain shows them all"
    cut = {"text": note, "value": str(left), "unit": "each", "from": []}
    return (*map(_working, longhand[:half]), cut, *map(_working, longhand[-half:]))


def _working(one: Working) -> Json:
    return {
        "text": str(one), "value": str(one.amount.value), "unit": one.amount.unit.name,
        "from": [str(o.place) for o in one.origins if o.place is not None],
    }  # fmt: skip


def text_of(saved: Saved) -> str:
    """The file's text: canonical, the same for the same estimate, ending with a line end."""
    return laid_out(saved_json(saved))


def laid_out(data: Json) -> str:
    """The text of a saved estimate's data, with its checks."""
    parts = [f'"{name}": {_laid_out(value)}' for name, value in data.items()]
    body = "{\n" + ",\n".join(parts) + ",\n"
    body = body.encode("utf-8", "replace").decode()  # half a character, as file names may have, is no text
    sums = ",\n".join(f" {_dumped(name)}: {_dumped(checksum)}" for name, checksum in checksums(body).items())
    return f'{body}"checks": {{\n{sums}\n}}\n}}\n'


def checksums(text: str) -> dict[str, str]:
    """A checksum of each part of a saved text, but for `checks` itself. Line ends count as one, whatever their kind."""
    text = text.replace("\r\n", "\n")
    starts = list(_PART.finditer(text))
    found: dict[str, str] = {}
    for number, match in enumerate(starts):
        end = starts[number + 1].start() if number + 1 < len(starts) else len(text)
        if match[1] != "checks":
            part = text[match.start() + 1 : end + 1].encode("utf-8", "replace")
            found[match[1]] = hashlib.sha256(part + found.get(match[1], "").encode()).hexdigest()[:16]
    return found


def write(path: Path, text: str | bytes, *, replace: bool = True) -> None:
    """Put a text into a file in one step: a save that is cut short leaves the old file whole. Raises OSError.

    Without `replace` a file that is there by then stays as it is, and FileExistsError is raised.
    """
    path = path.resolve()
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:40]}.", suffix=".part", dir=path.parent)
    try:
        with open(handle, "wb") as file:
            file.write(text.encode("utf-8", "replace") if isinstance(text, str) else text)
            file.flush()
            os.fsync(file.fileno())
        with contextlib.suppress(OSError):  # a new file gets the rights any other would have
            os.chmod(name, path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask())
        if replace:
            os.replace(name, path)
        else:
            _put(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    if os.name == "posix":  # only then does the new name outlast a power cut
        with contextlib.suppress(OSError):
            folder = os.open(path.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)


def _put(name: str, path: Path) -> None:
    """Give a file a name that no other has yet, in one step where the file system can."""
    try:
        os.link(name, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        if path.exists():
            raise FileExistsError(17, "it is there already", str(path)) from None
        os.replace(name, path)
    else:
        os.unlink(name)


def _umask() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def saved_json(saved: Saved) -> Json:
    """The parts of a saved estimate as plain data, but for its checks. Every number is an exact string."""
    texts = [saved.job, *(p.source for p in saved.papers), *(source for _, source in saved.defaults), *saved.schedules]
    at = {id(source): number for number, source in enumerate(texts)}
    return {
        "schema": SCHEMA,
        "name": saved.name,
        "units": saved.units,
        "choices": _choices(saved.choices),
        "plugins": [{"name": name, "version": version} for name, version in saved.plugins],
        "trades": [{"name": n, "plugin": p, "version": v} for n, p, v in saved.trades],
        "language": saved.language,
        "texts": [
            {"as": "job", **_text(saved.job)},
            *({"as": p.layer.name, **_text(p.source), **_read(p)} for p in saved.papers),
            *({"as": "default", "trade": trade, **_text(source)} for trade, source in saved.defaults),
            *({"as": "schedule", **_text(source)} for source in saved.schedules),
        ],
        "rules": [_rule(rule, at[id(rule.span.source)]) for rule in saved.rules],
        "items": [_line(line) for line in saved.items],
        "questions": [{"text": q.text, "to": q.to, "items": list(q.items)} for q in saved.questions],
        "missing": list(saved.missing),
        **({"own_units": {name: list(told) for name, told in saved.own_units}} if saved.own_units else {}),
    }


def _choices(choices: Choices) -> Json:
    only = None if choices.only is None else list(choices.only)
    return {"units": choices.units or None, "without": list(choices.without), "only": only}


def _text(source: Source) -> Json:
    return {"name": source.name, "unit": source.unit, "text": source.text}


def _read(paper: Paper) -> Json:
    numbers = [[n.span.start, n.span.end, n.became, n.why] for n in paper.reading.numbers if n.became != "read"]
    names = [[goods, span.start, span.end] for goods, span in sorted(paper.reading.named.items())]
    told = [_told(d) for d in paper.reading.diagnostics]
    return {"numbers": numbers, "told": told, **({"named": names} if names else {})}


def _told(told: Diagnostic) -> Json:
    labels = [[label.span.start, label.span.end, label.text] for label in told.labels]
    return {
        "code": told.code, "severity": told.severity.value, "message": told.message, "help": told.help, "at": labels
    }  # fmt: skip


def _measure(amount: Amount | Measure) -> Json:
    return {"value": str(amount.value), "unit": amount.unit if isinstance(amount, Measure) else amount.unit.name}


def _rule(rule: Rule, source: int) -> Json:
    data: Json = {"kind": rule.kind.name, "subject": rule.subject, "scope": dict(rule.scope), "says": rule.says()}
    data["amount"] = _measure(rule.amount)
    for name, part in (("upper", rule.upper), ("by", rule.by), ("per", rule.per)):
        if part is not None:
            data[name] = _measure(part)
    data |= {"bound": rule.bound, "layer": rule.layer.name, "at": _place(rule.span), "source": source}
    data |= {
        "span": [rule.span.start, rule.span.end],
        "cited": rule.cited,
        "bound_by": [list(b) for b in rule.bound_by],
    }
    data |= {key: said for key, said in (("choice", rule.choice), ("confirm", rule.confirm)) if said}
    origin = rule.amount.step.origin
    return {**data, "origin": {"key": origin.key, "text": origin.text, "note": origin.note}}


def _place(span: Span) -> str:
    return f"{span.source.name}:{span.line}:{span.column}"


def _line(line: Line) -> Json:
    order = None
    if line.package is not None:
        order = {"count": line.count, "package": _measure(line.package), "container": line.container}
    return {
        "id": line.id, "trade": line.trade, "product": line.product, "pool": dict(line.pool),
        "need": _measure(line.need), "order": order, "rules": list(line.rules),
        "notes": list(line.notes), "working": [dict(one) for one in line.working],
    }  # fmt: skip


def _laid_out(value: Any) -> str:
    """A part: a list with each of its members on a line, anything else on one."""
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(_dumped(one) for one in value) + "\n]"
    return _dumped(value)


def _dumped(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(", ", ": "))


def parts_of(text: str) -> Iterator[tuple[str, int, int]]:
    """The parts of a saved text: name, first and last line."""
    starts = [(m[1], text.count("\n", 0, m.end()) + 1) for m in _PART.finditer(text)]
    last = text.count("\n") + 1
    for number, (name, first) in enumerate(starts):
        yield name, first, (starts[number + 1][1] if number + 1 < len(starts) else last) - 1
