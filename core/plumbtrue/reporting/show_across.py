"""One show in several houses: a table, item by item, house by house, with the reason in each cell."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.show_report import ShowItem, ShowReport
from plumbtrue.reporting.showing import show_of
from plumbtrue.rig.natural_order import natural_order

NOT_LAID = "the plot could not be laid over it"


@unchanging
class House:
    """One column: a house, and what the show comes to there."""

    title: str
    file: str
    sentence: str
    why_not: tuple[str, ...]
    """Why the plot could not be laid over it, or the house not be read."""


@unchanging
class Row:
    """One piece in every house; nothing where there is no verdict."""

    title: str
    cells: tuple[ShowItem | None, ...]


@unchanging
class Table:
    """One show in several houses."""

    title: str
    houses: tuple[House, ...]
    rows: tuple[Row, ...]


def across(houses: Sequence[Checked]) -> Table | None:
    """The table over the houses of a run; nothing for one house, or where no plot was laid."""
    if len(houses) < 2:
        return None
    shows = [_show(house) for house in houses]
    laid = [show for show in shows if show is not None]
    if not laid:
        return None
    by_key = [{item.key: item for item in show.items} if show is not None else {} for show in shows]
    titles = {item.key: item.title for show in laid for item in show.items}
    rows = tuple(
        Row(titles[key], tuple(items.get(key) for items in by_key))
        for key in sorted(titles, key=natural_order)
    )
    columns = [_house(house, show) for house, show in zip(houses, shows, strict=True)]
    titles_of = Counter(one.title for one in columns)
    return Table(
        laid[0].title,
        tuple(
            replace(one, title=f"{one.title} ({one.file})") if titles_of[one.title] > 1 else one
            for one in columns
        ),
        rows,
    )


def _show(house: Checked) -> ShowReport | None:
    audit = house.audit
    return None if audit is None else show_of(audit, Facts(audit.rig, audit.on, audit.further))


def _house(house: Checked, show: ShowReport | None) -> House:
    if house.audit is None or show is None:
        failure = house.failure or CannotRead(())
        return House(str(house.path), str(house.path), "", tuple(one.what for one in failure.problems))
    name = house.audit.rig.house.facts.get("name")
    return House(str(house.path) if name is None else name.text, str(house.path), show.sentence, ())
