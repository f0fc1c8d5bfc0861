"""What was measured.

A job file and its schedules come in; surfaces, openings and corners with exact measures go out, or diagnostics at the
cell. It reads no specification and orders nothing.
"""
