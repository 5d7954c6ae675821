"""From the text of an expression to its tree. The parser knows no rig: names are only names here.

It runs on `grammar_table.json` (see `grammar_writing`): a stack, a table and one function for each way of
building a node.
"""

import json
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path as FilePath
from typing import Any, Final, cast

from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.language.limits import DEEPEST, LONGEST, MOST_NESTED, MOST_NODES
from plumbtrue.rules.language.nodes import (
    AgeOf,
    And,
    Arithmetic,
    Call,
    Comparison,
    Count,
    DaysSince,
    Expression,
    Figure,
    Includes,
    Is,
    IsKnown,
    IsNone,
    LookUp,
    Minus,
    Not,
    OneOf,
    OneOfNamed,
    Operator,
    Or,
    Ordering,
    Path,
    Quantified,
    Quantifier,
    Quoted,
    Same,
    Total,
    Within,
    Word,
    inside,
)
from plumbtrue.rules.language.nodes import (
    Gathering as GatheringWord,
)
from plumbtrue.rules.language.scanning import END, Scanner, Stray, Token

_TABLE_FILE: Final = FilePath(__file__).with_name("grammar_table.json")


def parse(text: str, place: Place) -> Expression | Problem:
    """The expression that a text says, or what is wrong with it.

    Args:
        text: the expression.
        place: where its first character stands. On a text of several lines the columns of later lines are
        counted in the text itself.
    """
    if len(text) > LONGEST:
        return Problem(
            "expression-too-long",
            place,
            f"an expression may have {LONGEST} characters, and this one has {len(text)}",
            "give parts of it names under let:",
        )
    found = _Parser(text, place).run()
    if isinstance(found, Problem):
        return found
    return _too_large(found) or found


def parsed(text: str) -> Expression:
    """An expression of our own, known to be right.

    Raises:
        ValueError: it is not.
    """
    found = parse(text, Place("", 1, 1))
    if isinstance(found, Problem):
        raise ValueError(f"{found.where}: {found.what}")
    return found


@unchanging
class _Production:
    """How the symbols on top of the stack become one. Without a builder the single child that counts is
    handed on as it is.
    """

    makes: str
    takes: int
    kept: tuple[int, ...]
    build: "Callable[[_Parser, list[Any], Place], Any] | None"


@unchanging
class _Table:
    start: int
    end: int
    states: tuple[Mapping[str, int], ...]
    productions: tuple[_Production, ...]
    scanner: Scanner


@cache
def _table() -> _Table:
    stored = json.loads(_TABLE_FILE.read_text(encoding="utf-8"))
    return _Table(
        start=stored["start"],
        end=stored["end"],
        states=tuple(stored["states"]),
        productions=tuple(
            _Production(makes, takes, tuple(kept), None if builder is None else _BUILDERS[builder])
            for makes, takes, kept, builder in stored["productions"]
        ),
        scanner=Scanner(stored["terminals"]["fixed"], stored["terminals"]["patterns"]),
    )


