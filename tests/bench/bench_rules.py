"""How many clauses of a rule are judged in a second, beside general-purpose rule engines on the same rule
and facts in the same run.

    python tests/bench/bench_rules.py

The rule has four clauses and is asked of a few hundred invented chains. Every engine must give the same
answers before any time is taken. Engines that are not installed are left out: none of them is needed for
anything else (pip install zen-engine rule-engine json-logic-qubit cel-python common-expression-language).
Figures of one machine mean little; the ratios mean something.

The engines know one way of judging; ours has a second one, which keeps the working and is used for
everything that is found.
"""

import subprocess
import sys
from collections.abc import Callable, Sequence
from itertools import product
from pathlib import Path
from time import perf_counter
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.language.small_rig import HERE, Rig, claimed, scope, thing

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, Choice
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.fast import compile_fast
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.parsing import parse

RULE = "attachment is wrap and distance_to_pipe_end < 12 in and keeper_bolt is not none and wraps >= 2"
CLAUSES = 4
LIMIT = 12 * 0.0254
PLAIN = [
    {"attachment": attachment, "distance": distance * 0.0254, "bolt": bolt, "wraps": float(wraps)}
    for attachment, distance, bolt, wraps in product(
        ("wrap", "wrap", "wrap", "clamp"),
        (3, 6, 9, 11, 12, 40),
        ("fitted", "fitted", "fitted", None),
        (1, 2, 2, 3),
    )
]
Judge = Callable[[], Sequence[bool]]
"""Answers for all chains."""


class Table:
    """Facts kept by thing and name, as the program keeps those that have been asked for."""

    today = 0.0

    def __init__(self, rows: dict[Thing, dict[str, object]]) -> None:
        self.rows = rows

    def exact(self, thing: Thing, name: str, /) -> object:
        return self.rows[thing][name]


def chains() -> list[Thing]:
    return [
        thing(
            "trim_chain",
            attachment=Choice(frozenset({str(row["attachment"])})),
            distance_to_pipe_end=Bounds.exactly(float(row["distance"] or 0)),
            keeper_bolt=Choice(frozenset({"fitted"})) if row["bolt"] else NONE,
            wraps=Bounds.exactly(float(row["wraps"] or 0)),
        )
        for row in PLAIN
    ]


def meaning() -> Meaning:
    checked = claimed(RULE, scope("trim_chain"))
    assert checked.meaning is not None
    return checked.meaning


def table(things: list[Thing]) -> Table:
    rows: dict[Thing, dict[str, object]] = {
        one: {
            "attachment": row["attachment"],
            "distance_to_pipe_end": row["distance"],
            "keeper_bolt": row["bolt"],
            "wraps": row["wraps"],
        }
        for one, row in zip(things, PLAIN, strict=True)
    }
    return Table(rows)


def ours_fast() -> Judge:
    things = chains()
    facts: Any = table(things)
    rule = compile_fast(meaning())
    return lambda: [rule(facts, one) for one in things]


def ours_careful() -> Judge:
    things, rig, meant = chains(), Rig(), meaning()
    return lambda: [evaluate(meant, rig, one).truth.value == "holds" for one in things]


def by_hand() -> Judge:
    """What a programmer would write for this one rule, with no unit, no unknown and no closeness at the
    limit.
    """
    things = chains()
    facts = table(things)

    def rule(this: Thing) -> bool:
        exact = facts.exact
        return (
            exact(this, "attachment") == "wrap"
            and exact(this, "distance_to_pipe_end") < LIMIT  # type: ignore[operator]  # a float in these rows
            and exact(this, "keeper_bolt") is not None
            and exact(this, "wraps") >= 2  # type: ignore[operator]  # a float in these rows
        )

    return lambda: [rule(one) for one in things]


def zen_engine() -> Judge:
    import zen  # type: ignore[import-not-found,unused-ignore]  # an extra

    text = f"attachment == 'wrap' and distance < {LIMIT!r} and bolt != null and wraps >= 2"
    rule = zen.compile_expression(text)
    return lambda: [rule.evaluate(row) for row in PLAIN]


