"""Examples of rules: run as they stand, and run again on altered rules, so that some example notices every
part of a rule.
"""
