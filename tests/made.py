"""A small estimate and a reading made by hand, for tests of what the documents print."""

from __future__ import annotations

from darby.estimate.line_item import LineItem
from darby.estimate.model import Assumption, Estimate, Question
from darby.estimate.trade import Caution
from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount, Origin, total
from darby.reading.account.ledger import Number
from darby.reading.read import Reading
from darby.rules.answer import Answer, Asked, Conflict
from darby.rules.rule import DEFAULT, SPECIFICATION, Layer, Rule, Scope, addendum
from darby.text.diagnostics import Severity, problem
from darby.text.spans import Source
from darby_grammars.kinds import KINDS

JOB = Source(
    "job.toml",
    'name = "Lamp Street studio"\nunits = "us"\n\n[[walls]]\nname = "north wall"\nlength = "24 ft"\nheight = "8 ft"\n'
    'faces = 1\n\n[[walls]]\nname = "partition"\nlength = "12 ft 6 in"\nheight = "8 ft"\nfaces = 2\n',
)
SPEC = Source(
    "section.txt",
    "2.01 PRIMER\n"
    "A. Primer: 250 sq ft per gallon.\n"
    "B. Conform to the standard, edition 1997.\n"
    "3.01 WALLS\n"
    "A. Walls: one coat primer.\n"
    "B. Apply 840 of it.\n",
)
ADDENDUM = Source("addendum-1.txt", "Primer: 200 sq ft per gallon.\nPrimer: 300 sq ft per gallon.\n")
DEFAULTS = Source(
    "trade/defaults.us.txt", "Compound: 14 lb per 100 sq ft.\nCompound: 64 lb pails.\nPrimer: 1 gal cans.\n"
)


def said(
    source: Source,
    text: str,
    kind: str,
    subject: str,
    amount: str,
    *,
    per: str = "",
    by: str = "",
    layer: Layer = SPECIFICATION,
    **scope: str,
) -> Rule:
    """A rule that stands at `text` in a source."""
    start = source.text.index(text)
    span = source.span(start, start + len(text))
    origin = Origin(f"{source.name} {kind}", text, span, layer.name)

    def made(spelled: str) -> Amount:
        return Amount.of(int(spelled), "each", origin) if spelled.isdigit() else Amount.read(spelled, origin)

    cited = "common practice" if layer is DEFAULT else ""
    return Rule(
        KINDS[kind], subject, scope, made(amount), layer, span, per=made(per) if per else None, by=made(by) if by else None, cited=cited,
        bound_by=(("subject", "label before the colon"),),
    )  # fmt: skip


def measured(text: str, label: str = "") -> Amount:
    """A number of the job file."""
    start = JOB.text.index(text)
    origin = Origin("job", text, JOB.span(start, start + len(text)), "measured")
    return Amount.of(int(text), "each", origin, label) if text.isdigit() else Amount.read(text, origin, label)


def surface(name: str, length: str, faces: int) -> Surface:
    """A wall 8 ft high."""
    start = JOB.text.index(f'name = "{name}"')
    span = JOB.span(start, start + len(name) + 9)
    origin = Origin(name, f"faces = {faces}", span, "measured")
    area = measured(length) * measured("8 ft")
    return Surface(name, "wall", area, Amount.of(faces, "each", origin, "faces"), span)


def estimate(**changes: object) -> Estimate:
    """Two lines to order and one of everything that can be open."""
    walls = (surface("north wall", "24 ft", 1), surface("partition", "12 ft 6 in", 2))
    usage = said(
        DEFAULTS,
        "Compound: 14 lb per 100 sq ft.",
        "consumption",
        "joint compound",
        "14 lb",
        per="100 sq ft",
        layer=DEFAULT,
    )
    pails = said(DEFAULTS, "Compound: 64 lb pails.", "package", "joint compound", "64 lb", per="1 pail", layer=DEFAULT)
    cans = said(DEFAULTS, "Primer: 1 gal cans.", "package", "primer", "1 gal", per="1 can", layer=DEFAULT)
    spread = said(SPEC, "Primer: 250 sq ft per gallon", "coverage", "primer", "250 sq ft", per="1 gal")
    coats = said(SPEC, "Walls: one coat primer", "coats", "primer", "1", surface="wall")
    late = said(
        ADDENDUM, "Primer: 200 sq ft per gallon", "coverage", "primer", "200 sq ft", per="1 gal", layer=addendum(1)
    )
    other = said(
        ADDENDUM, "Primer: 300 sq ft per gallon", "coverage", "primer", "300 sq ft", per="1 gal", layer=addendum(1)
    )
    area = total(((w.area * w.faces).named(w.name) for w in walls), "area of walls")
    compound = LineItem(
        "joint compound", area * usage.rate, {}, pails.rate, "joints", notes=("Setting compound is not counted.",)
    )
    primer = LineItem("primer", area * coats.rate / late.rate, {"surface": "wall"}, cans.rate, "coatings", (coats,))
    clip = LineItem("clip", Amount.of(6), {}, None, "fasteners")
    asked = Asked("consumption", "joint compound", Scope())
    about = Asked("coverage", "primer", Scope({"surface": "wall"}))
    unread = SPEC.text.index("840")
    given = {
        "job": Job("Lamp Street studio", "us", walls, source=JOB),
        "items": (compound, primer, clip),
        "rules": (usage, pails, cans, spread, coats, late, other),
        "assumptions": (Assumption("14 lb of joint compound per 100 sq ft", Answer(asked, usage)),),
        "questions": (
            Question("Please say how much joint compound is used over an area.", "supplier", None, (compound.id,)),
            Question("Please say which coverage of primer holds.", "specifier", late.span, (primer.id,)),
        ),
        "cautions": (Caution("Dust", "Sand wet where you can.", "29 CFR 1926.1153"),),
        "conflicts": (Conflict(about, late, (other,)),),
        "diagnostics": (
            problem(
                "reading-nothing", "nothing was found", SPEC.span(0, 11), severity=Severity.WARNING, help="look again"
            ),
        ),
        "trades": (("joints", "darby_joints", "0.1.0"),),
        "unread": ((SPEC.span(unread, unread + 3), "a number with no unit"),),
    }
    return Estimate(**(given | changes))  # type: ignore[arg-type]


def reading() -> Reading:
    """The section as a reader would leave it."""
    spread = said(SPEC, "Primer: 250 sq ft per gallon", "coverage", "primer", "250 sq ft", per="1 gal")
    coats = said(SPEC, "Walls: one coat primer", "coats", "primer", "1", surface="wall")

    def number(text: str, became: str, why: str) -> Number:
        start = SPEC.text.index(text)
        return Number(SPEC.span(start, start + len(text)), became, why)  # type: ignore[arg-type]

    numbers = (
        number("2.01", "set aside", "the number of an article"),
        number("250", "read", "coverage of primer"),
        number("1997", "set aside", "a year"),
        number("3.01", "set aside", "the number of an article"),
        number("one", "read", "coats of primer"),
        number("840", "unread", "a number with no unit"),
    )
    question = problem("reading-open", "which one is wanted", SPEC.span(0, 4), severity=Severity.QUESTION)
    return Reading(SPEC, SPECIFICATION, (spread, coats), numbers, (question,))
