"""The one import of a plugin author: everything public, and nothing else.

Built-in trades, the grammar, the template, the examples and the guide take what they need from here. A name in `__all__` stays, with
its meaning, as long as `DARBY_API` does; what is not here is Darby's own business and may change any day.
"""

from __future__ import annotations

from darby.documents.tables import csv_of
from darby.estimate.areas import (
    REVEALS,
    Deduct,
    Place,
    comes_out,
    deduction,
    net_area,
    openings_out,
    pieces,
    places,
    pooled,
    reveals_left,
    rooms_told_apart,
    ruled_by,
)
from darby.estimate.attachments import AGAIN, CUT, OPEN, WHOLE, Area, Attachment, Drawing, Table
from darby.estimate.document_format import Document
from darby.estimate.line_item import Aside, LineItem, dashed
from darby.estimate.model import Estimate
from darby.estimate.packing import costs_of, ordered, pack, spare_lines, with_waste
from darby.estimate.shares import (
    Share,
    alike,
    area_of,
    area_over,
    by_area,
    grouped,
    layers_on,
    no_use_over_area,
    rules_of,
)
from darby.estimate.sides import Course, Side, chosen, in_place_of, sides_on, takes_new
from darby.estimate.trade import WORK_AT_HEIGHT, Caution, Claim, RoomColumn, Trade, defaults_of, silica_dust
from darby.job.model import Corner, Entry, Job, Opening, Price, Surface
from darby.job.rows.declared import JobTable, Key
from darby.labor.task import Operation, Piece, Task, tasks_on
from darby.plugin_host.hooks import hookimpl
from darby.quantities.amounts import Amount, total
from darby.quantities.units import (
    AREA,
    CONTAINERS,
    EACH,
    LENGTH,
    MASS,
    NUMBER_ONLY,
    PERCENT,
    UNITS,
    VOLUME,
    Dimension,
    Unit,
    UnitError,
    bought_in,
)
from darby.reading.parsing.fact_parser import Fact, Quantity, Reader, Refused, tables_of
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary, made_of
from darby.rules.answer import Answer
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE, Bound, Kind, Layer, Rule
from darby.rules.scope_of_work import Work, unsaid_of
from darby.text.spans import Source

__all__ = [
    "AGAIN",
    "AREA",
    "CONTAINERS",
    "CUT",
    "DEFAULT",
    "EACH",
    "HOUSE",
    "LENGTH",
    "MASS",
    "NUMBER_ONLY",
    "OPEN",
    "PERCENT",
    "REVEALS",
    "UNITS",
    "VOLUME",
    "WHOLE",
    "WORK_AT_HEIGHT",
    "Amount",
    "Answer",
    "Area",
    "Aside",
    "Attachment",
    "Bound",
    "Caution",
    "Claim",
    "Consultation",
    "Corner",
    "Course",
    "Deduct",
    "Dimension",
    "Document",
    "Drawing",
    "Entry",
    "Estimate",
    "Fact",
    "Job",
    "JobTable",
    "Key",
    "Kind",
    "Layer",
    "LineItem",
    "Opening",
    "Operation",
    "Piece",
    "Place",
    "Price",
    "Quantity",
    "Reader",
    "Refused",
    "RoomColumn",
    "Rule",
    "Share",
    "Side",
    "Source",
    "Surface",
    "Table",
    "Tag",
    "Task",
    "Trade",
    "Unit",
    "UnitError",
    "Vocabulary",
    "Work",
    "alike",
    "area_of",
    "area_over",
    "bought_in",
    "by_area",
    "chosen",
    "comes_out",
    "costs_of",
    "csv_of",
    "dashed",
    "deduction",
    "defaults_of",
    "grouped",
    "hookimpl",
    "in_place_of",
    "layers_on",
    "made_of",
    "net_area",
    "no_use_over_area",
    "openings_out",
    "ordered",
    "pack",
    "pieces",
    "places",
    "pooled",
    "reveals_left",
    "rooms_told_apart",
    "ruled_by",
    "rules_of",
    "sides_on",
    "silica_dust",
    "spare_lines",
    "tables_of",
    "takes_new",
    "tasks_on",
    "total",
    "unsaid_of",
    "with_waste",
]
