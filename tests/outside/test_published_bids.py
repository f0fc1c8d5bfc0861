"""Published worked examples of pricing, labor hours and mark-ups, each named, with Darby's own arithmetic in their place.

Where a source rounds on its way, the difference is said. Seen 2026-11-28 unless marked otherwise.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from bids import goods, meanings, rates
from darby.bid.markups import DIRECT, put_on, read_markups
from darby.bid.prices.money import Currency
from darby.bid.prices.price_list import read_prices
from darby.bid.prices.pricing import Goods, price_goods
from darby.bid.prices.suppliers import cheapest
from darby.bid.terms import Wage
from darby.labor.hours import hours_of
from darby.labor.task import Operation, Task
from darby.quantities.amounts import Amount
from darby.quantities.units import AREA, LENGTH, NUMBER_ONLY
from darby.text.spans import Source

USD = Currency("USD")
HANG = Operation("hang gypsum board", ("surface", "height"))
PAINT = Operation("apply finish paint", ("surface",), (AREA, NUMBER_ONLY, LENGTH))
SPAN = Source("job.toml", "x").span(0, 1)


def hours(amount: str | int, line: str, operation: Operation = HANG, height: str = "") -> Fraction:
    """Hours for so much work by one or more lines."""
    found, told = rates(line, operation)
    assert not told
    measured = Amount.read(amount) if isinstance(amount, str) else Amount.of(amount)
    work = Task(operation.name, (measured,), {"surface": "wall"}, Amount.read(height) if height else None, rising=True)
    (one,) = hours_of([work], found)
    assert one.hours is not None
    assert not one.missing
    return one.hours.value


def paid(worked: Fraction, wage: str, burden: str = "0") -> Decimal:
    return USD.rounded(worked * Wage("t", Fraction(wage), Fraction(burden), SPAN).cost)


def price(cost: str, *lines: str) -> Decimal:
    """A price by its mark-ups, all of the cost being labor."""
    markups, wrong = read_markups([(line, SPAN) for line in lines])
    assert not wrong
    direct = dict.fromkeys(DIRECT, Decimal("0.00")) | {"labor": Decimal(cost)}
    return sum(direct.values(), Decimal(0)) + sum(one.sum for one in put_on(direct, markups, Fraction(0), USD))


def order(rows: str, *counts: int) -> tuple[Goods, ...]:
    """Cans of paint in so many sheens that stand for the goods of an example; each row a price of one."""
    sheens = ("flat", "satin", "eggshell", "semi-gloss")
    items = [goods("finish paint", f"{n} gal", "1 gal", "can", sheen=s) for n, s in zip(counts, sheens, strict=False)]
    read = read_prices(Source("list.csv", f"product,sheen,package,price,from,delivery\n{rows}"), meanings(), "USD")
    assert not read.diagnostics
    return price_goods(items, read.rows, meanings(), USD, None)


def bought(found: tuple[Goods, ...]) -> Decimal:
    return cheapest(found, USD).sum


def test_naval_training_manual_drywall_in_man_days() -> None:
    """NAVEDTRA 14045, chapter on crew leaders: 16,000 sf of 1/2-inch drywall at 33 man-hours per 1,000 sf are 66 man-days of 8 hours."""
    worked = hours("16000 sq ft", "Hang gypsum board: 33 man-hours per 1,000 sq ft. [NAVFAC P-405]")
    assert worked == 528
    assert worked / 8 == 66


def test_college_text_productivity_of_block() -> None:
    """Estimating in Building Construction, example 7-1: 170 labor hours for 1,700 sf, a rate of 0.10 labor hours per sf."""
    assert hours("1700 sq ft", "Hang gypsum board: 0.10 labor hours per sq ft") == 170


def test_college_text_productivity_of_a_slab() -> None:
    """Estimating in Building Construction 7-1: 170 labor hours for 10,000 sf, 0.017 labor hours per sf."""
    assert hours("10000 sq ft", "Hang gypsum board: 0.017 hours per sq ft") == 170


ROOM = Amount.read("2795 sq ft")
"""40 x 30 x 12 ft, ceiling in, 85 sq ft of openings out: 12 x 140 + 1,200 - 85. Foreman 25, laborer 14, two painters 20: 19.75 an hour."""


def test_engineering_exam_plaster() -> None:
    """Civil engineering exam problem, worked in a construction paper: 60 sq ft per labor hour at 19.75, 920.02."""
    assert paid(hours(str(ROOM.exact()), "Hang gypsum board: 60 sq ft per hour"), "19.75") == Decimal("920.02")


def test_engineering_exam_paint() -> None:
    """The same problem: 160 sq ft per labor hour, 345.03; it rounds 17.46875 hours to 17.47 first, so within 0.03. In all 1,265.05."""
    plaster = paid(hours(ROOM.exact(), "Hang gypsum board: 60 sq ft per hour"), "19.75")
    paint = paid(hours(ROOM.exact(), "Apply paint: 160 sq ft per hour", PAINT), "19.75")
    assert abs(paint - Decimal("345.03")) <= Decimal("0.03")
    assert abs(plaster + paint - Decimal("1265.05")) <= Decimal("0.03")


def test_trade_association_board_above_ten_feet() -> None:
    """AWCI, article on practical estimating, part 2: 25 cents per sq ft up to 10 ft and 40 % more, 35 cents, above; a wall of 15 ft.

    As hours at one an hour: 300 sq ft of which 100 lie above 10 ft cost 200 x 0.25 + 100 x 0.35 = 85.
    """
    lines = "Hang gypsum board: 0.25 hours per sq ft\nHang gypsum board: 0.35 hours per sq ft above 10 ft"
    assert hours("300 sq ft", lines, height="15 ft") == 85


def test_magazine_doors_in_a_day() -> None:
    """Trade magazine, column on productivity: nine doors in an 8-hour day, 0.89 man-hours a door, rounded to 0.9; 240 ft of base by two in
    6 hours, 0.05 man-hours per foot."""
    assert abs(hours(9, "Apply finish paint: 0.89 hours each", PAINT) - 8) <= Fraction(1, 100)
    assert hours("240 ft", "Apply finish paint: 0.05 hours per ft", PAINT) == 12


def test_business_text_four_workers() -> None:
    """Mathematics for business and personal finance, slides on hiring help: four at 16 an hour, 14 hours each, material 2,005: 2,901."""
    assert paid(Fraction(4 * 14), "16") + 2005 == Decimal("2901.00")


def test_business_text_painters_at_time_and_a_half() -> None:
    """The same lesson, example 1: four painters, 23 hours each, 29.00 at time and a half: 4,002; 42 gallons at 19.75: 829.50."""
    labor = paid(Fraction(4 * 23), "29.00", "1/2")
    material = bought(order("paint,,1 gal can,19.75,,\n", 42))
    assert (labor, material) == (Decimal("4002.00"), Decimal("829.50"))


def test_consumer_text_paint_in_two_sizes() -> None:
    """Consumer Mathematics, chapter 7, lesson 5, exercise 1: two gallons at 20.99 and two quarts at 6.99: 41.98 and 13.98, 55.96."""
    quarts = goods("finish paint", "2 qt", "1 qt", "can")
    gallons = goods("finish paint", "2 gal", "1 gal", "can", sheen="flat")
    read = read_prices(
        Source("l.csv", "product,package,price\npaint,1 gal can,20.99\npaint,1 qt can,6.99\n"), meanings(), "USD"
    )
    found = price_goods([gallons, quarts], read.rows, meanings(), USD, None)
    assert [str(offer.sum) for one in found for offer in one.offers.values()] == ["41.98", "13.98"]
    assert bought(found) == Decimal("55.96")


@pytest.mark.parametrize(
    ("count", "each", "sum_"), [(6, "37.80", "226.80"), (3, "12.60", "37.80"), (9, "14.04", "126.36")]
)
def test_business_text_extension_of_an_invoice(count: int, each: str, sum_: str) -> None:
    """Business Mathematics, chapter on invoices, exercises 1 to 3: quantity times unit price."""
    assert bought(order(f"paint,,1 gal can,{each},,\n", count)) == Decimal(sum_)


def test_business_text_invoice_with_freight() -> None:
    """Business mathematics text, section 8.3: 12 at 895 less 25 % is 8,055, with freight of 350 in all 8,405."""
    assert bought(order("paint,,1 gal can,671.25,,350\n", 12)) == Decimal("8405.00")


def test_school_exam_steps_by_quantity() -> None:
    """School examination, answer given: 96 at 3.95, 60 at 4.75, 7 at 7.95 and 110 at 5.99, a tenth off from ten copies on: 1,246.44."""
    rows = "".join(
        f"paint,{sheen},1 gal can,{each},,\npaint,{sheen},1 gal can,{Decimal(each) * 9 / 10},10,\n"
        for sheen, each in (("flat", "3.95"), ("satin", "4.75"), ("eggshell", "7.95"), ("semi-gloss", "5.99"))
    )
    found = order(rows, 96, 60, 7, 110)
    assert [str(o.sum) for one in found for o in one.offers.values()] == ["341.28", "256.50", "55.65", "593.01"]
    assert bought(found) == Decimal("1246.44")


def test_algebra_text_sales_tax() -> None:
    """Textbook problem, answer given: four boxes at 9.99 are 39.96, with a sales tax of 6.75 % 42.66."""
    assert price("39.96", "Sales tax: 6.75 % of labor") == Decimal("42.66")


def test_surety_flat_rate_per_thousand() -> None:
    """Surety's guide to contract bonds, example 1: 30 per thousand on a contract of 1,000,000 is 30,000."""
    assert price("1000000.00", "Bond: 30 per 1,000 of everything above") == Decimal("1030000.00")


