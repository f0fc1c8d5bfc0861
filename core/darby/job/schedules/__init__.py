"""Tables of what is measured, as people have them.

A table from a spreadsheet comes in; rows by the keys of the job file go out, each cell with its place.
"""
