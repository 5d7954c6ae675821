"""The page at the door of the mechanics names every module, so that nobody writes one twice."""

import re
from pathlib import Path

import plumbtrue.mechanics as mechanics


def test_every_module_has_its_line_in_the_list() -> None:
    assert mechanics.__doc__ is not None
    listed = re.findall(r"^\* `(\w+)` ", mechanics.__doc__, re.MULTILINE)
    modules = sorted(
        path.stem for path in Path(mechanics.__path__[0]).glob("*.py") if path.stem != "__init__"
    )
    assert sorted(listed) == modules
