"""The comparison as one HTML page, in the same frame as the report: no network, every text escaped."""

from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.html import page


def html(report: ComparisonReport) -> str:
    """The comparison as a page."""
    return page("comparison.html.j2", report=report)
