"""Sheets laid out: surfaces divided into courses, courses into pieces whose ends meet on supports, pieces cut from sheets and offcuts.

All lengths are whole numbers of one measure that every length of the job is a multiple of, so that nothing is rounded. The layout is a
quick one and no best one; what no layout can do with less of is stated beside it.
"""