class _Parser:
    """One text while it is parsed."""

    def __init__(self, text: str, place: Place) -> None:
        self.text = text
        self.place = place
        self.one_line = "\n" not in text

    def at(self, position: int) -> Place:
        if not self.one_line:
            before = self.text[:position]
            lines = before.count("\n")
            if lines:
                return Place(self.place.file, self.place.line + lines, position - before.rfind("\n"))
        return Place(self.place.file, self.place.line, self.place.column + position)

    def run(self) -> Expression | Problem:
        table = _table()
        states, productions = table.states, table.productions
        path = [table.start]
        values: list[Any] = []
        starts: list[int] = []
        position = 0
        while True:
            token = table.scanner.next_token(self.text, position, states[path[-1]])
            if isinstance(token, Stray):
                return self._stray(token)
            while (step := states[path[-1]].get(token.name)) is not None and step < 0:
                production = productions[-step - 1]
                count, build = production.takes, production.build
                if count == 1 and build is None:
                    path[-1] = states[path[-2]][production.makes]
                    continue
                children = values[len(values) - count :]
                start = starts[-count] if count else token.start
                if count:
                    del path[-count:], values[-count:], starts[-count:]
                kept = [children[index] for index in production.kept]
                path.append(states[path[-1]][production.makes])
                values.append(kept[0] if build is None else build(self, kept, self.at(start)))
                starts.append(start)
            if token.name == END and path[-1] == table.end:
                return cast(Expression, values[-1])
            if step is None:
                return self._cannot_stand(token, states[path[-1]])
            path.append(step)
            values.append(token)
            starts.append(token.start)
            position = token.start + len(token.text)

    def _stray(self, stray: Stray) -> Problem:
        mark = stray.text[0]
        advice = {
            '"': 'close the quotes: "…"',
            "'": "close the quotes: '…'",
            "&": "join claims with and",
            "|": "join claims with or",
            "!": "write not, or != between two figures",
            "≤": "write <=",
            "≥": "write >=",
            "≠": "write !=",
            "×": "write *",
            "−": "write the hyphen of the keyboard for a minus",
            "{": "expressions stand in braces only inside texts",
        }.get(mark, "write it with letters, digits and the marks that rules know")
        return Problem(
            "expression-unreadable", self.at(stray.start), f"“{stray.text}” means nothing in a rule", advice
        )

    def _cannot_stand(self, token: Token, wanted: Mapping[str, int]) -> Problem:
        where = self.at(token.start)
        length = max(1, len(token.text))
        after = self.text[: token.start].split()
        last = after[-1] if after else ""
        if token.name == END:
            what = f"the expression breaks off after “{last}”" if last else "there is nothing written here"
        else:
            what = f"“{token.text}” cannot stand here"
        return Problem("expression-unreadable", where, what, _advice(token, last, wanted), length)


def _advice(token: Token, last: str, wanted: Mapping[str, int]) -> str:
    if token.text == "=" and last.endswith("="):
        return "write one = to ask whether two are equal"
    if "WORD" in wanted:
        return "a word is wanted here, such as none, known, or a word of the fact's list"
    if last in ("has", "where") and "LPAR" in wanted:
        return f"put what follows {last} in brackets: {last} (…)"
    if wanted.keys() == {"IN"}:
        return "write in and the list: every line in lift_lines has (…)"
    if wanted.keys() == {"FOR"} or ("FOR" in wanted and token.name != "FOR" and "AND" not in wanted):
        return "write for, a name, in and the list: sum of w.weight for w in weights"
    if token.name == END and "RPAR" in wanted:
        return "close the bracket: )"
    if "NAME" in wanted and "LITERAL" in wanted:
        return "a fact, a figure with its unit, or something in brackets is wanted here"
    if "NAME" in wanted:
        return "a name is wanted here"
    if "AND" in wanted:
        return "join claims with and / or, compare with < <= > >= =, test with is / in / includes"
    fixed = sorted(_table_words() & wanted.keys())
    return (
        f"wanted here: {', '.join(fixed).lower()}"
        if fixed
        else "`plumbtrue explain expression` shows what can be written"
    )


def _table_words() -> frozenset[str]:
    return frozenset({"IN", "FOR", "HAS", "WHERE", "IS"})


def _too_large(expression: Expression) -> Problem | None:
    """What is wrong with the size of an expression, found without going deeper than allowed."""
    nodes = 0
    waiting: list[tuple[Expression, int, int]] = [(expression, 1, 0)]
    while waiting:
        one, depth, nested = waiting.pop()
        nodes += 1
        if isinstance(one, OneOf):
            nodes += len(one.words)
        nested += isinstance(one, Quantified | Same | Count | Total)
        if depth > DEEPEST:
            what = f"expressions stand more than {DEEPEST} deep inside one another"
        elif nodes > MOST_NODES:
            what = f"an expression may have {MOST_NODES} parts, and this one has more"
        elif nested > MOST_NESTED:
            what = f"every, some, sum and count stand more than {MOST_NESTED} deep inside one another"
        else:
            waiting.extend((part, depth + 1, nested) for part in inside(one))
            continue
        return Problem("expression-too-large", one.place, what, "give parts of it names under let:")
    return None


