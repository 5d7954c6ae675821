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
