"""Numbers with a dimension and bounds, three-valued truth, dates, and the trade's ways of writing them.

The ground floor: it knows nothing else of ours. Everything inside the program is SI (m, N, s, K, rad); dates
are days.
"""
