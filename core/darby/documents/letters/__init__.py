"""For a recipient: order list, letter of questions, scope note.

Each is made as prose once and written as text, Markdown or a page.
"""
