"""A trade of one line and a reader of a few words, for tests of what calls trades."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.job.model import Job, Surface
from darby.pipeline import estimate
from darby.plugin_host.model import Plugins, Provided
from darby.quantities.amounts import Amount, Origin
from darby.reading.parsing.fact_parser import Reader
from darby.reading.read import Language, Number, Reading
from darby.rules.consultation import Consultation
from darby.rules.rule import Layer, Rule
from darby.text.spans import Source, Span, View
from darby_grammars.kinds import KINDS

LANGUAGE = Language.of([Reader("lines", tuple(KINDS.values()))], [])
DEFAULTS = """coats; finish paint; 2
coverage; finish paint; 400 sq ft; 1 gal
package; finish paint; 1 gal; 1 can"""


def fake_read(
    source: Source,
    layer: Layer,
    language: Language,
    *,
    strict: bool = False,
    subject: str = "",
    scope: Mapping[str, str] | None = None,
    within: View | None = None,
) -> Reading:
    """Reads lines of `kind; subject; amount; per; key=value, ...`; a line that says `unread 7` has an unread number."""
    rules: list[Rule] = []
    numbers: list[Number] = []
    at = 0
    view = within or View.of(source)
    for line in view.text.splitlines(keepends=True):
        span = view.span(at, at + len(line.rstrip("\n")))
        at += len(line)
        if line.startswith("unread"):
            numbers.append(Number(span, "unread", "no subject"))
        elif line.strip():
            kind, about, amount, per, said = [*(p.strip() for p in line.split(";")), "", "", ""][:5]
            pairs = dict(pair.strip().split("=") for pair in said.split(",") if pair)
            origin = Origin(f"{span} {kind}", span.text, span, layer.name)

            def made(text: str, origin: Origin = origin) -> Amount:
                return Amount.of(int(text), "each", origin) if text.isdigit() else Amount.read(text, origin)

            rules.append(
                Rule(
                    KINDS[kind],
                    about or subject,
                    pairs | dict(scope or {}),
                    made(amount),
                    layer,
                    span,
                    per=made(per) if per else None,
                )
            )
    return Reading(source, layer, tuple(rules), tuple(numbers), ())


def surface(job: Source, name: str, kind: str, area: str, **marks: str) -> Surface:
    start = job.text.index(f'name = "{name}"') if name in job.text else 0
    span = job.span(start, start + 1)
    return Surface(name, kind, Amount.read(area), Amount.of(1), span, marks=marks)


def job(text: str = "", *, rules: Iterable[str] = (), surfaces: Iterable[Surface] = (), units: str = "us") -> Job:
    source = Source("job.toml", text)
    spans: list[tuple[str, Span]] = []
    for line in rules:
        start = text.index(line)
        spans.append((line, source.span(start - 1, start + len(line) + 1)))
    walls = tuple(surfaces) or (
        surface(source, "North", "wall", "400 sq ft"),
        surface(source, "South", "wall", "600 sq ft"),
    )
    return Job("Ferry hall", units, walls, rules=tuple(spans), source=source)


def coats_of_paint(job: Job, book: Consultation) -> Iterator[LineItem]:
    """A small trade: finish paint over every surface."""
    need: Amount | None = None
    for one in job.surfaces:
        about = {"name": one.name, "surface": one.kind}
        coats = book.ask("coats", "finish paint", about, take=["sheen"])
        spread = book.ask("coverage", "finish paint", about)
        if coats and spread:
            part = one.gross * coats.amount / spread.rate
            need = part if need is None else need + part
    package = book.ask("package", "finish paint")
    if need is not None:
        yield LineItem("finish paint", need, {}, package.rate if package else None)


def provided(
    line_items: Callable[[Job, Consultation], Any] = coats_of_paint,
    name: str = "coatings",
    defaults: str | None = DEFAULTS,
    **more: Any,
) -> Provided:
    sources = {} if defaults is None else {"us": Source(f"{name}.us.txt", defaults)}
    return Provided(Trade(name, name.title(), line_items, sources, **more), f"{name}-plugin", "1.2")


def run(*trades: Provided, on: Job | None = None, papers: Iterable[tuple[str, Layer]] = (), **plugins: Any) -> Estimate:
    sources = [(Source(f"{layer.name}.txt", text), layer) for text, layer in papers]
    return estimate(on or job(), sources, Plugins(trades=trades, **plugins), LANGUAGE, reader=fake_read)


def codes(done: Estimate) -> list[str]:
    return [d.code for d in done.diagnostics]


def picture(done: Estimate) -> list[tuple[str, str, int | None]]:
    return [(i.id, i.need.exact(), i.count) for i in done.items]


def gives(*items: object) -> Callable[[Job, Consultation], Any]:
    def line_items(job: Job, book: Consultation) -> Any:
        return items

    return line_items
