"""For the eye, in a terminal.

One module for each thing that is shown: an estimate, a reading, one line's working, a comparison, a replay.
"""