def test_overhead_and_profit_one_on_the_other() -> None:
    """Common practice, from memory: 10 % overhead, then 10 % profit on both, make 21 % of the cost, and not 20."""
    assert price("10000.00", "Overhead: 10 % of everything above", "Profit: 10 % of everything above") == Decimal(
        "12100.00"
    )


def in_order(direct: dict[str, str], *lines: str) -> Decimal:
    """A price by its mark-ups, of cost parted as given."""
    markups, wrong = read_markups([(line, SPAN) for line in lines])
    assert not wrong
    costs = dict.fromkeys(DIRECT, Decimal("0.00")) | {name: Decimal(sum_) for name, sum_ in direct.items()}
    return sum(costs.values(), Decimal(0)) + sum(one.sum for one in put_on(costs, markups, Fraction(0), USD))


VAT = "VAT: 8.1081 % of everything above"
"""7.5 %, reckoned with the adjustment of 1.08108 that the schedule states."""


def test_schedule_of_rates_enamel_on_ten_square_metres() -> None:
    """Public Works Department of Bangladesh, schedule of rates, analysis of item 32.52.1, one coat on 10 m2: paint 0.63 L at 220, thinner 0.63
    L at 131; painter and helper half a day each at 700 and 550; 110 of sundries: 956.13. Profit 10 %, overhead 3.5 %, VAT: 1,173.19.

    Its days are hours here.
    """
    painter, helper = (hours("10 m2", "Apply paint: 0.05 hours per m2", PAINT) for _ in range(2))
    labor = paid(painter, "700") + paid(helper, "550")
    material = USD.rounded(Fraction("0.63") * 220) + USD.rounded(Fraction("0.63") * 131)
    assert (material, labor) == (Decimal("221.13"), Decimal("625.00"))
    cost = {"material": str(material), "labor": str(labor), "allowances": "110.00"}
    direct = "material, labor and allowances"
    assert in_order(cost, f"Profit: 10 % of {direct}", f"Overhead: 3.5 % of {direct}") == Decimal("1085.20")
    assert in_order(cost, f"Profit: 10 % of {direct}", f"Overhead: 3.5 % of {direct}", VAT) == Decimal("1173.19")


