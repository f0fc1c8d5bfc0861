"""Files that are no text files.

The bytes of a word processor file, a spreadsheet or a PDF come in; its text goes out, or the reason why there is none.
"""
