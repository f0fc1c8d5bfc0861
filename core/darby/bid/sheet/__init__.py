"""A bid in; the bid sheet for the eye, a page, tables, JSON and a workbook with live formulas out."""
