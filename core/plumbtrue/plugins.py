"""Plugins: installed distributions that bring packs, computed facts, kinds of parts or report formats.

A plugin is found by its entry point in the group `plumbtrue`; nothing that a rig file or a pack names can
import code. Each is loaded, called and checked by itself, so that what goes wrong has an owner. A failure is
kept and named, never passed over: the run that meets one counts as incomplete. The order is by distribution,
then by the name of the entry point, never by the order of installation.

A plugin implements any of the hooks below and marks each with `hook`:

    from plumbtrue.plugins import hook

    @hook
    def plumbtrue_packs() -> list[Path]:
        return [Path(__file__).parent / "our-pack"]
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeVar

import pluggy

from plumbtrue import __version__
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.quantities.unchanging import unchanging

if TYPE_CHECKING:
    from plumbtrue.facts.answer import Answer
    from plumbtrue.facts.store import Facts
    from plumbtrue.rig.thing import Thing
    from plumbtrue.rig.vocabulary import Fact

GROUP: Final = "plumbtrue"
INTERFACE: Final = 1
"""Number of this set of hooks. It grows when a hook changes so that older plugins no longer fit."""

hook = pluggy.HookimplMarker(GROUP)
"""Marks a function of a plugin as the implementation of the hook of that name."""

_specification = pluggy.HookspecMarker(GROUP)


@unchanging
class ComputedFact:
    """A fact that a plugin computes of a kind or class of things.

    `compute` is a pure function of the store of facts and the thing that gives an `Answer`, as those in
    `plumbtrue.facts.computed` do; `fact` declares it, with its dimension, its meaning and its source.
    """

    about: str
    fact: "Fact"
    compute: "Callable[[Facts, Thing], Answer]"

    @property
    def key(self) -> tuple[str, str]:
        """Kind or class, and name."""
        return (self.about, self.fact.name)


@unchanging
class ReportFormat:
    """A way to write an audit: its name, the ending of its files, what the reader gets, what writes it."""

    name: str
    suffix: str
    meaning: str
    write: Callable[[Any], str]


class Hooks:
    """What a plugin may implement. Every hook returns plain data; all are optional."""

    @_specification
    def plumbtrue_interface(self) -> int:  # type: ignore[empty-body]  # A specification has no body.
        """Number of the set of hooks that the plugin was written for; 1 where it says nothing."""

    @_specification
    def plumbtrue_packs(self) -> Sequence[Path]:  # type: ignore[empty-body]
        """Folders of rule packs. The folder's name is the name by which a rig file asks for the pack."""

    @_specification
    def plumbtrue_computed_facts(self) -> Sequence[ComputedFact]:  # type: ignore[empty-body]
        """Facts that can be computed of a kind of thing."""

    @_specification
    def plumbtrue_part_kinds(self) -> Sequence[Path]:  # type: ignore[empty-body]
        """Folders of vocabulary files, one kind of thing each, in the form of `schemas/vocabulary/kinds`."""

    @_specification
    def plumbtrue_report_formats(self) -> Sequence[ReportFormat]:  # type: ignore[empty-body]
        """Further ways to write an audit."""


class EntryPoint(Protocol):
    """What is needed of an entry point of an installed distribution."""

    @property
    def name(self) -> str: ...

    @property
    def value(self) -> str: ...

    @property
    def dist(self) -> metadata.Distribution | None: ...

    def load(self) -> Any: ...


@unchanging
class Plugin:
    """A plugin that loaded, and what it brings."""

    name: str
    distribution: str
    version: str
    packs: tuple[Path, ...] = ()
    computed_facts: tuple[ComputedFact, ...] = ()
    part_kinds: tuple[Path, ...] = ()
    report_formats: tuple[ReportFormat, ...] = ()
    built_in: bool = False


@unchanging
class Failure:
    """A plugin that could not be used, and why, in one sentence."""

    name: str
    distribution: str
    version: str
    why: str

    def __str__(self) -> str:
        return f"plugin {self.name} of {self.distribution} {self.version} {self.why}"


@unchanging
class Plugins:
    """Every plugin found, in order, and those that failed."""

    loaded: tuple[Plugin, ...]
    failures: tuple[Failure, ...] = ()
    switched_off: tuple[str, ...] = ()
    """Names of plugins that are installed and were left alone on request."""

    def pack_folders(self) -> dict[str, tuple[Plugin, Path]]:
        """Folders of packs by name, with the plugin that brings each."""
        return {folder.name: (plugin, folder) for plugin in self.loaded for folder in plugin.packs}


class practice_pack:  # noqa: N801  # Named for its entry point; pluggy registers the class itself, as it would a module.
    """The generic practice pack, brought through the same hook as everybody else's."""

    @staticmethod
    @hook
    def plumbtrue_packs() -> list[Path]:
        return [data_folder("rulepacks") / "practice"]


