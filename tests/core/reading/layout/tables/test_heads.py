"""Heads are told from rows by what stands below them and by the words that heads are known by."""

from __future__ import annotations

from attrs import frozen

from darby.reading.layout.tables.heads import Means, head_lines, head_words, unheard
from reads import read_text

WORDS = {
    "room": {"places"}, "walls": {"surface"}, "ceilings": {"surface"}, "coats": {"measure"}, "sheen": {"sheens"}, "satin": {"sheen"},
    "location": {"places"}, "type": {"marks"}, "finish": {"product"}, "(mils)": {"unit"}, "rate": {"measure"}, "package": {"measure"},
    "surface": {"surfaces"}, "edges": {"part"}, "field": {"part"},
}  # fmt: skip


def means(text: str) -> frozenset[str]:
    return frozenset(WORDS.get(text.lower(), set()))


def heads(*lines: str, words: Means = means) -> int:
    rows = [{n: cell for n, cell in enumerate(line.split("|")) if cell} for line in lines]
    return head_lines(rows, max(max(row) for row in rows) + 1, words)


def test_words_over_numbers_and_codes_are_heads_whoever_knows_them() -> None:
    assert heads("Ort|Wand|Decke", "Lobby|PT-1|PT-2", "Store|PT-3|PT-2", words=unheard) == 1


def test_a_row_like_those_below_it_is_no_head() -> None:
    assert heads("Lobby|PT-1|PT-2", "Store|PT-3|PT-2") == 0
    assert heads("Stair|5/8 in.|Level 4", "Office|1/2 in.|Level 4") == 0
    assert heads("Walls|Sealer|1|300", "Ceilings|Sealer|1|350") == 0


def test_letters_without_a_figure_are_a_name_over_codes_that_have_one() -> None:
    assert heads("|LOBBY|W/C (2)", "WALL NORTH|P1|P2", "DOORS|P3|P4", words=unheard) == 1
    assert heads("W1|A/B", "W2|B", "W3|A", words=unheard) == 0


def test_two_columns_have_a_head_only_where_both_words_are_known_or_in_capitals() -> None:
    assert heads("Location|Type", "Lobby|W1", "Store|W2") == 1
    assert heads("ORT|ART", "Lobby|W1", "Store|W2") == 1
    assert heads("Sheen|Satin", "Coats|2", "Rate|350") == 0


def test_two_parts_over_values_alone_are_heads_without_a_key() -> None:
    assert heads("Edges|Field", "8 in.|12 in.") == 1
    assert heads("Edges|8 in.", "Field|12 in.") == 0
    assert heads("Edges|Field", "Walls|12 in.") == 0
    said = read_text("Screw spacing, walls\nEdges   Field\n8 in.   12 in.\n").rules
    assert [(rule.scope["where"], rule.amount.value) for rule in said] == [("edge", 8), ("field", 12)]


def test_words_over_words_need_to_be_known() -> None:
    assert heads("Room|Walls|Ceilings", "Lobby|satin|flat", "Store|flat|flat") == 1
    assert heads("Lobby|satin|flat", "Store|flat|flat", "Office|satin|satin") == 0


def test_a_surface_over_surfaces_is_no_head() -> None:
    assert heads("Walls|satin|oat", "Ceilings|flat|white", "Walls|gloss|fern") == 0


def test_units_below_words_and_heads_below_wider_ones_belong_to_the_head() -> None:
    assert heads("|Film|Spread", "Finish|(mils)|(mils)", "P1|1.5|350", "P2|1.2|400") == 2
    assert heads("Room|Walls|Walls", "Lobby|PT-1|PT-1", "Store|PT-3|PT-3") == 1


def test_labels_and_values_by_turns_have_no_head() -> None:
    assert heads("Type|Acrylic|Sheen|Velvet", "Coats|2|Rate|350", "Rate|41 %|Package|5 L") == 0


def test_a_sentence_is_no_head() -> None:
    assert heads("All work is to be done in full.|2|3", "Lobby|4|5", "Store|6|7") == 0


@frozen
class Said:
    name: str
    also: tuple[tuple[str, str], ...] = ()


def test_what_words_say_comes_from_the_language_and_from_the_heads_it_knows() -> None:
    language = {
        "dry film, mils": [Said("DRY"), Said("THIN_UNIT")],
        "wall paint": [Said("subject", (("surface", "wall"),))],
        "levels": [],
    }
    language["level"] = [Said("LEVEL")]
    known = head_words(lambda text: language.get(text.lower(), []), {"no.": "numbers", "room": "places"})
    assert known("Dry film, mils") == {"measure", "unit"}
    assert known("Wall paint") == {"product", "surface"}
    assert known("Room:") == {"places"}
    assert known("NO.") == {"numbers"}
    assert known("Levels") == {"measure"}
    assert known("Solids, %") == {"unit"}
    assert known("Lobby") == set()


def test_cells_that_go_on_in_the_next_line_are_no_part_of_the_head() -> None:
    text = (
        "COLOURS\n\n"
        "                     WALLS                 CEILINGS\n"
        "Living / dining      Wishing Well,         White, ceiling\n"
        "                     low sheen, 2 coats    flat, 2 coats\n"
        "Bathroom             White, satin,         White, satin,\n"
        "                     3 coats               1 coat\n"
    )
    rules = [rule for rule in read_text(text).rules if rule.kind.name == "coats"]
    assert [(r.scope["room"], r.scope["surface"], r.amount.value) for r in rules] == [
        ("living / dining", "wall", 2),
        ("living / dining", "ceiling", 2),
        ("bathroom", "wall", 3),
        ("bathroom", "ceiling", 1),
    ]
