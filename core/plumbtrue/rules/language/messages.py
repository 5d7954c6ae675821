"""The manual's paragraph for each kind of message about expressions and texts of rules.

Messages about figures and their units are explained in `quantities`, those about kinds of things in
`rig.messages`.
"""

from plumbtrue.documents.messages import Explanation

EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "calendar-and-days",
        "A length of time in months or years meets one that is counted in days.",
        "Months differ in length, so that an anniversary reckoned in days comes a day early or late.",
        "Use age of with months and years, days since with days.",
    ),
    Explanation(
        "column-unknown",
        "A look-up asks for a column that the table does not have, or for one of its keys.",
        "Nothing could be found there.",
        "Write a column of the table that is no key.",
    ),
    Explanation(
        "dates-added",
        "Two dates are added.",
        "The sum of two days means nothing.",
        "Subtract them for the time between, or add a length of time.",
    ),
    Explanation(
        "expression-too-large",
        "An expression has too many parts, stands too deep in brackets, or runs over lists inside lists.",
        "Nobody can read such a rule aloud, and a hostile one could keep the program busy.",
        "Give parts of it names under let:, or make two rules.",
    ),
    Explanation(
        "expression-too-long",
        "An expression or a text has more characters than are read.",
        "No rule that fits on a screen is that long.",
        "Divide it, or give parts of it names under let:.",
    ),
    Explanation(
        "expression-unreadable",
        "A sign or word stands where the rule language has no use for it, or something is left out.",
        "The rule cannot be understood, so nothing is judged by it.",
        "Read it aloud up to the place shown; the message says what is wanted there.",
    ),
    Explanation(
        "fact-of-some-kinds",
        "A rule asks for a fact that only some of the things it may meet have.",
        "A shackle has no wraps: the question would be open for ever.",
        "Say first which kind it is, as in p is trim_chain and p.wraps < 2.",
    ),
    Explanation(
        "fact-wanted",
        "Known or not known is asked of a claim.",
        "A claim that cannot be told is told so anyway; only facts are written or left out.",
        "Ask it of the fact.",
    ),
    Explanation(
        "figure-wanted",
        "Something that is no figure is counted with, or a function has too many or too few figures.",
        "Words and names cannot be added or compared by size.",
        "Write a figure with its unit, or a fact that gives one.",
    ),
    Explanation(
        "function-unknown",
        "A name with brackets behind it is none of abs, least and greatest.",
        "Rules call nothing else, so that a pack from a stranger can run nothing.",
        "Write it with those three, with sums over lists, or as a table.",
    ),
    Explanation(
        "let-circle",
        "Values named under let need one another in a circle.",
        "None of them could ever be found.",
        "Take one of them apart.",
    ),
    Explanation(
        "list-of-words",
        "A list of words stands where one value is wanted, or the other way round.",
        "Only in asks whether a word is in a list.",
        "Write in and the parameter's name, or the words in square brackets.",
    ),
    Explanation(
        "list-wanted",
        "Every, some, count, sum, least or same runs over something that is one thing or one value.",
        "There is nothing to run over.",
        "Name a list or a path of parts, or ask the thing itself.",
    ),
    Explanation(
        "name-ambiguous",
        "One name could mean two things: a fact, a parameter, a named value, the name given by every.",
        "The reader would take it for one and the rule for the other.",
        "Call one of them otherwise.",
    ),
    Explanation(
        "name-unknown",
        "A name in a rule is no fact of the thing, nothing that it lies in, no parameter and no named value.",
        "A misspelt name would never be known, and the rule never told.",
        "Write the name as the vocabulary has it; the nearest one is offered.",
    ),
    Explanation(
        "never-none",
        "A rule asks whether something is none that the vocabulary never lets be none.",
        "The condition could never hold, and nobody would notice.",
        "Ask is not known of a fact that nobody wrote, = 0 of a count.",
    ),
    Explanation(
        "never-within",
        "A rule speaks of something around the thing that no such thing ever lies in.",
        "The condition could never be told.",
        "Name what it does lie in, such as lift_line, line_set or house.",
    ),
    Explanation(
        "no-date",
        "An age or a number of days is asked of something that is no date.",
        "Only a date has an age.",
        "Name a fact that holds a date, such as installed.",
    ),
    Explanation(
        "not-a-claim",
        "A fact or a figure stands where something is wanted that holds or does not.",
        "It says nothing by itself.",
        "Compare it, test it with is, or write is yes; join whole claims with and and or.",
    ),
    Explanation(
        "not-a-thing",
        "A dot follows a value, or a value stands where a thing is wanted.",
        "Only things have facts.",
        "Take the dot away, or name the thing.",
    ),
    Explanation(
        "not-comparable",
        "Two unlike things are compared, or by a sign that does not suit them.",
        "The comparison has no answer.",
        "Compare figures with figures, dates with dates, names with names; free text is never judged.",
    ),
    Explanation(
        "not-countable",
        "Values that may be written once for all are counted or summed up.",
        "One value may stand for three clips, so the count would be wrong.",
        "Use every, some, least or greatest, or the fact that counts them.",
    ),
    Explanation(
        "not-in-a-path",
        "The load path is asked of something that is no part of one.",
        "It stands in no path.",
        "Name the list: lift_line.lower.",
    ),
    Explanation(
        "not-printable",
        "A claim stands in the braces of a text.",
        "A finding shows what was found, not that something holds.",
        "Print the facts that the claim is about.",
    ),
    Explanation(
        "several-values",
        "A list stands where one value is wanted.",
        "Which of them is meant, nobody can tell.",
        "Say every, some, no, count of, sum of, least of or greatest of.",
    ),
    Explanation(
        "table-keys",
        "A look-up leaves a key of the table out, or names one that it does not have.",
        "The row cannot be found.",
        "Give each key column of the table once.",
    ),
    Explanation(
        "table-unknown",
        "A look-up names a table that neither the pack nor one below it has.",
        "Nothing could be looked up.",
        "Write the table's name with underscores, or add the table.",
    ),
    Explanation(
        "text-braces",
        "A brace in a text is opened and not closed, or closed and not opened.",
        "Where the expression ends cannot be told.",
        "Close it, or write the brace twice where a brace is meant.",
    ),
    Explanation(
        "word-compared",
        "A word of a list is compared with = or !=.",
        "After = stands a figure, a date, a name in quotes or a fact.",
        "Write is, is not or in.",
    ),
    Explanation(
        "word-fact-wanted",
        "Is or in is asked of something that is no word of a list.",
        "Figures are compared, names are compared letter by letter, lists include or exclude.",
        "Write the sign that the message names.",
    ),
    Explanation(
        "word-list-wanted",
        "Includes or excludes is asked of something that is no list of words.",
        "A single word is not included in anything.",
        "Write is or is not.",
    ),
    Explanation(
        "word-twice",
        "A word stands twice in a list of words.",
        "Perhaps another one was meant.",
        "Leave it out, or write the other one.",
    ),
    Explanation(
        "word-unknown",
        "A rule asks for a word that the fact's list does not have.",
        "The condition could never hold, and nobody would notice.",
        "Write a word of the list; the nearest one is offered.",
    ),
)