def _negated(cls: Any, negated: bool) -> Callable[[_Parser, list[Any], Place], Any]:
    return lambda parser, kept, place: cls(*kept, negated, place)


def _word(parser: _Parser, kept: list[Any], place: Place) -> Word:
    return Word(kept[0].text, place)


def _quoted(parser: _Parser, kept: list[Any], place: Place) -> Quoted:
    return Quoted(kept[0].text[1:-1], place)


def _figure(parser: _Parser, kept: list[Any], place: Place) -> Figure:
    return Figure(" ".join(kept[0].text.split()), place)


def _call(parser: _Parser, kept: list[Any], place: Place) -> Call:
    return Call(kept[0].text, tuple(kept[1]), place)


def _arithmetic(parser: _Parser, kept: list[Any], place: Place) -> Arithmetic:
    return Arithmetic(cast(Operator, kept[1].text), kept[0], kept[2], place)


def _comparison(parser: _Parser, kept: list[Any], place: Place) -> Comparison:
    return Comparison(cast(Ordering, kept[1].text), kept[0], kept[2], place)


def _quantified(parser: _Parser, kept: list[Any], place: Place) -> Quantified:
    quantifier, variable, several, where, condition = kept
    return Quantified(cast(Quantifier, quantifier.text), variable.text, several, where, condition, place)


def _total(parser: _Parser, kept: list[Any], place: Place) -> Total:
    gathering, operand, variable, several, where = kept
    return Total(
        cast(GatheringWord, gathering.text.split()[0]), operand, variable.text, several, where, place
    )


_BUILDERS: Final[dict[str, Callable[[_Parser, list[Any], Place], Any]]] = {
    "either": lambda parser, kept, place: Or(tuple(kept[0]), place),
    "both": lambda parser, kept, place: And(tuple(kept[0]), place),
    "negation": lambda parser, kept, place: Not(kept[0], place),
    "begin": lambda parser, kept, place: [kept[0], kept[1]],
    "begin_one": lambda parser, kept, place: [kept[0]],
    "go_on": lambda parser, kept, place: [*kept[0], kept[1]],
    "comparison": _comparison,
    "is_none": _negated(IsNone, False),
    "is_not_none": _negated(IsNone, True),
    "is_known": _negated(IsKnown, False),
    "is_not_known": _negated(IsKnown, True),
    "is_word": _negated(Is, False),
    "is_not_word": _negated(Is, True),
    "in_words": lambda parser, kept, place: OneOf(kept[0], tuple(kept[1]), False, place),
    "not_in_words": lambda parser, kept, place: OneOf(kept[0], tuple(kept[1]), True, place),
    "in_named": _negated(OneOfNamed, False),
    "not_in_named": _negated(OneOfNamed, True),
    "includes": _negated(Includes, False),
    "excludes": _negated(Includes, True),
    "within": lambda parser, kept, place: Within(kept[0], place),
    "quantified": _quantified,
    "same": lambda parser, kept, place: Same(kept[0], kept[1].text, kept[2], kept[3], place),
    "word": _word,
    "quoted": _quoted,
    "look_up": lambda parser, kept, place: LookUp(kept[1].text, kept[2].text, tuple(kept[3]), place),
    "key": lambda parser, kept, place: (kept[0].text, kept[1]),
    "arithmetic": _arithmetic,
    "minus": lambda parser, kept, place: Minus(kept[1], place),
    "age": lambda parser, kept, place: AgeOf(kept[1], place),
    "days_since": lambda parser, kept, place: DaysSince(kept[1], place),
    "literal": _figure,
    "call": _call,
    "count": lambda parser, kept, place: Count(kept[1].text, kept[2], kept[3], place),
    "total": _total,
    "begin_path": lambda parser, kept, place: Path((kept[0].text,), place),
    "go_on_path": lambda parser, kept, place: Path((*kept[0].steps, kept[1].text), place),
    "no_where": lambda parser, kept, place: None,
    "where": lambda parser, kept, place: kept[0],
}
