"""What is saved can be opened, whatever the job and its texts are, and worked out again it orders the same."""

from __future__ import annotations

import random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from darby.rules.rule import HOUSE, SPECIFICATION, addendum
from darby.saved.comparison import compare
from darby.saved.reader import reopen
from darby.saved.writer import MOST_LINES, text_of, with_longhand
from darby.text.spans import Source
from lofts import office
from phrase_cases import phrases

PHRASES = [case["text"] for case in phrases().values()]
NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12).filter(str.strip)
TEXTS = st.lists(
    st.one_of(st.sampled_from(PHRASES), st.text(st.characters(exclude_categories=["Cs"]), max_size=60)), max_size=5
).map("\n\n".join)
CELLS = st.sampled_from(["", "12 ft", "9.5", "8'-6\"", "1,200", "0", "-3 ft", "3 m", "x", "1/0 ft", "12 ft 3"])
SCHEDULES = st.lists(st.tuples(NAMES, CELLS, CELLS, CELLS), max_size=4).map(
    lambda rows: (
        "Room,L (ft),W (ft),Ceiling Height\n"
        + "".join(",".join('"' + c.replace('"', '""').replace("\n", " ") + '"' for c in row) + "\n" for row in rows)
    )
)


def quoted(text: str) -> str:
    """A text as TOML writes it."""
    return '"' + "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in text) + '"'


@st.composite
def jobs(draw: st.DrawFn) -> str:
    name, chance = draw(NAMES), random.Random(draw(st.integers(0, 10**6)))
    lines = [f"name = {quoted(name)}", f'units = "{chance.choice(["us", "metric"])}"', 'schedules = ["rooms.csv"]']
    if draw(st.booleans()):
        lines.append(f"checked = [{quoted(draw(NAMES))}]")
    for number in range(draw(st.integers(0, 3))):
        kind = chance.choice(["rooms", "walls", "ceilings"])
        sides = {
            "rooms": ("length", "width", "height"),
            "walls": ("length", "height"),
            "ceilings": ("length", "width"),
        }[kind]
        lines += [f"[[{kind}]]", f"name = {quoted(draw(NAMES) + str(number))}"]
        lines += [f'{side} = "{chance.choice(["12 ft", "9 ft 6 in", "2.7 m", "7/3 ft", "800 ft"])}"' for side in sides]
        lines += ["faces = 1"] if kind == "walls" else []
        lines += [f"color = {quoted(draw(NAMES))}"] if draw(st.booleans()) else []
    return "\n".join(lines) + "\n"


def opens_again(job: str, schedule: str, spec: str, house: str, more: str) -> bool:
    """Whether there is an estimate; then it is saved, opened and worked out again, and orders the same."""
    papers = [
        (Source("spec.txt", spec), SPECIFICATION),
        (Source("house.txt", house), HOUSE),
        (Source("a.txt", more), addendum(1)),
    ]
    worked = office().work(Source("job.toml", job), papers, schedules=[Source("rooms.csv", schedule)])
    if worked.estimate is None or worked.saved is None:
        assert worked.problems
        return False
    text = text_of(with_longhand(worked.saved, worked.estimate))
    back, told = reopen(Source("s.json", text))
    assert back is not None, told
    assert text_of(back) == text
    again = office().again(back, reread=True)
    assert again.saved is not None, again.problems
    assert compare(back, again.saved).same
    return True


@settings(max_examples=40, deadline=None)
@given(jobs(), SCHEDULES, TEXTS, st.sampled_from(["", "Joint compound: 13 lb per 100 sq ft.\n"]), TEXTS)
@example(
    'name = "j"\nunits = "us"\n[[rooms]]\nname = "r"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "8 ft"\n',
    "",
    "Joint compound: 0 sq ft per gallon.",
    "",
    "",
)
def test_what_is_saved_can_be_opened_and_worked_out_again(
    job: str, schedule: str, spec: str, house: str, more: str
) -> None:
    opens_again(job, schedule, spec, house, more)


@pytest.mark.slow
@settings(max_examples=3_000, deadline=None)
@given(jobs(), SCHEDULES, TEXTS, st.sampled_from(["", "Joint compound: 13 lb per 100 sq ft.\n"]), TEXTS)
def test_what_is_saved_can_be_opened_and_worked_out_again_at_length(
    job: str, schedule: str, spec: str, house: str, more: str
) -> None:
    opens_again(job, schedule, spec, house, more)


def test_a_long_list_of_rooms_is_saved_short_and_opens() -> None:
    rows = "name,length,width,height\n" + "".join(f"Room {n},{9 + n % 9} ft,9 ft,8 ft\n" for n in range(400))
    job = 'name = "j"\nunits = "us"\nschedules = ["rooms.csv"]\n'
    assert opens_again(job, rows, "Walls: two coats satin.", "", "")
    worked = office().work(Source("job.toml", job), [], schedules=[Source("rooms.csv", rows)])
    assert worked.estimate is not None
    assert worked.saved is not None
    saved = with_longhand(worked.saved, worked.estimate)
    longest = max((line.working for line in saved.items), key=len)
    assert len(longest) == MOST_LINES + 1
    cut = longest[MOST_LINES // 2]
    assert (
        cut["text"]
        == f"{int(cut['value']):,} further lines of this longhand are not kept; darby explain shows them all"
    )
    assert len(text_of(saved)) < 1_000_000
    whole = next(line for line in saved.items if line.product == "gypsum board")
    assert (
        whole.working[-1]["text"].endswith(f"= {whole.count:,} sheets")
        or str(whole.count) in whole.working[-1]["value"]
    )
