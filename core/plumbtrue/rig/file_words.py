"""The words of a rig or plot file that are no facts: what each says, and how it is written.

They hold for every kind of thing, so no kind in the vocabulary can say them.
"""

from typing import Final, NamedTuple


class FileWord(NamedTuple):
    """A word of the file itself, with an example that can be copied."""

    says: str
    example: str


FILE_WORDS: Final[dict[str, FileWord]] = {
    "about": FileWord(
        "A figure that somebody estimated: a fifth either way for a size or a weight, two years either way for a "
        "year.",
        "weight: about 80 lb",
    ),
    "at": FileWord(
        "Where each lift line takes the batten, by its mark: from the zero end, or SR, SL and CL from the centre "
        "line. It stands in lift_lines beside each: and except:.",
        "lift_lines: {at: {1: SR 18'-0\", 2: CL, 3: SL 18'-0\"}, each: {rope: gac}}",
    ),
    "each": FileWord(
        "What is so of every lift line of a set, said once; beside at:.",
        "lift_lines: {at: {1: SR 18'-0\", 2: SL 18'-0\"}, each: {like: gac-line, rope: {like: gac, installed: 1987}}}",
    ),
    "except": FileWord(
        "What is otherwise on some of the lines that each: describes.",
        "except: [{lines: [2, 3], rope: {corrosion: pitted}}]",
    ),
    "house_file": FileWord("The house under a plot, beside the plot's own file.", "house_file: house.yaml"),
    "include": FileWord(
        "Other files that belong to this one, such as its typical things or some of its line sets. They lie in its "
        "folder or in one inside it.",
        "include: [parts.yaml, sets-1-to-20.yaml]",
    ),
    "is": FileWord(
        "A fact in its long form, with who saw it, a note or a photograph beside the value.",
        "corrosion: {is: pitted, seen: {by: head of flys, on: 2026-02-10}, note: under the roof leak}",
    ),
    "key": FileWord(
        "What a thing is told apart by, for good: acceptances and comparisons go on matching as long as it stays.",
        "bricks: [{key: full, weight: 25 lb}]",
    ),
    "kind": FileWord(
        "What sort of thing a typical thing is.", "gac: {kind: rope, family: wire, diameter: 1/4 in}"
    ),
    "like": FileWord(
        "That a thing is like a typical thing; what stands beside it holds over what is drawn there. In a plot, "
        "a piece may also be like another piece of the list.",
        "batten: {like: pipe, length: 42'-6\"}",
    ),
    "none": FileWord(
        "Somebody looked, and there is none. What nobody looked for is left out.",
        "splices: none",
    ),
    "part": FileWord(
        "What sort of part stands in a list of different parts.",
        "lower: [{part: swage-sleeve, size: 1/4 in}, {part: thimble, size: 1/4 in}]",
    ),
    "rule_packs": FileWord(
        "The packs that the house is judged by, in order: by name, or ./ and a folder beside the file.",
        "rule_packs: [practice, ./house-rules]",
    ),
    "seen": FileWord(
        "Who looked at a thing and all below it, when, and how: from-afar, by-eye, by-hand, with-tools, told or "
        "paper. With in_order: yes, what is not written was in order as far as such a look can tell.",
        "seen: {by: head of flys, on: 2026-02-10, how: by-hand, in_order: yes}",
    ),
    "typical": FileWord(
        "Things drawn once, by name, to be used with like: or by the bare name. A drawing says what a thing is, "
        "never in what state it is, nor what is posted or on record for one thing.",
        "typical: {gac: {kind: rope, family: wire, diameter: 1/4 in}, end-w: [swage-sleeve, thimble, shackle]}",
    ),
    "units": FileWord(
        "The system in which reports print figures: us, si (weights and pulls in newtons), metric (the same with "
        "weights and pulls in kilograms) or both (us, and si in brackets).",
        "units: us",
    ),
    "unknown": FileWord(
        "Somebody looked and could not tell. What nobody looked at is left out: it is not known either, and is "
        "asked for.",
        "weight: {is: unknown, note: the plate is painted over}",
    ),
}
"""By the word, in the order of the alphabet."""
