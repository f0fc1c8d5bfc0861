from __future__ import annotations

import pytest

from darby.quantities.plurals import plural


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("wall", "walls"),
        ("cover strip", "cover strips"),
        ("box", "boxes"),
        ("batch", "batches"),
        ("assembly", "assemblies"),
        ("tray", "trays"),
        ("y", "ys"),
        ("walls", "walls"),
        ("trim", "trim"),
        ("door trim", "door trim"),
        ("woodwork", "woodwork"),
        ("", ""),
    ],
)
def test_several_are_called_as_one_says_it(one: str, many: str) -> None:
    assert plural(one) == many


def test_every_surface_that_a_vocabulary_knows_is_called_as_documents_spell_it() -> None:
    """Where a document has a word for several of them, that is the word; where it has none, nobody counts them."""
    from reads import language

    for words in language().vocabularies:
        for surface, spellings in words.tables.get("surface", {}).items():
            said = {spelled for spelled in spellings if isinstance(spelled, str)}
            if surface in said:
                assert plural(surface) in said, surface
