"""For a spreadsheet: live formulas.

The working of each line as cells that follow their inputs.
"""
