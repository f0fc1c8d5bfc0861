"""For a browser: one page with the order, its working and the documents marked.

Whatever a document says stays text; nothing of it becomes markup.
"""
