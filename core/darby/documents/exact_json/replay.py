"""What a replay found, as JSON of the schema `darby.replay/1`: the same wherever it was worked out."""

from __future__ import annotations

from darby.documents import changes
from darby.documents.exact_json.comparison import line_json, measure_json
from darby.documents.exact_json.parts import Json, dump
from darby.saved.replay_outcome import Summary

SCHEMA = "darby.replay/1"


def replay_json(summary: Summary) -> Json:
    """The summary as plain data, files by name."""
    return {
        "schema": SCHEMA,
        "files": [
            {
                "file": f.file, "name": f.name, "became": f.became, "problem": f.problem,
                "moved": [
                    {
                        "id": m.id, "before": line_json(m.before), "after": line_json(m.after), "packages": m.packages,
                        "text": f"{changes.name_of(m.line)}: {changes.change_of(m)}",
                    }
                    for m in f.moved
                ],
            }
            for f in summary.files
        ],
        "totals": [
            {
                "product": t.product, "container": t.container, "packages": t.packages, "jobs": t.jobs,
                "package": None if t.package is None else measure_json(t.package),
            }
            for t in summary.totals
        ],
        "stopped": summary.stopped,
    }  # fmt: skip


def make(summary: Summary) -> str:
    """The document as text."""
    return dump(replay_json(summary))
