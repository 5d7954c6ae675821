"""The report as one HTML page: no network, a script that only hides, every text escaped.

The templates in `reports/` put everything down; what they are given is decided here and below.
"""

import re
from base64 import b64encode
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from plumbtrue.audit.house_check import Checked
from plumbtrue.audit.verdicts import State
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.printable import printable
from plumbtrue.reporting import figures, show_figures
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings, not_read
from plumbtrue.reporting.report import Report
from plumbtrue.reporting.sharing import drawings, workings
from plumbtrue.reporting.show_across import across
from plumbtrue.reporting.wording import CAUTIONS, STATE_LABELS, STATE_SIGNS, WORDS

_DEEPEST: Final = 9
"""Steps of indentation that the style sheet knows."""
_MOST_STEPS: Final = 40
"""Lines of a working on the page; `plumbtrue explain` prints the whole of it."""
_BETWEEN_TAGS: Final = re.compile(r">[^<]+")


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The house of a run as a page; of several an overview, since each page is for one house."""
    if len(houses) == 1 and houses[0].audit is not None:
        return html(report_of(houses[0].audit, workings=True, cards=True, advice=around.advice))
    return _overview(houses, around, {})


def pages(houses: Sequence[Checked], around: Surroundings) -> Iterator[tuple[str, str]]:
    """A page for each house, and last an overview that leads to them, each with the name of its file."""
    names = _names(houses)
    for place, house in enumerate(houses):
        if house.audit is not None:
            yield (
                names[place],
                html(report_of(house.audit, workings=True, cards=True, advice=around.advice)),
            )
    yield (
        "index.html",
        _overview(houses, around, {id(house): name for house, name in zip(houses, names, strict=True)}),
    )


def _names(houses: Sequence[Checked]) -> list[str]:
    """A name for each house's page, from the name of its file; a number tells apart what would be alike."""
    taken: set[str] = {"index.html"}
    names: list[str] = []
    for house in houses:
        plain = (
            re.sub(r"[^A-Za-z0-9]+", "-", house.path.with_suffix("").as_posix()).strip("-").lower() or "house"
        )
        name, number = f"{plain}.html", 1
        while name in taken:
            number += 1
            name = f"{plain}-{number}.html"
        taken.add(name)
        names.append(name)
    return names


def _overview(houses: Sequence[Checked], around: Surroundings, links: Mapping[int, str]) -> str:
    """Houses on one page, what must be looked at first before the others.

    Args:
        links: names of the houses' pages, by identity of the house; empty where there are none.
    """
    rows = [
        (str(house.path), report_of(house.audit), (), links.get(id(house), ""))
        if house.audit is not None
        else (str(house.path), None, not_read(house), "")
        for house in sorted(houses, key=_urgency)
    ]
    return page(
        "index.html.j2",
        houses=rows,
        states=[(state, STATE_LABELS[state], STATE_SIGNS[state]) for state in State],
        on=around.on.isoformat(),
        cautions=CAUTIONS,
        table=across(houses),
    )


def _urgency(house: Checked) -> tuple[int, int, str]:
    """What must be looked at first: a house that could not be read, then by its gravest state and how many
    sets are in it.
    """
    if house.audit is None:
        return (-1, 0, str(house.path))
    states = [verdict.state.rank for verdict in house.audit.verdicts.values()]
    gravest = min([*states, house.audit.house_verdict.state.rank])
    return (gravest, -states.count(gravest), str(house.path))


def html(report: Report) -> str:
    """The page of one house."""
    made = _environment()
    drawn = drawings(
        {
            (one.key, name): made.get_template(f"figures/{name}.svg.j2").render(**{letter: figure})
            for one in report.sets
            if one.card is not None
            for name, letter, figure in (
                ("elevation", "e", figures.elevation(one.card)),
                ("load_path", "p", figures.load_path(one.card)),
                ("travel", "t", figures.travel_bar(one.card.heights)),
            )
            if figure is not None
        }
    )
    told = workings(
        {
            (one.key, figure.about): figure.working
            for one in report.sets
            if one.card is not None
            for figure in one.card.figures
            if figure.working
        },
        report.file,
    )
    subjects = sorted({entry.subject for one in report.sets for entry in one.entries})
    return page(
        "report.html.j2",
        report=report,
        drawn=drawn,
        told=told,
        bridles=[(one, show_figures.bridle(one)) for one in report.bridles],
        load_ins=[(one, show_figures.balance(one)) for one in report.load_ins],
        section=figures.section(report.sets),
        subjects=subjects,
        words=WORDS,
        deepest=_DEEPEST,
        most=_MOST_STEPS,
    )


def page(template: str, **given: Any) -> str:
    """A page from a template of `reports/`, with style, script and what it may do."""
    folder = data_folder("reports")
    style = (folder / "style.css").read_text(encoding="utf-8")
    script = (folder / "page.js").read_text(encoding="utf-8")
    made = (
        _environment()
        .get_template(template)
        .render(
            # Both are files of our own, and the page's policy names their digests.
            style=Markup(style),
            script=Markup(script),
            policy=_policy(style, script),
            **given,
        )
    )
    # Feet and inches stand on every card. An apostrophe means something only to an attribute between apostrophes, of
    # which the templates have none; a quotation mark only inside a tag, which nothing but its end can leave.
    return _BETWEEN_TAGS.sub(lambda text: text[0].replace("&#34;", '"'), made.replace("&#39;", "'"))


def _environment() -> Environment:
    """Templates of `reports/`, in which every text is escaped."""
    environment = Environment(
        loader=FileSystemLoader(data_folder("reports")),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    # Jinja's own `join` gives text that counts as escaped, and so would pass by what shows it.
    environment.filters["join"] = _joined
    environment.filters["tabbed"] = _tabbed
    return environment


def _joined(texts: Iterable[str], between: str) -> str:
    return between.join(texts)


def _tabbed(line: str) -> Markup:
    """A line of a working with its runs of blanks as tabs of eight, as the style sheet shows them: columns stand
    as they stood, in fewer bytes.
    """
    shown = printable(line)
    chunks = [shown[place : place + 8] for place in range(0, len(shown), 8)]
    # A tab is neither markup nor does it move anything; the text is escaped as all other is.
    return Markup("").join(
        f"{escape(one.rstrip())}\t" if one.endswith("  ") and len(one) == 8 else escape(one) for one in chunks
    )


def _policy(style: str, script: str) -> str:
    """What the page may do: show its own style, run its own script, and nothing else."""
    return (
        f"default-src 'none'; style-src 'sha256-{_digest(style)}'; script-src 'sha256-{_digest(script)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return b64encode(sha256(text.encode("utf-8")).digest()).decode("ascii")


def _shown(value: object) -> object:
    """Text as a page may show it: nothing in it turns the reading order or is not seen. It is escaped after
    this. Whole numbers need no point.
    """
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value if isinstance(value, Markup | int | float) else printable(str(value))
