"""Packs as a list: what each covers, what it leaves out, and by what digest two houses can tell that they
use the same one.
"""

from collections import Counter
from collections.abc import Iterator
from textwrap import wrap

from plumbtrue.documents.printable import printable
from plumbtrue.plugins import Plugins
from plumbtrue.rules.packs.pack import Pack, RuleBook
from plumbtrue.rules.severity import Severity

_WIDTH = 100


def pack_listing(book: RuleBook, plugins: Plugins) -> str:
    """One paragraph for each pack, then the plugins."""
    lines: list[str] = []
    for pack in book.packs:
        lines += [*_pack(pack), ""]
    lines += [_plugin_line(one.name, one.distribution, one.version) for one in plugins.loaded]
    lines += [f"plugin {name} was left alone" for name in plugins.switched_off]
    return "\n".join(printable(line) for line in lines) + "\n"


def _pack(pack: Pack) -> Iterator[str]:
    yield f"{pack.name}, edition {pack.edition}: {pack.title}"
    by_severity = Counter(rule.severity for rule in pack.rules)
    counts = ", ".join(f"{by_severity[one]} {one.value}" for one in Severity if by_severity[one])
    yield from _entry("rules", f"{len(pack.rules)}" + (f" ({counts})" if counts else ""))
    if pack.adjustments:
        yield from _entry("changes", f"{len(pack.adjustments)} in rules of other packs")
    yield from _entry("tables", f"{len(pack.tables)}")
    yield from _entry("covers", "; ".join(pack.covers))
    yield from _entry("leaves out", "; ".join(pack.leaves_out))
    if pack.requires:
        yield from _entry("stands on", ", ".join(pack.requires))
    yield from _entry("brought by", f"plugin {pack.plugin}" if pack.plugin else f"folder {pack.folder}")
    yield from _entry("digest", pack.digest)


def _entry(head: str, text: str) -> list[str]:
    return wrap(
        text,
        _WIDTH,
        initial_indent=f"  {head:<12}",
        subsequent_indent=" " * 14,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _plugin_line(name: str, distribution: str, version: str) -> str:
    return f"plugin {name} of {distribution} {version}"
