"""Writing a file whole or not at all.

After a crash there is the old file or the new one, never half of either.
"""

import os
import stat
import tempfile
from pathlib import Path


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file, replacing what was there in one step.

    The new content is written beside the file, brought to the disk, and then takes the file's name. Text is
    stored as UTF-8 with its line breaks as they are. A link is followed, and the file's permissions are kept.
    What is no file, such as a pipe, is written to as it stands.

    Raises: OSError: it could not be written; whatever stood there before still does, and nothing is left
        beside it.
    """
    target = Path(os.path.realpath(path))
    encoded = content.encode("utf-8") if isinstance(content, str) else content
    if path.exists() and not path.is_file() and not path.is_dir():
        # A device or a pipe, such as /dev/stdout: a file in its place would take it from everybody.
        with path.open("wb") as stream:
            stream.write(encoded)
        return
    descriptor, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    beside = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(encoded)
            stream.flush()
            os.fsync(stream.fileno())
        beside.chmod(_permissions(target))
        beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    _settle(target.parent)


def _permissions(target: Path) -> int:
    """Those of the file that is replaced, or those that a new file gets here."""
    try:
        return stat.S_IMODE(target.stat().st_mode)
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _settle(folder: Path) -> None:
    """Bring the folder's entry to the disk too, where the system lets a folder be opened for that."""
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(descriptor)
    except OSError:
        pass
    finally:
        os.close(descriptor)
