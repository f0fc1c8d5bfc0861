"""The table of rooms: what holds in each, worked out by the trades' own columns, and how it is shown."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from checkout import ROOT
from darby.cli import cli
from darby.documents.catalogue import document_named
from darby.documents.exact_json.rooms import make
from darby.documents.rooms import Told, name_of, strangers
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

PLUGINS = load_plugins()
SCHEMA = json.loads((ROOT / "core/darby/schemas/rooms.schema.json").read_text(encoding="utf-8"))
SPEC = """PART 2 - PRODUCTS
A. PT-1: one coat primer, two coats flat.
B. PT-2: one coat primer, two coats eggshell.
C. W3: 5/8 in. thick type X gypsum board, two layers.
PART 3 - EXECUTION
| Room | Walls | Ceiling |
| Vault | PT-2 | PT-1 |
| Sauna | PT-1 | PT-1 |
"""
SIZE = 'length = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\n'
JOB = f"""name = "Archive"
units = "us"
[documents]
specification = ["spec.txt"]
[[rooms]]
name = "Vault"
number = 7
count = 2
color = "Fog"
{SIZE}[[rooms]]
name = "Bindery"
walls = "PT-1"
{SIZE}[[walls]]
name = "party wall"
length = "10 ft"
height = "9 ft"
type = "W3"
between = ["Vault", "Bindery"]
"""


@pytest.fixture(scope="module")
def made() -> Estimate:
    job, found = load(Source("job.toml", JOB), PLUGINS.marks)
    assert job is not None, found
    return estimate(job, [(Source("spec.txt", SPEC), SPECIFICATION)], PLUGINS)


ALL = 'trades = ["board", "coatings", "fasteners", "joints"]'


def table(made: Estimate) -> dict[str, dict[str, str]]:
    told = Told(made)
    return {
        name_of(line): {
            head: told.text(cell) for head, cell in zip(told.heads(), told.cells(line), strict=True) if cell
        }
        for line in Told(made).table.lines
    }


def test_each_room_shows_what_holds_in_it_and_walls_that_differ_have_a_line(made: Estimate) -> None:
    assert table(made) == {
        "Vault": {
            "Board": "1/2 in", "Layers": "1 layer", "Level": "4", "Primer": "1 coat (walls); 1 coat (ceiling)",
            "Wall finish": "2 coats, eggshell, Fog", "Ceiling finish": "2 coats, flat",
        },
        "Vault: party wall": {
            "Board": "5/8 in, type X", "Layers": "2 layers", "Level": "4", "Primer": "1 coat",
            "Wall finish": "2 coats, eggshell, Fog",
        },
        "Bindery": {
            "Board": "1/2 in", "Layers": "1 layer", "Level": "4", "Primer": "1 coat (walls); 1 coat (ceiling)",
            "Wall finish": "2 coats, flat", "Ceiling finish": "2 coats",
        },
        "Bindery: party wall other face": {
            "Board": "5/8 in, type X", "Layers": "2 layers", "Level": "4", "Primer": "1 coat", "Wall finish": "2 coats, flat",
        },
    }  # fmt: skip


def test_a_cell_knows_its_clause_and_what_gave_it(made: Estimate) -> None:
    told = Told(made)
    vault, bindery = (line for line in Told(made).table.lines if not line.surfaces)
    (finish,) = told.cells(bindery)[told.heads().index("Wall finish")]
    assert [(str(r.span), r.span.text) for r in finish.rules] == [("spec.txt:2:27", "two coats")]
    assert [(mark, span.line) for mark, span in finish.given] == [("PT-1", 15)]
    (thick,) = told.cells(vault)[0]
    assert told.sign(thick) == "~"
    assert told.doubt(thick).startswith("What thickness")


def test_places_and_rooms_that_do_not_meet_are_told_in_a_line_each(made: Estimate) -> None:
    assert strangers(made) == ["The documents speak of a place that this job does not have: sauna (spec.txt:8)."]


def test_rooms_that_look_forgotten_are_told_and_only_where_most_are_not() -> None:
    def told(many: int) -> list[str]:
        names = ["Vault", "Bindery", *(f"Store {n}" for n in range(many))]
        rows = "".join(f'[[rooms]]\nname = "{name}"\n{SIZE}' for name in names)
        job, _ = load(Source("job.toml", f'name = "j"\nunits = "us"\n{rows}'), PLUGINS.marks)
        assert job is not None
        text = SPEC.replace("Sauna", "Bindery")
        return strangers(estimate(job, [(Source("spec.txt", text), SPECIFICATION)], PLUGINS))

    assert told(1) == ["No document speaks of 1 room of this job by name, number or floor: Store 0."]
    assert told(3) == []


def test_the_json_keeps_to_its_schema(made: Estimate) -> None:
    data = json.loads(make(made))
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.validate(data, SCHEMA)
    assert [column["head"] for column in data["columns"]][:3] == ["Board", "Layers", "Level"]
    assert data["lines"][0]["number"] == "7"


def test_the_command_shows_saves_and_refuses(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "spec.txt").write_text(SPEC, encoding="utf-8")
    job, out = str(tmp_path / "job.toml"), tmp_path / "rooms.csv"
    seen = CliRunner().invoke(cli, ["rooms", job, "--format", "json"], standalone_mode=False)
    jsonschema.validate(json.loads(seen.stdout), SCHEMA)
    done = CliRunner().invoke(cli, ["rooms", job, "--format", "csv", "--out", str(out)], standalone_mode=False)
    assert done.return_value == 0
    rows = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8-sig"))))
    assert [row["Room"] for row in rows][:2] == ["Vault", "Vault: party wall"]
    assert "spec.txt:3" in rows[0]["Wall finish: clause"]
    (tmp_path / "job.toml").write_text(JOB.replace("count = 2", "count = 0"), encoding="utf-8")
    refused = CliRunner().invoke(cli, ["rooms", job, "--format", "json"], standalone_mode=False)
    assert refused.return_value == 2
    jsonschema.validate(json.loads(refused.stdout), SCHEMA)


def test_the_text_names_each_clause_once_at_any_width(made: Estimate) -> None:
    from darby.documents.terminal.parts import plain, written
    from darby.documents.terminal.rooms import show

    for width in (60, 100, 120):
        console, stream = plain(width)
        show(made, console)
        text = written(stream)
        assert max(map(len, text.splitlines())) <= width
        assert text.count("W3, type X: 5/8 in") == 1
        assert "Bindery" in text


def test_the_workbook_has_a_sheet_of_rooms(made: Estimate) -> None:
    openpyxl = pytest.importorskip("openpyxl")
    document = document_named("xlsx")
    assert document is not None
    data = document.make(made)
    assert isinstance(data, bytes)
    rows = list(openpyxl.load_workbook(io.BytesIO(data))["Rooms"].iter_rows(min_row=4, values_only=True))
    assert rows[0][:8] == ("Room", "Number", "Floor", "Phase", "Count", "Board", "Layers", "Level")
    vault = dict(zip(rows[0], rows[1], strict=True))
    assert (vault["Wall finish"], vault["Count"]) == ("2 coats, eggshell, Fog", "2")
    assert "spec.txt:3" in vault["Clauses"]


def test_where_no_trade_shows_anything_it_is_said() -> None:
    job, _ = load(Source("job.toml", 'name = "j"\nunits = "us"\n'), ())
    assert job is not None
    document = document_named("rooms")
    assert document is not None
    assert "Nothing to show" in str(document.make(Estimate(job, ())))


def test_goods_of_another_trade_stand_in_the_cells_of_ours_as_they_do_in_the_order() -> None:
    rooms = "".join(f'[[rooms]]\nname = "{name}"\n{SIZE}' for name in ("Vault", "Loft"))
    job, found = load(Source("job.toml", f'name = "Attic"\nunits = "us"\n{ALL}\n{rooms}'), PLUGINS.marks)
    assert job is not None, found
    legend = "P-1  Walls: two coats eggshell.\nP-2  Ceilings: two coats flat.\n\n"
    schedule = "Room     Walls   Ceiling\nVault    P-1     P-2\nLoft     P-1     exposed\n"
    made = estimate(job, [(Source("spec.txt", legend + schedule), SPECIFICATION)], PLUGINS)
    cells = table(made)
    assert "2 coats" in cells["Vault"]["Ceiling finish"]
    assert cells["Loft"]["Ceiling finish"] == "exposed"
    assert all("exposed" in cells["Loft"][head] for head in ("Board", "Layers", "Level", "Primer"))
