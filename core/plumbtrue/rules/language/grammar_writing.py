"""Writes `grammar_table.json`, the table that the parser runs on, from `grammar.lark`.

Run `python -m plumbtrue.rules.language.grammar_writing` after changing the grammar; a test holds the table
fresh and has the library parse the same texts as a check. The table is stored because the library's import
and its analysis take some 60 ms of every start, the table one. Nothing but this module imports the library.
"""

import json
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
GRAMMAR = FOLDER / "grammar.lark"
TABLE = FOLDER / "grammar_table.json"


def grammar_table(grammar: str) -> dict[str, Any]:
    """The LALR(1) table of a grammar, as plain data.

    `productions` holds, for each, the name of its left side, how many symbols it takes, which of them its
    builder gets, and the builder's name (none where a single child is handed on as it is). `states` maps
    the name of the next symbol to a state to go to (0 and up) or a production to reduce, counted from -1
    downward.

    Raises:
        lark.exceptions.GrammarError: the grammar is ambiguous to a parser that looks one token ahead.
    """
    from lark import Lark
    from lark.parsers.lalr_analysis import Shift

    library = Lark(grammar, parser="lalr", maybe_placeholders=False, strict=False)
    table: Any = library.parser.parser._parse_table
    order = _numbered(table)
    rules = sorted(
        {arg for row in table.states.values() for action, arg in row.values() if action is not Shift},
        key=lambda rule: (rule.origin.name, [symbol.name for symbol in rule.expansion]),
    )
    number = {rule: -index for index, rule in enumerate(rules, start=1)}
    return {
        "made_by": "python -m plumbtrue.rules.language.grammar_writing",
        "start": order[table.start_states["start"]],
        "end": order[table.end_states["start"]],
        "terminals": _terminals(library),
        "productions": [_production(rule) for rule in rules],
        "states": [
            {
                name: order[arg] if action is Shift else number[arg]
                for name, (action, arg) in sorted(table.states[state].items())
            }
            for state in order
        ],
    }


def _numbered(table: Any) -> dict[Any, int]:
    """The states that can be reached, numbered in an order that does not depend on the library's sets."""
    order: dict[Any, int] = {}
    waiting = [table.start_states["start"]]
    while waiting:
        state = waiting.pop(0)
        if state in order:
            continue
        order[state] = len(order)
        waiting.extend(
            arg
            for _, (_, arg) in sorted(table.states[state].items())
            if arg in table.states and arg not in order
        )
    return order


def _production(rule: Any) -> list[Any]:
    kept = [
        index for index, symbol in enumerate(rule.expansion) if not (symbol.is_term and symbol.filter_out)
    ]
    hands_on = rule.alias is None and (rule.options.expand1 or rule.origin.name == "start") and len(kept) == 1
    return [rule.origin.name, len(rule.expansion), kept, None if hands_on else rule.alias or rule.origin.name]


def _terminals(library: Any) -> dict[str, dict[str, str]]:
    """Patterns by name, and the words and marks that stand for themselves."""
    patterns = {one.name: one.pattern for one in library.terminals if not one.name.startswith("__")}
    fixed = {
        name: pattern.value for name, pattern in patterns.items() if type(pattern).__name__ == "PatternStr"
    }
    return {
        "fixed": fixed,
        "patterns": {name: pattern.value for name, pattern in patterns.items() if name not in fixed},
    }


def as_text(table: dict[str, Any]) -> str:
    """The table as it is stored: one state or production a line, so that a change shows where it is."""
    parts = []
    for key, said in table.items():
        if isinstance(said, list):
            lines = ",\n".join("  " + json.dumps(entry, separators=(",", ":")) for entry in said)
            parts.append(f' "{key}": [\n{lines}\n ]')
        else:
            parts.append(f' "{key}": {json.dumps(said)}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


def main() -> None:
    """Writes the table beside the grammar."""
    TABLE.write_text(as_text(grammar_table(GRAMMAR.read_text(encoding="utf-8"))), encoding="utf-8")


if __name__ == "__main__":
    main()
