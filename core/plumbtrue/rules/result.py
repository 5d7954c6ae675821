"""What a rule can say about a thing."""

from enum import Enum


class Result(Enum):
    """The outcome of one rule for one thing."""

    FINDING = "finding"
    UNDETERMINED = "undetermined"
    ERROR = "error"
    NOT_RUN = "not-run"
    MET = "met"
    NOT_APPLICABLE = "not-applicable"

    # A run counts some fifty thousand outcomes by their result: each word is the only one of its kind, so the
    # object itself says which it is, and its name need not be hashed again.
    __hash__ = object.__hash__
