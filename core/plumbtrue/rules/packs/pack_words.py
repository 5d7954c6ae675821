"""The words of a pack's files: what each says, and how it is written, for whoever writes house rules.

The form of an expression is described once, in `language/grammar.lark`; here stand examples of each of its turns.
"""

from typing import Final, NamedTuple


class PackWord(NamedTuple):
    """A word of a pack's files, or of an acceptance, with examples that can be copied."""

    says: str
    examples: tuple[str, ...]


PACK_WORDS: Final[dict[str, PackWord]] = {
    "pack": PackWord(
        "A folder of rules: pack.yaml on top, rules/SUBJECT.yaml, tables/ where there are any, and adjustments.yaml "
        "for what it changes in the packs below. A house names it under rule_packs.",
        ("rule_packs: [practice, ./house-rules]",),
    ),
    "rule": PackWord(
        "One matter that is judged: rule (its lasting name), title, about, parameters, let, when, require, severity, "
        "finding, remedy, why, source, examples. A file under rules/ is a list of them.",
        ("- rule: hall-rope-age",),
    ),
    "parameters": PackWord(
        "Limits of a rule by name, each with value and meaning, and which way is stricter. A later pack may set them.",
        ("parameters: {interval: {value: 10 years, meaning: longest time in use, stricter: less}}",),
    ),
    "let": PackWord(
        "Values of a rule by name, used below it like facts.", ("let: {left: capacity - carried}",)
    ),
    "when": PackWord("When a rule applies, as an expression; left out: to every thing that it is about.", ()),
    "require": PackWord(
        "What must hold, as an expression. What nobody knows makes it undetermined, never met.", ()
    ),
    "expression": PackWord(
        "What when:, require: and unless: are written in. Facts by name, those of what it sits in or holds behind a "
        "dot; `plumbtrue explain line-set` lists the facts of a line set.",
        (
            "age <= 10 years",
            "family is wire and corrosion not in [pitted, wasted]",
            "posted_total is not none and posted_total <= 2 * pull_to_raise",
            "arbor.capacity is known or age of reconditioned <= 10 years",
            "count of line in lift_lines where (line.tension is slack) <= 1",
            "every line in lift_lines has (some p in line.lower has (p is trim_chain))",
            "sum of w.count * w.brick.weight for w in weights where (w.held is loose) <= 50 lb",
            "same line.rope.diameter for line in lift_lines",
        ),
    ),
    "supersedes": PackWord(
        "Rules that keep silent where this one finds something.", ("supersedes: [rope-age]",)
    ),
    "severity": PackWord(
        "What must happen, and by when: out-of-service, before-next-use, next-maintenance or advisory.",
        ("severity: before-next-use",),
    ),
    "finding": PackWord(
        "What was found, with its numbers: facts, parameters and values of let: in braces.",
        ('finding: "The rope is {age} old; {interval} is the most."',),
    ),
    "examples": PackWord(
        "Cases with their outcome: met, finding, undetermined, not-applicable. `plumbtrue pack test` runs them, alters "
        "the rule and names each alteration that none of them notices.",
        ("examples: [{outcome: finding, on: 2026-01-01, family: wire, installed: 2015-12-31}]",),
    ),
    "adjustment": PackWord(
        "What a pack changes in a rule below: set, tighten, relax or retire, one of them, in adjustments.yaml.",
        ("- {rule: rope-age, set: {interval: 8 years}, reason: salt air, decided_by: head of flys}",),
    ),
    "set": PackWord(
        "Parameters of a rule below, by name.", ("- {rule: lock-slips, set: {test_pull: 50 lb}}",)
    ),
    "tighten": PackWord(
        "Asks more of a rule below: a graver severity, also_require (a further demand, with finding: and remedy: of "
        "its own), also_when (a wider reach), or parameters.",
        ("- {rule: rope-age, tighten: {severity: before-next-use}}",),
    ),
    "relax": PackWord(
        "Asks less of a rule below: a milder severity, unless (cases to leave alone), or parameters. It needs reason, "
        "decided_by and decided_on; until is its last day.",
        (
            "- {rule: rope-age, relax: {severity: advisory}, reason: new in May, decided_by: head of flys, "
            "decided_on: 2026-03-02, until: 2026-06-01}",
        ),
    ),
    "retire": PackWord(
        "Takes a rule below out of force. It needs reason, decided_by and decided_on; until is its last day.",
        ("- {rule: rope-age, retire: yes, reason: …, decided_by: …, decided_on: 2026-03-02}",),
    ),
    "waiver": PackWord(
        "One finding at one place that somebody accepts until a day, with the state that was accepted. It changes "
        'no rule. It stands in a file given with --waivers; `plumbtrue explain "RULE @ THING" --house HOUSE` prints '
        "it, ready to fill in.",
        ("plumbtrue: waivers/1",),
    ),
}
