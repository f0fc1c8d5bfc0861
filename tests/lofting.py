"""A trade with a table and units of its own, all in one file, and a job that it works on."""

PLUGIN = '''
from darby.api import JobTable, LineItem, Source, Trade, Vocabulary, hookimpl, pack, total

DARBY_API = 1
WORDS = """
[subject]
"saved felt" = ["saved felt"]
[units]
"saved square" = ["100 sq ft", "saved square", "saved squares"]
"saved reel" = ["container", "saved reel", "saved reels"]
[kinds]
"saved felt" = ["package"]
"""


def line_items(job, book):
    need = total([entry.surface.area for entry in job.entries("lofts")]).named("lofts")
    packing = pack(need, "saved felt", book)
    yield LineItem("saved felt", need, package=packing.package, rules=packing.rules)


@hookimpl
def darby_trades():
    lines = Source("lofts.us", "Saved felt comes in saved reels of 2 saved squares. [our supplier]")
    return [Trade("lofting", "Lofting", line_items, {"us": lines}, tables=(JobTable("lofts", "loft", "flat"),))]


@hookimpl
def darby_vocabulary():
    return [Vocabulary("lofting", Source("lofting words", WORDS))]
'''
JOB = """\
name = "Two lofts"
units = "us"
schedules = ["rows.csv"]
plugins = { files = ["lofting.py"] }
[[lofts]]
name = "main"
length = "20 ft"
width = "12 ft"
"""
