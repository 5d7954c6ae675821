"""A file of rules, read into values. Every expression and text is checked in the scope of its own rule."""

import re
from collections.abc import Iterable
from collections.abc import Mapping as PlainMapping
from typing import Final

from plumbtrue.documents.nodes import Mapping, Node, Scalar, problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rules.language.nodes import Expression
from plumbtrue.rules.packs.bibliography import Work, read_citations
from plumbtrue.rules.packs.form import Form, suggestion
from plumbtrue.rules.packs.parameters import read_parameters
from plumbtrue.rules.packs.understanding import Surroundings, parse_scalar, read_clause, understand
from plumbtrue.rules.rule import Clause, Origin, Parameter, Rule
from plumbtrue.rules.severity import Severity

_SEVERITIES: Final = tuple(severity.value for severity in Severity)
_SLUG: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@unchanging
class PackSoFar:
    """The pack that a rule belongs to, as far as it has been read."""

    name: str
    works: PlainMapping[str, Work]
    around: Surroundings


@unchanging
class Said:
    """The part of a rule that has to be understood, before it is."""

    kinds: frozenset[str]
    parameters: PlainMapping[str, Parameter]
    let: tuple[tuple[str, Expression], ...]
    when: tuple[Clause, ...]
    require: tuple[Clause, ...]
    finding: Scalar
    remedy: Scalar
    also_when: tuple[Clause, ...] = ()
    unless: tuple[Clause, ...] = ()


def read_rules(
    items: Iterable[Node], pack: PackSoFar, problems: list[Problem], *, examples: bool = True
) -> tuple[Rule, ...]:
    """The rules of one file, with every problem noted. One that means nothing is left out.

    Args:
        examples: whether their examples were read.
    """
    found = (_read_rule(item, pack, problems, examples=examples) for item in items)
    return tuple(rule for rule in found if rule is not None)


def _read_rule(item: Node, pack: PackSoFar, problems: list[Problem], *, examples: bool) -> Rule | None:
    if not isinstance(item, Mapping):
        instead = "write - rule: and its name, and the rest below it"
        problems.append(problem_with(item, "value-of-wrong-form", "a rule is a map", instead))
        return None
    written = item.get("rule")
    form = Form(item, f"the rule {written.text}" if isinstance(written, Scalar) else "a rule", problems)
    origin = Origin(pack.name, "rule", item.place)
    said = _said(form, pack.around.vocabulary, origin)
    understood = None if said is None else understand(said, pack.around, problems)
    slug = _slug(form)
    about = form.text("about").replace("-", "_")
    severity = form.word("severity", _SEVERITIES, wanted=True)
    relaxing = form.word("relaxing", ("forbidden", "allowed"))
    title, why = form.text("title", wanted=True), form.text("why")
    citations = read_citations(form.items("source", wanted=True), pack.works, form.what, problems)
    supersedes = tuple(one.text for one in form.scalars("supersedes"))
    formerly = tuple(one.text for one in form.scalars("formerly"))
    cases, kept = _examples(form), _kept(form)
    form.finish()
    if severity is None or said is None or understood is None:
        return None
    return Rule(
        slug=slug,
        title=title,
        about=about,
        kinds=said.kinds,
        parameters=said.parameters,
        let=said.let,
        when=said.when,
        also_when=said.also_when,
        unless=said.unless,
        require=said.require,
        severity=Severity(severity),
        finding=said.finding,
        remedy=said.remedy,
        why=why,
        citations=citations,
        examples=cases if examples else None,
        alterations_kept=kept,
        supersedes=supersedes,
        formerly=formerly,
        forbids_relaxing=relaxing == "forbidden",
        pack=pack.name,
        place=item.place,
        origins=_origins(item, origin),
        understood=understood,
    )


def _said(form: Form, vocabulary: Vocabulary, origin: Origin) -> Said | None:
    """What must be understood; nothing where too much of it is missing to tell what was meant."""
    kinds = _kinds(form, vocabulary)
    limits = form.mapping("parameters")
    parameters = read_parameters(limits, origin, form.problems) if limits is not None else {}
    lets = _lets(form)
    when, require = form.scalar("when"), form.scalar("require", wanted=True)
    finding, remedy = form.scalar("finding", wanted=True), form.scalar("remedy", wanted=True)
    applies = None if when is None else read_clause(when, origin, form.problems)
    demand = None if require is None else read_clause(require, origin, form.problems)
    if not kinds or demand is None or finding is None or remedy is None:
        return None
    return Said(kinds, parameters, lets, (applies,) if applies else (), (demand,), finding, remedy)


def _lets(form: Form) -> tuple[tuple[str, Expression], ...]:
    lets: list[tuple[str, Expression]] = []
    for name, written in form.mapping("let") or ():
        if not isinstance(written, Scalar):
            what = f"{name.text} under let is one expression"
            form.problem("value-of-wrong-form", written.place, what, f"write {name.text}: and it")
        elif (expression := parse_scalar(written, form.problems)) is not None:
            lets.append((name.text, expression))
    return tuple(lets)


def _slug(form: Form) -> str:
    """The rule's name: small letters, digits and hyphens, since it is typed at a command line and searched
    for.
    """
    written = form.scalar("rule", wanted=True)
    if written is None:
        return ""
    if not _SLUG.fullmatch(written.text):
        instead = "write small letters, digits and hyphens, such as keeper-bolt-missing"
        form.problem(
            "rule-name",
            written.place,
            f"{written.text} cannot name a rule",
            instead,
            length=len(written.text),
        )
    return written.text


def _kinds(form: Form, vocabulary: Vocabulary) -> frozenset[str]:
    about = form.scalar("about", wanted=True)
    if about is None:
        return frozenset()
    kinds = vocabulary.kinds_of(about.text)
    if not kinds:
        form.problem(
            "kind-unknown",
            about.place,
            f"there is no kind or class of things {about.text}",
            suggestion(
                about.text, [name.replace("_", "-") for name in (*vocabulary.kinds, *vocabulary.classes)]
            ),
            length=len(about.text),
        )
    return kinds


def _examples(form: Form) -> tuple[Mapping, ...]:
    """Examples as written. They are read when they are run; here only their form is looked at."""
    examples = []
    for item in form.items("examples"):
        if isinstance(item, Mapping):
            examples.append(item)
        else:
            form.problem(
                "value-of-wrong-form", item.place, "an example is a map", "write {outcome: met, and facts: …}"
            )
    return tuple(examples)


def _kept(form: Form) -> tuple[tuple[str, str], ...]:
    """Alterations that leave the rule what it is, so that no example can notice, each with its reason."""
    kept = []
    for item in form.items("alterations_kept"):
        if not isinstance(item, Mapping):
            form.problem(
                "value-of-wrong-form",
                item.place,
                "an alteration is a map",
                "write {alteration: …, reason: …}",
            )
            continue
        inner = Form(item, "an alteration", form.problems)
        kept.append((inner.text("alteration", wanted=True), inner.text("reason", wanted=True)))
        inner.finish()
    return tuple(kept)


def _origins(item: Mapping, origin: Origin) -> dict[str, Origin]:
    """What set each part that is written: the rule itself, at the place of the part."""
    origins = {key.text: Origin(origin.pack, "rule", key.place) for key, _ in item}
    parameters = item.get("parameters")
    if isinstance(parameters, Mapping):
        origins.update(
            {f"parameters.{key.text}": Origin(origin.pack, "rule", key.place) for key, _ in parameters}
        )
    return origins
