"""Notes that explain keep their word wherever they go."""

from __future__ import annotations

import pickle

from darby.estimate.line_item import Aside


def test_an_aside_is_a_text_that_knows_its_word() -> None:
    note = Aside("Weight", "12 bags: 600 lb.")
    assert note == "Weight: 12 bags: 600 lb."
    assert note.word == "Weight"


def test_an_aside_comes_whole_out_of_another_process() -> None:
    again = pickle.loads(pickle.dumps(Aside("Weight", "12 bags: 600 lb.")))
    assert isinstance(again, Aside)
    assert (again, again.word) == ("Weight: 12 bags: 600 lb.", "Weight")
