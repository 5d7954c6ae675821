"""Makes the files in `schemas/` that follow from `schemas/vocabulary/`.

`python -m plumbtrue.rig.schema_writing` writes them anew: `vocabulary.json`, which the program loads, and
the JSON Schemas of rig and plot files, by which an editor completes and checks.
"""

import json
from pathlib import Path
from typing import Any

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.rig.vocabulary_files import read_vocabulary_folder
from plumbtrue.rig.vocabulary_loading import build_vocabulary

COMMENT = "Made by `python -m plumbtrue.rig.schema_writing` from schemas/vocabulary/. Change those files, not this one."


def generated_files(vocabulary_folder: Path) -> dict[str, str]:
    """Name and content of every file that follows from the vocabulary."""
    data = read_vocabulary_folder(vocabulary_folder)
    build_vocabulary(data)
    return {"vocabulary.json": _as_text({"$comment": COMMENT, **data}, indent=0)}


def _as_text(data: Any, indent: int) -> str:
    return json.dumps(data, indent=indent, ensure_ascii=False) + "\n"


def main() -> None:
    """Write every generated file into `schemas/`."""
    schemas = data_folder("schemas")
    for name, text in generated_files(schemas / "vocabulary").items():
        (schemas / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
