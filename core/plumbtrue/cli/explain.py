"""`plumbtrue explain`: anything that a report names, by itself."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from plumbtrue.cli import options
from plumbtrue.cli.days import Day

if TYPE_CHECKING:
    from plumbtrue.audit.auditing import Audit
    from plumbtrue.quantities.writing import System
    from plumbtrue.rig.thing import Thing


@click.command()
@click.argument("what", nargs=-1, required=True, metavar="WHAT")
@click.option("--house", metavar="FILE", help="The house that it is about; facts and findings need one.")
@click.option("--plot", metavar="FILE", help="Lay this plot of a show over the house.")
@click.option("--pack", "packs", multiple=True, metavar="PACK", help="Judge by this pack. Repeatable.")
@click.option("--on", metavar="DATE", type=Day(), help="As of this day.  [default: today]")
@options.no_plugins
def explain(
    what: tuple[str, ...],
    house: str | None,
    plot: str | None,
    packs: tuple[str, ...],
    on: datetime | None,
    no_plugins: bool,
) -> None:
    """Explain anything that a report names.

    \b
    WHAT is one of
      a rule            clip-malleable
      a fact            "14 / line 3 : reaction"          (with --house; of a show with --plot too)
      a finding         "clip-malleable @ 14 / line 3 / lower / wire-rope-clips"   (with --house)
      a kind of message unit-missing
      a kind of thing   trim-chain
      a fact's name     corrosion
      a word            hemp
      a key of the file like

    Example: plumbtrue explain "14 / line 3 : reaction" --house fixtures/demo/house.yaml
    """
    asked = " ".join(what).strip()
    day = on.date() if on is not None else date.today()
    if " : " in asked or " @ " in asked:
        if house is None:
            raise click.UsageError("a fact or a finding belongs to a house: name its file with --house FILE")
        lines = _in_house(asked, _audit(house, plot, packs, day, third_party=not no_plugins))
    else:
        lines = _by_name(asked, house, packs, day, third_party=not no_plugins)
    click.echo("\n".join(lines))


def _audit(house: str, plot: str | None, packs: tuple[str, ...], day: date, *, third_party: bool) -> "Audit":
    from plumbtrue.cli.houses import Wanted, checked

    shown = None if plot is None else Path(plot)
    (only,) = checked([house], Wanted(day, packs, (), third_party, plot=shown))
    if only.audit is None:
        assert only.failure is not None, "a house without an audit says why"
        raise only.failure
    return only.audit


def _in_house(asked: str, audit: "Audit") -> Iterator[str]:
    """A fact of a thing, or what a rule said about one."""
    from plumbtrue.facts.store import Facts
    from plumbtrue.reporting.explanations import fact_text, outcome_text

    facts = Facts(audit.rig, audit.on, audit.further)
    if " : " in asked:
        path, _, name = asked.rpartition(" : ")
        thing = _thing(path, audit)
        fact = name.strip().replace(" ", "_").replace("-", "_")
        if fact not in thing.kind.facts:
            raise click.UsageError(_no_such("fact", name, thing.kind.facts))
        yield from fact_text(thing, fact, facts, cast("System", audit.rig.units))
        return
    from dataclasses import replace

    from plumbtrue.audit.first_to_weigh import of_outcome
    from plumbtrue.audit.offered_state import waiver_text
    from plumbtrue.audit.working import working_of
    from plumbtrue.reporting.building import working_lines

    slug, _, path = asked.partition(" @ ")
    thing, rule = _thing(path, audit), audit.rulebook.rule(slug.strip())
    if rule is None:
        raise click.UsageError(_no_such("rule", slug, [one.slug for one in audit.rulebook.rules]))
    for outcome in audit.outcomes:
        if outcome.rule == rule.slug and outcome.thing is thing:
            found = working_of(outcome, audit, facts)
            offer = waiver_text(outcome, rule, facts) if outcome.counts else ""
            ranked = replace(outcome, missing=tuple(one.as_missing for one in of_outcome(outcome, audit)))
            yield from outcome_text(ranked, found.place, working_lines(found), audit.rulebook, offer)
            return
    raise click.UsageError(f"the rule {rule.slug} is not about {thing.path}")


def _thing(path: str, audit: "Audit") -> "Thing":
    from plumbtrue.rig.finding_things import thing_at

    found = thing_at(audit.rig, path.strip()) or _called_so(path, audit)
    if found is None and audit.rig.plot is None and path.strip().startswith(("plot", "item ", "bridle ")):
        raise click.UsageError(f"{path.strip()} belongs to a show: name its file with --plot FILE")
    if found is None:
        raise click.UsageError(_no_such("thing", path, [one.path for one in audit.rig.things()]))
    return found


def _called_so(path: str, audit: "Audit") -> "Thing | None":
    """A thing of the plot by its name or by its key alone, as --set takes it: `item "bell"`, `bell`, `B2`."""
    from plumbtrue.quantities.values import Name
    from plumbtrue.rig.finding_things import thing_at

    first, *below = path.replace('"', "").split("/")
    wanted, called = first.strip().casefold(), []
    for thing in audit.rig.plot.below() if audit.rig.plot is not None else ():
        if thing.parent is not audit.rig.plot:
            continue
        recorded = thing.facts.get("name")
        names = [recorded.value.text] if recorded is not None and isinstance(recorded.value, Name) else []
        names.append(thing.key.removeprefix(f"{thing.kind.word} "))
        if wanted in {said.casefold() for name in names for said in (name, f"{thing.kind.word} {name}")}:
            called.append(thing)
    return thing_at(audit.rig, " / ".join((called[0].path, *below))) if len(called) == 1 else None


def _by_name(
    asked: str, house: str | None, packs: tuple[str, ...], day: date, *, third_party: bool
) -> Iterator[str]:
    """A rule, a kind of message, a kind or class of things, or a fact's name; every one that has the name."""
    from plumbtrue.audit.house_check import prepare, rules_for
    from plumbtrue.reporting import explanations
    from plumbtrue.rig.file_words import FILE_WORDS
    from plumbtrue.rules.packs.loading import load_packs
    from plumbtrue.rules.packs.pack_words import PACK_WORDS

    ground = prepare(third_party=third_party)
    if house is not None:
        from plumbtrue.rig.reading import read_rig

        path = Path(house)
        book = rules_for(read_rig(path, ground.vocabulary), path.parent, ground, on=day, packs=packs)
    else:
        from plumbtrue.cli.pack_names import base_and_names

        base, names = base_and_names(packs or ("practice",), Path.cwd())
        book = load_packs(names, base, ground.vocabulary, ground.plugins, on=day, examples=False)
    vocabulary, name = ground.vocabulary, asked.replace("-", "_").replace(" ", "_")
    told: list[list[str]] = []
    rule = book.rule(asked)
    if rule is not None:
        told.append(list(explanations.rule_text(rule, book)))
    if asked in explanations.message_slugs():
        told.append(list(explanations.message_text(asked)))
    if name in vocabulary.kinds:
        told.append(list(explanations.kind_text(vocabulary.kinds[name])))
    elif name in vocabulary.classes:
        told.append(list(explanations.class_text(vocabulary.classes[name])))
    facts = {fact for kind in vocabulary.kinds.values() for fact in kind.facts}
    if name in facts:
        told.append(list(explanations.vocabulary_fact_text(name, vocabulary)))
    words = {
        word
        for kind in vocabulary.kinds.values()
        for fact in kind.facts.values()
        for word in fact.words or ()
    }
    for word in dict.fromkeys((asked, asked.replace(" ", "-").replace("_", "-").lower())):
        if word in words:
            told.append(list(explanations.word_text(word, vocabulary)))
            break
    if name in FILE_WORDS:
        told.insert(0, list(explanations.file_word_text(name)))
    if name in PACK_WORDS:
        told.append(list(explanations.pack_word_text(name)))
    if not told:
        known = [
            *(one.slug for one in book.rules),
            *explanations.message_slugs(),
            *(kind.word for kind in vocabulary.kinds.values()),
            *sorted(facts),
            *sorted(words),
            *FILE_WORDS,
            *PACK_WORDS,
        ]
        elsewhere = explanations.named_with(asked, vocabulary)
        raise click.UsageError(_no_such("rule, message, kind, fact or word", asked, known, elsewhere))
    yield "\n\n".join("\n".join(lines) for lines in told)


def _no_such(sort: str, name: str, known: Iterable[str], elsewhere: tuple[str, ...] = ()) -> str:
    from plumbtrue.documents.nearest_word import nearest

    near = nearest(name.strip(), list(known))
    if near is None and elsewhere:
        return f"there is no {sort} {name.strip()}; what is told with that word: {', '.join(elsewhere)}"
    return f"there is no {sort} {name.strip()}" + (f"; did you mean {near}?" if near else "")
