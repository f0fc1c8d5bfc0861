"""The desk: a page on the estimator's own machine that shows a job and lets her work on it.

In come requests of her browser; out go pages, and changes of the files of the job, which stay the truth. It adds no rule and no
arithmetic, and never writes outside the folder of the job.
"""
