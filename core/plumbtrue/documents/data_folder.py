"""Where the data that comes with the program lies: rule packs, schemas and report templates."""

from pathlib import Path
from typing import Literal

import plumbtrue

DataFolder = Literal["rulepacks", "schemas", "reports"]


def data_folder(name: DataFolder) -> Path:
    """The folder of that name: inside the package when installed from a wheel, beside `core/` in a checkout.

    Raises:
        FileNotFoundError: neither is there, so the installation is broken.

    >>> data_folder("schemas").name
    'schemas'
    """
    package = Path(plumbtrue.__file__).resolve().parent
    candidates = (package / "_data" / name, package.parents[1] / name)
    for candidate in candidates:
        if candidate.is_dir():
            return candidate
    tried = " and ".join(str(candidate) for candidate in candidates)
    raise FileNotFoundError(f"the folder {name!r} that comes with plumbtrue is missing; looked in {tried}")
