"""Everything that can be known of a thing: recorded, in order by statement, or computed on demand and kept.

The only place where rig and mechanics meet.
"""
