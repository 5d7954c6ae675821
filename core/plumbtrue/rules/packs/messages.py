"""The manual's paragraph for each kind of message about packs, their adjustments, tables and examples.

Messages that other documents have too are explained in `documents.messages` and `rig.messages`, those about
figures in `quantities`, those about expressions with the rule language.
"""

from plumbtrue.documents.messages import Explanation

EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "adjustment-matches-nothing",
        "A pack adjusts a rule that no pack below it has: it was renamed, or misspelt.",
        "The adjustment would do nothing, and nobody would notice.",
        "Write the rule's name as its pack has it, order the packs, or take the adjustment out.",
    ),
    Explanation(
        "adjustment-of-retired-rule",
        "A pack adjusts a rule that an earlier layer has retired.",
        "A retired rule judges nothing, whatever its limits are.",
        "Take the adjustment out, or talk to whoever retired the rule.",
    ),
    Explanation(
        "adjustment-part",
        "An adjustment names a part of the rule that its way of changing does not reach, or words for no demand.",
        "What a rule asks is never replaced: it gains a demand, or cases that it leaves alone.",
        "Write also_require or also_when under tighten, unless under relax.",
    ),
    Explanation(
        "adjustment-way",
        "An adjustment says none or several of set, tighten, relax and retire.",
        "Each change stands in the report by itself, with what it does and who decided it.",
        "Write one adjustment for each way.",
    ),
    Explanation(
        "changed-twice",
        "Two adjustments of one pack change the same part of the same rule.",
        "Which of them counts would depend on the order of files.",
        "Keep one of them.",
    ),
    Explanation(
        "column-head",
        "The head of a table's column does not say what the column holds, or asks for rows between words.",
        "Figures without a dimension cannot be compared with anything.",
        "Write dimension: or type:, and key: exact for words and names.",
    ),
    Explanation(
        "date-wanted",
        "A day is written in another form, or without its year, month or day.",
        "A misread day keeps a relaxation or an acceptance in force longer than anybody decided.",
        "Write year, month and day with hyphens: 2026-02-13.",
    ),
    Explanation(
        "decision-missing",
        "A rule is relaxed or retired without its reason, without who decided it, or without the day.",
        "The report names all three, so that whoever is asked in five years can answer.",
        "Write reason:, decided_by: and decided_on:.",
    ),
    Explanation(
        "defined-twice",
        "Two rules or tables have the same name, in one pack or in two, now or formerly.",
        "Nothing is overridden by coming later; findings and acceptances hang on the name.",
        "Give one of them another name, or adjust the rule of the earlier pack instead of writing it again.",
    ),
    Explanation(
        "example-fact",
        "A key of an example names no fact of its thing, and no kind of thing that could lie around it.",
        "It is misspelt, or belongs to something that has to be named first.",
        "Write the fact, or a path to it such as lift_line.rope.diameter.",
    ),
    Explanation(
        "example-kind",
        "A rule about a class has an example that does not say which kind of thing it describes.",
        "Kinds of one class have different facts.",
        "Write part: and the kind.",
    ),
    Explanation(
        "example-path",
        "A path of an example leads through a list, or through something that may be of several kinds.",
        "It cannot be told which thing is meant.",
        "Write the whole thing with its part:, or the whole list with this where the thing itself stands.",
    ),
    Explanation(
        "example-place",
        "An example names things around its thing that such a thing never lies in.",
        "Nobody could build it, so it proves nothing.",
        "Name only what really lies around it.",
    ),
    Explanation(
        "language-unknown",
        "The pack is written for another edition of the rule language.",
        "Its rules could mean something else here, so none of them is used.",
        "Use a version of plumbtrue that reads that edition.",
    ),
    Explanation(
        "limit-not-exact",
        "A limit or a cell of a table is written as a stretch or a bound.",
        "A limit that is itself unsure would let some things pass by its mildest end.",
        "Write one figure, the stricter one where in doubt, and say so in a note.",
    ),
    Explanation(
        "pack-missing",
        "The folder that rule_packs names holds no pack.yaml.",
        "It is misspelt, or the pack lies elsewhere.",
        "Write ./ and the folder that lies beside the house's file.",
    ),
    Explanation(
        "pack-outside",
        "The folder that rule_packs names lies outside the house's own.",
        "A house file from a stranger must not reach into other folders.",
        "Move the pack into the house's folder, or install it as a plugin and name it.",
    ),
    Explanation(
        "pack-required",
        "A pack builds on another one that is not named before it.",
        "Its adjustments and tables would mean nothing without it.",
        "Name the other pack first in rule_packs.",
    ),
    Explanation(
        "pack-unknown",
        "No installed plugin brings a pack of that name.",
        "It is misspelt, not installed, or a folder whose ./ was forgotten.",
        "Install it, or write ./ and the folder.",
    ),
    Explanation(
        "parameter-goes-the-wrong-way",
        "A limit is moved so that the rule asks for less, under a word that says otherwise.",
        "A relaxation needs a reason and somebody who decided it.",
        "Write it under relax with reason, decided_by and decided_on, or move the limit the other way.",
    ),
    Explanation(
        "parameter-name",
        "A parameter has the name of a part of a rule, or marks in its name.",
        "An adjustment could not tell which of the two is meant.",
        "Write another name, with letters, digits and underscores.",
    ),
    Explanation(
        "parameter-unknown",
        "An adjustment sets a parameter that the rule has not got.",
        "It would do nothing, and nobody would notice.",
        "Write the parameter's name as the rule has it.",
    ),
    Explanation(
        "relaxing-forbidden",
        "A pack relaxes or retires a rule that forbids it.",
        "Some rules are not for a house to decide: nobody is flown, a fire curtain is never blocked.",
        "Take the adjustment out. A single finding can be accepted at its place until a day.",
    ),
    Explanation(
        "row-length",
        "A row of a table has more or fewer cells than the table has columns.",
        "A figure has slipped into another column, or is missing.",
        "Write one cell for each column, and none where the source is silent.",
    ),
    Explanation(
        "rule-name",
        "The name of a rule has capitals, blanks or other marks in it.",
        "It is typed at a command line, searched for, and written into acceptances.",
        "Write small letters, digits and hyphens: keeper-bolt-missing.",
    ),
    Explanation(
        "severity-goes-the-wrong-way",
        "Tightening to a milder severity, relaxing to a graver one, or either to the one that the rule has.",
        "The report would say the opposite of what was done.",
        "Write the other word, or the other severity.",
    ),
    Explanation(
        "source-unknown",
        "A rule or table cites a work that stands in no bibliography.",
        "Nobody could look it up.",
        "Write the work under sources: in pack.yaml, or common-practice where there is none.",
    ),
    Explanation(
        "source-unreadable",
        "After source: stands something that is neither common-practice nor a list of works.",
        "Every rule says on whose authority it speaks.",
        "Write source: common-practice, or source: [{work: KEY, clause: …}].",
    ),
    Explanation(
        "supersedes-nothing",
        "A rule silences another one that does not exist.",
        "It was renamed, or belongs to a pack that is not named.",
        "Write the other rule's name as it is, or take it out.",
    ),
    Explanation(
        "table-wrong",
        "The rows of a table cannot be looked up: no key, a key twice, or an empty one.",
        "A look-up would find two answers, or none.",
        "Mend the rows; every key stands once.",
    ),
    Explanation(
        "until-without-relaxing",
        "An adjustment that sets or tightens has a last day.",
        "Only what is asked less of runs out; what is asked more of stays until somebody changes it.",
        "Leave until out.",
    ),
)
