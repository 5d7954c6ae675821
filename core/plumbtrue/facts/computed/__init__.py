"""Computed facts, by subject. Each function takes one thing and what is known of it, and gives bounds with
their working.

Importing this package binds them all; numpy is imported only by those that solve a batten, when they are
asked.
"""

from plumbtrue.facts.computed import (
    arbor,
    balance,
    batten,
    blocks,
    bridge,
    item_weight,
    lift_line,
    load_path,
    navigation,
    neighbours,
    pipe,
    places,
    plumb,
    rated_parts,
    records,
    rope,
    rope_locks,
    show_things,
    shown_set,
    terminations,
    trims,
)
from plumbtrue.facts.computed.registry import COMPUTATIONS, FINDERS, bindings, found_part

__all__ = [
    "COMPUTATIONS",
    "FINDERS",
    "arbor",
    "balance",
    "batten",
    "bindings",
    "blocks",
    "bridge",
    "found_part",
    "item_weight",
    "lift_line",
    "load_path",
    "navigation",
    "neighbours",
    "pipe",
    "places",
    "plumb",
    "rated_parts",
    "records",
    "rope",
    "rope_locks",
    "show_things",
    "shown_set",
    "terminations",
    "trims",
]
