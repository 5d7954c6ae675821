"""Numeric check cases: a YAML form for "these inputs must give these figures", and the runner that compares.

`python -m plumbtrue.mechanics.cases FILE` prints a line for each case and a count. Every unit stands in the
key (`drop_in`, `drop_m`), so that a case can be read and checked by hand. The computations take SI; `inputs`
and `unit_keys` translate, `computations` lists what can be run, `comparing` holds tolerances, `running` runs
a file.
"""
