"""What the commands share: a job found and worked out, options, and how things are shown and written.

Names of files and choices come in; estimates, documents and exit codes go out.
"""
