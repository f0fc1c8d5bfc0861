"""What the papers of a bid say, before anything is priced."""

from __future__ import annotations

from bids import bid_of, bidding, refused

TWO = "supplier,product,package,price\nA,primer,1 gal can,3\nB,primer,1 gal can,2\n"
LINE = 'rates = ["Apply primer: {} per 100 sq ft."]\nwages = [{{ trade = "coatings", wage = 10 }}]\n'


def primed(terms: str, labor: str = "") -> str:
    made = bid_of(terms, prices=TWO, labor=labor)
    return str(sum(line.sum for line in made.labor if line.sum is not None))


def test_a_rate_in_the_job_file_beats_one_of_a_file_however_narrow() -> None:
    """680 sq ft at 2 hours per 100 sq ft, 10 an hour; the file says 1 on walls, which is 480 of them."""
    assert primed(LINE.format("2 hours"), "Apply primer: 1 hour per 100 sq ft on walls.") == "136.00"
    assert (
        primed('wages = [{ trade = "coatings", wage = 10 }]', "Apply primer: 1 hour per 100 sq ft on walls.") == "48.00"
    )


def test_a_mistake_in_it_is_told_in_the_job_file() -> None:
    assert [(code, text) for code, text, _ in refused('rates = ["Apply primer: soon."]')] == [("labor-line", "soon")]


def test_methods_choose_among_rates() -> None:
    labor = "Apply primer: 1 hour per 100 sq ft by roller.\nApply primer: 0.5 hours per 100 sq ft by spray."
    wages = '\nwages = [{ trade = "coatings", wage = 10 }]'
    assert primed(wages, labor) == "68.00"  # the slower, and told
    assert primed(f'methods = ["By spray"]{wages}', labor) == "34.00"
    made = bid_of(f'methods = ["By spray"]{wages}', prices=TWO, labor=labor)
    assert not [one for one in made.open if one.what == "price" and "Which holds?" in one.text]


def test_a_supplier_that_no_list_has_is_told_where_he_is_named() -> None:
    ((code, text, message),) = refused('valid = "Dunes street"\nsupplier = "Dunes"', prices=TWO)
    assert (code, text, message) == ("bid-terms", "Dunes", "no price list has a supplier Dunes")


def test_a_price_that_ends_wants_a_date() -> None:
    _, told = bidding("", prices="product,package,price,valid until\nprimer,1 gal can,3,2026-03-31\n")
    assert [d.code for d in told] == ["bid-date"]
