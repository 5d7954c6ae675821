"""A day on the command line."""

from datetime import datetime

import click


class Day(click.DateTime):
    """A day such as 2026-04-13; anything else is answered with the day that was likely meant."""

    def __init__(self) -> None:
        super().__init__(["%Y-%m-%d"])

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> datetime:
        """The day at midnight. Fails with what to write instead."""
        if isinstance(value, datetime):
            return value
        text = str(value).strip()
        try:
            return datetime.strptime(text, self.formats[0])
        except ValueError:
            from plumbtrue.quantities.reading_dates import read_date
            from plumbtrue.quantities.unreadable import Unreadable

            found = read_date(text)
            meant = found.instead if isinstance(found, Unreadable) else ""
            likely = meant if meant[:4].isdigit() else "a day, such as 2026-04-13"
            self.fail(f"{text} is no day; write {likely}", param, ctx)
