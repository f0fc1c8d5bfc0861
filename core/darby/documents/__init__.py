"""What leaves the desk.

An estimate, reading, comparison or replay comes in; text, pages, workbooks and tables go out, each from that alone and
never from another document. Nothing is decided here.
"""