def rule_engine() -> Judge:
    import rule_engine  # type: ignore[import-not-found,unused-ignore]  # an extra

    rule = rule_engine.Rule(f"attachment == 'wrap' and distance < {LIMIT!r} and bolt != null and wraps >= 2")
    return lambda: [rule.matches(row) for row in PLAIN]


def json_logic() -> Judge:
    from json_logic import jsonLogic  # type: ignore[import-not-found,unused-ignore]  # an extra

    rule = {
        "and": [
            {"==": [{"var": "attachment"}, "wrap"]},
            {"<": [{"var": "distance"}, LIMIT]},
            {"!=": [{"var": "bolt"}, None]},
            {">=": [{"var": "wraps"}, 2]},
        ]
    }
    return lambda: [jsonLogic(rule, row) for row in PLAIN]


CEL = f"attachment == 'wrap' && distance < {LIMIT!r} && bolt != null && wraps >= 2.0"


def cel_in_python() -> Judge:
    import celpy  # type: ignore[import-not-found,unused-ignore]  # an extra

    engine = celpy.Environment()
    program = engine.program(
        engine.compile(f"attachment == 'wrap' && distance < {LIMIT!r} && bolt != null && wraps >= 2.0")
    )
    rows = [{name: celpy.json_to_cel(value) for name, value in row.items()} for row in PLAIN]
    return lambda: [bool(program.evaluate(row)) for row in rows]


def cel_in_rust() -> Judge:
    import cel  # type: ignore[import-not-found,unused-ignore]  # an extra

    program = cel.compile(CEL)
    return lambda: [bool(program.execute(row)) for row in PLAIN]


ENGINES: dict[str, Callable[[], Judge]] = {
    "plumbtrue, fast way": ours_fast,
    "plumbtrue, careful way with its working": ours_careful,
    "plain Python by hand": by_hand,
    "zen-engine (Rust)": zen_engine,
    "rule-engine (Python)": rule_engine,
    "json-logic-qubit (Python)": json_logic,
    "common-expression-language (Rust)": cel_in_rust,
    "cel-python (Python)": cel_in_python,
}


def seconds(run: Callable[[], object], least: float = 0.4) -> float:
    """Best of the runs that fit into less than half a second, at least three."""
    times: list[float] = []
    while len(times) < 3 or sum(times) < least:
        start = perf_counter()
        run()
        times.append(perf_counter() - start)
    return min(times)


def start_up() -> str:
    """Import of everything that reads and judges a rule, and the first rule read, in a process of its own."""
    code = (
        "from time import perf_counter as t; a = t();"
        "import plumbtrue.rules.language.texts, plumbtrue.rules.language.fast;"
        "from plumbtrue.rules.language.parsing import parsed; b = t();"
        f"parsed({RULE!r}); c = t();"
        "print(f'{(b - a) * 1e3:.0f} ms to import, {(c - b) * 1e3:.1f} ms to the first rule')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def main() -> None:
    expected = list(by_hand()())
    # Exactly 12 in is not under 12 in for anybody; the hand-written rule and the engines see the same float.
    times: dict[str, float] = {}
    for name, prepare in ENGINES.items():
        try:
            judge = prepare()
        except ImportError:
            print(f"{name:42} not installed")
            continue
        assert list(map(bool, judge())) == expected, name
        times[name] = seconds(judge) / len(PLAIN)
    ours = times["plumbtrue, fast way"]
    for name, taken in times.items():
        print(
            f"{name:42} {taken * 1e6:9.2f} us a rule {CLAUSES / taken:14,.0f} clauses/s {taken / ours:9.1f} x"
        )
    print(f"start: {start_up()}")
    meant = meaning()
    steps: dict[str, Callable[[], object]] = {
        "parse": lambda: parse(RULE, HERE),
        "parse and check": meaning,
        "compile": lambda: compile_fast(meant),
    }
    print(", ".join(f"{name} {seconds(step) * 1e6:.0f} us" for name, step in steps.items()))


if __name__ == "__main__":
    main()