def test_schedule_of_rates_two_coats_of_distemper() -> None:
    """The same schedule, item 32.46.2, two coats on 10 m2: 1 L at 102, painter and helper 0.75 days each, sundries 82.50: 1,122.00; 1,376.72."""
    labor = sum(paid(hours("20 m2", "Apply paint: 0.0375 hours per m2 a coat", PAINT), wage) for wage in ("700", "550"))
    assert labor == Decimal("937.50")
    cost = {"material": "102.00", "labor": str(labor), "allowances": "82.50"}
    direct = "material, labor and allowances"
    assert in_order(cost, f"Profit: 10 % of {direct}", f"Overhead: 3.5 % of {direct}", VAT) == Decimal("1376.72")


def test_engineering_problem_marks_of_their_own_on_each_sort_of_cost() -> None:
    """Civil engineering homework problem with its answer (justaaa.com, 971926): 15 % on labor of 985,466 and material of 1,091,256, 20 % on
    equipment of 100,754, 4 % on subcontracts of 6,254,800: a bid of 9,014,127.10."""
    cost = {"labor": "985466.00", "material": "1091256.00"}
    lines = (
        "Equipment: 100,754", "Subcontracts: 6,254,800", "On labor: 15 % of labor", "On material: 15 % of material",
        "On equipment: 20 % of equipment", "On subcontracts: 4 % of subcontracts",
    )  # fmt: skip
    assert in_order(cost, *lines) == Decimal("9014127.10")


def test_finance_article_a_whole_bid() -> None:
    """Article on overhead and profit in bids (soccash.com, worked example): material 50,000, labor 40,000 with a burden of 25 %; overhead
    20 %, profit 10 % on both, 8,000 for risk: 140,000."""
    labor = paid(Fraction(1000), "40", "25/100")
    cost = {"material": "50000.00", "labor": str(labor)}
    lines = ("Overhead: 20 % of everything above", "Profit: 10 % of everything above", "Risk: 8,000")
    assert in_order(cost, *lines) == Decimal("140000.00")


def test_estimating_article_overhead_over_profit_is_no_margin() -> None:
    """Lesson on pricing bids (learn.ssgcinc.com): 20 % on cost is 16.7 % of the price; 20 % of the price wants 25 % on cost."""
    assert (price("100.00", "Profit: 20 % of labor") - 100) / price("100.00", "Profit: 20 % of labor") < Decimal(
        "0.167"
    )
    with_quarter = price("100.00", "Profit: 25 % of labor")
    assert (with_quarter - 100) / with_quarter == Decimal("0.2")
