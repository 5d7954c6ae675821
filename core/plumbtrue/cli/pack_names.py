"""Packs as they are asked for on a command line: a name, or the folder of a pack, from where the person
stands.
"""

import os
from collections.abc import Iterator, Sequence
from collections.abc import Mapping as PlainMapping
from pathlib import Path

import click

from plumbtrue.documents.nodes import Mapping, Scalar
from plumbtrue.documents.nodes import Sequence as Items
from plumbtrue.documents.reading import read_document


def base_and_names(
    names: Sequence[str], here: Path, brought: PlainMapping[str, str] | None = None
) -> tuple[Path, tuple[str, ...]]:
    """A folder in which every pack given by its folder lies, and all names in order of layers.

    What a pack requires comes before it, once, whether it was asked for or not.

    Args:
        brought: folders of packs that are known by name, where those too are to be read as folders.
    Raises:
        click.BadParameter: a folder is not there.
        CannotRead: the `pack.yaml` of a folder.
    """
    known = brought or {}
    folders = {
        name: _folder(known.get(name, name), here) for name in names if name in known or is_folder(name)
    }
    for folder in list(folders.values()):
        folders |= {name: _folder(known[name], here) for name in _required(folder) if name in known}
    base = Path(os.path.commonpath([folder.parent for folder in folders.values()])) if folders else here
    ordered: dict[str, None] = {}
    for name in names:
        for one in (*(_required(folders[name]) if name in folders else ()), name):
            ordered[f"./{folders[one].relative_to(base).as_posix()}" if one in folders else one] = None
    return base, tuple(ordered)


def asked_for(names: Sequence[str]) -> tuple[Path | None, tuple[str, ...]]:
    """Packs as a command was given them, with the folder that their folders lie in, if any is asked for by its
    folder.
    """
    if not any(is_folder(name) for name in names):
        return None, tuple(names)
    return base_and_names(names, Path.cwd())


def is_folder(name: str) -> bool:
    """Whether a pack is asked for by its folder and not by its name."""
    return "/" in name or os.sep in name or name.startswith(".")


def _folder(name: str, here: Path) -> Path:
    folder = Path(os.path.realpath(here / name))
    if not (folder / "pack.yaml").is_file():
        raise click.BadParameter(f"the folder {name} holds no pack.yaml")
    return folder


def _required(folder: Path) -> Iterator[str]:
    head = read_document(folder / "pack.yaml", shown=f"{folder.name}/pack.yaml")
    requires = head.get("requires") if isinstance(head, Mapping) else None
    for one in requires.items if isinstance(requires, Items) else ():
        if isinstance(one, Scalar):
            yield one.text
