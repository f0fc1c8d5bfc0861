"""What lengths of one thing are told apart by: how many layers each goes through, and how thick these are."""

from __future__ import annotations

import pytest

from reads import read_text, said

READ = {
    "Screws: 1 in. through one layer, 1-5/8 in. through two.":
        ["fastener length of screw (layers through 1): 1 in", "fastener length of screw (layers through 2): 1 5/8 in"],
    "Screws: 25 mm long for single layer, 41 mm long for double layer.":
        ["fastener length of screw (layers through 1): 25 mm", "fastener length of screw (layers through 2): 41 mm"],
    "Screws for a single layer are to be 25 mm long for 12.5 mm board and 32 mm long for 15 mm board.":
        ["fastener length of screw (layers through 1, thick 12.5 mm thick): 25 mm",
         "fastener length of screw (layers through 1, thick 15 mm thick): 32 mm"],
    "1-1/4 in. screws through one layer and 1-7/8 in. screws through both layers.":
        ["fastener length of screw (layers through 1): 1 1/4 in", "fastener length of screw (layers through 2): 1 7/8 in"],
    "Single layer: 1-1/4 in. screws. Double layer: 2 in. screws.":
        ["fastener length of screw (layers through 1): 1 1/4 in", "fastener length of screw (layers through 2): 2 in"],
    # what stands ahead of a length is its own, and what is said once holds beside the plain length
    "Screws: 1-1/4 in. long, 1-7/8 in. long at double layers.":
        ["fastener length of screw: 1 1/4 in", "fastener length of screw (layers through 2): 1 7/8 in"],
    # one that is of a layer by its name is of no count besides
    "Screws at two layers: base layer 1-1/4 in. long, face layer 1-7/8 in. long.":
        ["fastener length of screw (layer base): 1 1/4 in", "fastener length of screw (layer face): 1 7/8 in"],
    "Screws: 1-1/4 in. long.": ["fastener length of screw: 1 1/4 in"],
    # what a sentence or what it stands under says that supports are made of is what a length goes into
    "Screws shall be 1 in. long into steel studs. Screws shall be 1-1/4 in. long into wood studs.":
        ["fastener length of screw (where steel): 1 in", "fastener length of screw (where wood): 1 1/4 in"],
    "Steel studs:\n  Screw length: 1 in.\nWood studs:\n  Screw length: 1-1/4 in.":
        ["fastener length of screw (where steel): 1 in", "fastener length of screw (where wood): 1 1/4 in"],
    "Framing | Screw length\nSteel studs | 1 in.\nWood studs | 1-1/4 in.":
        ["fastener length of screw (where steel): 1 in", "fastener length of screw (where wood): 1 1/4 in"],
    "SCREW LENGTH\n- 1 in. long into steel studs\n- 1-1/4 in. long into wood studs":
        ["fastener length of screw (where steel): 1 in", "fastener length of screw (where wood): 1 1/4 in"],
    # so are distances apart
    "Steel studs: screws 12 in. o.c. Wood studs: screws 16 in. o.c.":
        ["spacing of screw (note steel, surface wall): 12 in", "spacing of screw (note wood, surface wall): 16 in"],
    # goods of one sort of supports say nothing of the sentences beside them
    "Steel studs at 16 in. o.c. are in place.\nScrews 1 in. long.":
        ["framing of gypsum board (surface wall): 16 in", "fastener length of screw: 1 in"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_a_length_holds_for_what_it_goes_through(text: str) -> None:
    assert said(text) == READ[text]


def test_layers_that_are_ordered_tell_no_lengths_apart() -> None:
    assert said("Two layers of gypsum board, screws 1-5/8 in. long.") == [
        "layers of gypsum board: 2", "fastener length of screw: 1 5/8 in",
    ]  # fmt: skip


THREADS = {
    "Screws shall be Type S into steel studs and Type W into wood studs.": ["steel: type S", "wood: type W"],
    "Type W screws for wood framing, Type S screws for steel framing.": ["wood: type W", "steel: type S"],
    "Screw type: wood studs Type W; steel studs Type S": ["wood: type W", "steel: type S"],
    "Wood studs:\n  Screw type: Type W\nSteel studs:\n  Screw type: Type S": ["wood: type W", "steel: type S"],
    "Screws: Type W.": [": type W"],
}


@pytest.mark.parametrize("text", THREADS)
def test_a_thread_is_for_the_supports_beside_it(text: str) -> None:
    assert [f"{r.scope.get('note', '')}: {r.choice}" for r in read_text(text).rules] == THREADS[text]
