"""Computed facts, by subject. Each function takes one thing and what is known of it, and gives bounds with
their working.

Importing this package binds them all; numpy is imported only by those that solve a batten, when they are
asked.
"""

from plumbtrue.facts.computed.registry import COMPUTATIONS, FINDERS, bindings, found_part

__all__ = ["COMPUTATIONS", "FINDERS", "bindings", "found_part"]