def load_plugins(*, third_party: bool = True, entry_points: Iterable[EntryPoint] | None = None) -> Plugins:
    """Load and question every installed plugin, each by itself.

    Args:
        third_party: whether plugins of other distributions are used; the built-in practice pack always is.
        entry_points: instead of those that are installed.
    """
    found = metadata.entry_points(group=GROUP) if entry_points is None else entry_points
    strangers = sorted((point for point in found if not point.value.startswith(f"{__name__}:")), key=_order)
    built_in = _question(practice_pack, Plugin("practice", "plumbtrue", __version__, built_in=True))
    if not third_party:
        return Plugins((built_in,), switched_off=tuple(point.name for point in strangers))
    loaded: list[Plugin] = [built_in]
    failures: list[Failure] = []
    for point in strangers:
        plugin = Plugin(point.name, *_distribution(point))
        try:
            plugin = _question(point.load(), plugin)
            _refuse_repetition(plugin, loaded)
        except Exception as error:  # Foreign code: whatever it raises is its failure, and the run goes on.
            failures.append(Failure(plugin.name, plugin.distribution, plugin.version, _why(error)))
            continue
        loaded.append(plugin)
    return Plugins(tuple(loaded), tuple(failures))


class _UnusableAnswerError(Exception):
    """A plugin answered with something that cannot be used. The message goes on after the plugin's name."""


def _order(point: EntryPoint) -> tuple[str, str, str]:
    return (_distribution(point)[0], point.name, point.value)


def _distribution(point: EntryPoint) -> tuple[str, str]:
    if point.dist is None:
        return ("an unnamed distribution", "")
    return (point.dist.metadata["Name"].lower().replace("_", "-"), point.dist.version)


def _why(error: Exception) -> str:
    return (
        str(error)
        if isinstance(error, _UnusableAnswerError)
        else f"stopped with {type(error).__name__}: {error}"
    )


def _question(implementation: object, plugin: Plugin) -> Plugin:
    """Call every hook of one plugin, in a manager of its own, and check what it answers."""
    manager = pluggy.PluginManager(GROUP)
    manager.add_hookspecs(Hooks)
    manager.register(implementation, name=plugin.name)
    try:
        manager.check_pending()
    except pluggy.PluginValidationError as error:
        raise _UnusableAnswerError(f"implements a hook that does not exist ({error})") from error
    made_for = next(iter(manager.hook.plumbtrue_interface()), INTERFACE)
    if made_for > INTERFACE:
        raise _UnusableAnswerError(
            f"is made for hook interface {made_for}; this version of plumbtrue has {INTERFACE}"
        )
    return replace(
        plugin,
        packs=tuple(
            sorted(
                (_folder(one, "pack.yaml") for one in _all(manager.hook.plumbtrue_packs())),
                key=lambda one: one.name,
            )
        ),
        part_kinds=tuple(sorted(_folder(one, "") for one in _all(manager.hook.plumbtrue_part_kinds()))),
        computed_facts=_sorted(
            ComputedFact, _all(manager.hook.plumbtrue_computed_facts()), lambda one: one.key
        ),
        report_formats=_sorted(
            ReportFormat, _all(manager.hook.plumbtrue_report_formats()), lambda one: one.name
        ),
    )


def _all(answers: Sequence[Iterable[Any]]) -> list[Any]:
    return [one for answer in answers for one in answer]


def _folder(path: object, must_hold: str) -> Path:
    folder = Path(path) if isinstance(path, str | Path) else None
    if folder is None or not (folder / must_hold).exists():
        raise _UnusableAnswerError(
            f"names a folder that is not there or holds no {must_hold or 'files'}: {path}"
        )
    return folder


_Brought = TypeVar("_Brought", ComputedFact, ReportFormat)


def _sorted(
    kind: type[_Brought], brought: list[Any], order: Callable[[_Brought], Any]
) -> tuple[_Brought, ...]:
    for one in brought:
        if not isinstance(one, kind):
            raise _UnusableAnswerError(f"answers with {one!r} where a {kind.__name__} is wanted")
    return tuple(sorted(brought, key=order))


def _refuse_repetition(plugin: Plugin, loaded: Iterable[Plugin]) -> None:
    """A plugin never takes the place of another's pack, fact or format: the later one in order is refused."""
    for other in loaded:
        for named, mine, theirs in (
            ("the pack", {one.name for one in plugin.packs}, {one.name for one in other.packs}),
            (
                "the report format",
                {one.name for one in plugin.report_formats},
                {one.name for one in other.report_formats},
            ),
            (
                "the computed fact",
                {".".join(one.key) for one in plugin.computed_facts},
                {".".join(one.key) for one in other.computed_facts},
            ),
        ):
            if twice := sorted(mine & theirs):
                raise _UnusableAnswerError(
                    f"brings {named} {twice[0]}, which {other.name} of {other.distribution} brings too"
                )
