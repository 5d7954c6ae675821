"""The formats of a comparison, each loaded only when it is wanted."""

from plumbtrue.audit.comparing import Comparison
from plumbtrue.reporting.comparison import report_of
from plumbtrue.rules.severity import Severity


def written(
    comparison: Comparison,
    format_name: str,
    *,
    old: str,
    new: str,
    gate: Severity,
    width: int = 80,
    colour: bool = False,
    signs: bool = True,
) -> str:
    """A comparison as text in one of the formats terminal, markdown, html and json.

    Args:
        old: what the older revision is called, and `new` what the newer one is.
        signs: whether signs beyond ASCII can be shown.
    Raises:
        ValueError: there is no such format.
    """
    report = report_of(comparison, old, new)
    match format_name:
        case "terminal":
            from plumbtrue.reporting.comparison_terminal import terminal

            return terminal(report, width=width, colour=colour, signs=signs)
        case "markdown":
            from plumbtrue.reporting.comparison_markdown import markdown

            return markdown(report)
        case "html":
            from plumbtrue.reporting.comparison_html import html

            return html(report)
        case "json":
            from plumbtrue.reporting.comparison_json import written as as_json

            return as_json(comparison, report, gate)
        case _:
            raise ValueError(f"a comparison has no format {format_name}")
