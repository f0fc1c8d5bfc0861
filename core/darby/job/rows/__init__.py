"""One table or row of a job file, read key by key.

What a person wrote comes in, with its places; texts, counts, lengths, areas and prices go out, or a diagnostic at the place.
"""
