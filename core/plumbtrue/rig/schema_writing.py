"""Makes the files in `schemas/` that follow from `schemas/vocabulary/`.

`python -m plumbtrue.rig.schema_writing` writes them anew: `vocabulary.json`, which the program loads, and
the JSON Schemas of rig and plot files, by which an editor completes and checks.
"""

import json
from pathlib import Path
from typing import Any

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.rig.json_schema import plot_schema, rig_schema
from plumbtrue.rig.vocabulary_files import read_vocabulary_folder
from plumbtrue.rig.vocabulary_loading import build_vocabulary

COMMENT = (
    "Made from schemas/vocabulary/ by `python -m plumbtrue.rig.schema_writing`: change those files, not this."
)


def generated_files(vocabulary_folder: Path) -> dict[str, str]:
    """Name and content of every file that follows from the vocabulary.

    Raises:
        CannotRead: a file of the vocabulary cannot be read.
        ValueError: its files contradict each other.
    """
    data = read_vocabulary_folder(vocabulary_folder)
    vocabulary = build_vocabulary(data)
    return {
        "vocabulary.json": _as_text(data, 3),
        "rig-1.schema.json": _as_text(rig_schema(vocabulary), 2),
        "plot-1.schema.json": _as_text(plot_schema(vocabulary), 2),
    }


def _as_text(data: dict[str, Any], depth: int) -> str:
    return _written_out({"$comment": COMMENT, **data}, depth) + "\n"


def _written_out(data: Any, depth: int) -> str:
    """JSON with one entry a line down to a depth: small enough to load fast, and a change is one line to
    compare.
    """
    if depth == 0 or not isinstance(data, dict) or not data:
        return json.dumps(data, ensure_ascii=False)
    entries = (f"{json.dumps(key)}: {_written_out(value, depth - 1)}" for key, value in data.items())
    return "{\n" + ",\n".join(entries) + "\n}"


def main() -> None:
    """Write every generated file into `schemas/`."""
    schemas = data_folder("schemas")
    for name, text in generated_files(schemas / "vocabulary").items():
        (schemas / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
