"""What trades declare beside their functions: surfaces that they claim, and settings of a firm or a job.

Rules come out, each with the clause that it rests on, so that they are ranked, shown and overridden as any other.
"""
