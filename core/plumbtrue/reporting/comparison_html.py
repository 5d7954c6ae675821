"""The comparison as one HTML page, in the same frame as the report: no network, every text escaped."""

from plumbtrue.reporting.changeover_words import AS_A_RULE, said_of, sign_of, standing_of
from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.html import page


def html(report: ComparisonReport) -> str:
    """The comparison as a page."""
    return page(
        "comparison.html.j2",
        report=report,
        as_a_rule=AS_A_RULE,
        sign_of=sign_of,
        said_of=said_of,
        standing_of=standing_of,
    )
