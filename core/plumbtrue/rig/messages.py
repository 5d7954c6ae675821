"""The manual's paragraph for each kind of message about a rig or plot.

Messages that other small documents have too (`key-unknown`, `word-not-permitted` …) are explained in
`documents.messages`, those about figures and dates in `quantities`.
"""

from plumbtrue.documents.messages import Explanation

EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "fact-is-computed",
        "A figure was written that the program finds from other facts.",
        "Written down it would grow stale when one of those facts changes.",
        "Write what it is found from, or delete the line.",
    ),
    Explanation(
        "form-missing",
        "The file does not begin with what it is.",
        "A rig, a plot and a list of answers are read in different ways.",
        "Write plumbtrue: rig/1 on top of a house, plumbtrue: plot/1 on top of a plot.",
    ),
    Explanation(
        "form-wrong",
        "The file says that it is something else, or is written for another edition of the form.",
        "It was given where another sort of file is wanted.",
        "Name the right file, or correct the line.",
    ),
    Explanation(
        "house-missing",
        "A rig file without a house, or with a text in its place.",
        "Everything in a rig file belongs to one house.",
        "Write house: with its name.",
    ),
    Explanation(
        "inspection-unknown",
        "After seen: stands a single word, which is the key of no inspection of this house or set.",
        "Nobody could tell who looked, so nothing would be vouched for.",
        "Write the inspection down under inspections:, or write out who looked, when and how.",
    ),
    Explanation(
        "key-given-twice",
        "Two things of one list have the same number, mark or key, mostly after copying.",
        "A finding could be about either.",
        "Give one of them another; a set that was renumbered lists the old number under formerly:.",
    ),
    Explanation(
        "key-wrong",
        "After key: stands a list or a mapping.",
        "A key is a short name that lasts.",
        "Write key: and one name.",
    ),
    Explanation(
        "kind-elsewhere",
        "A thing stands where no such thing can be: a shackle among blocks, a rope for a batten.",
        "It slipped into the wrong list, or a typical thing of another kind was named.",
        "Move it, or name one of the kinds that are offered.",
    ),
    Explanation(
        "kind-unknown",
        "The word after part: or kind: is misspelt, or the trade's word for it differs here.",
        "Without its kind nothing can be said about a thing.",
        "Write the word that is offered; the manual lists every kind with its meaning.",
    ),
    Explanation(
        "laid-name-unknown",
        "A plot says that something hangs on, or goes with, what nobody has written down.",
        "Its load would be counted nowhere.",
        "Correct the name, or write the truss, point, bridle, hoist or piece down in the plot.",
    ),
    Explanation(
        "laid-not-in-house",
        "A plot names a set, brick, beam or rail that the house over which it is laid does not have.",
        "It was drawn for another house or on another schedule, or the name is misspelt.",
        "Write a name that the house has, or lay the plot over the right house.",
    ),
    Explanation(
        "lift-lines-each",
        "Under each: stands something other than keys and values.",
        "What stands there is said of every lift line of the set.",
        "Write the facts of one line there.",
    ),
    Explanation(
        "lift-lines-except",
        "An exception does not say for which lines it holds, or except: is no list.",
        "An exception changes what each: says, for the lines that it names.",
        "Write except: as a list, each entry with lines: and the marks.",
    ),
    Explanation(
        "lift-lines-key",
        "A fact of the lines stands beside at:, each: and except:.",
        "It cannot be seen of which lines it is meant.",
        "Move it under each: when it is so of every line, else into an exception.",
    ),
    Explanation(
        "lift-lines-marks",
        "Lift lines are written all at once without at:, or at: is a list of places without marks.",
        "Every line needs a mark that stays when lines are added.",
        "Write at: with the mark and the place of each line.",
    ),
    Explanation(
        "like-carries-state",
        "A typical thing carries a state, a date, a posted limit or who saw it.",
        "A drawing says what a thing is; in what state one thing is, only somebody who looked at it can say.",
        "Move the fact to where the thing itself is written.",
    ),
    Explanation(
        "like-circle",
        "A typical thing is like another, which by way of others is like the first.",
        "What it is made of can never be found out.",
        "Write one of them out without like:.",
    ),
    Explanation(
        "like-kind",
        "A thing is said to be like a typical thing of another kind.",
        "Two names were mixed up, or part: and like: contradict each other.",
        "Name a typical thing of the same kind.",
    ),
    Explanation(
        "like-limit",
        "Typical things made of one another stand together for a vast number of parts.",
        "No house needs that, and reading it could take for ever.",
        "Let a typical thing name fewer others.",
    ),
    Explanation(
        "like-not-a-name",
        "After like: stands a list, a mapping or nothing.",
        "A thing is like one typical thing; that one may be like another.",
        "Write like: and one name.",
    ),
    Explanation(
        "like-path",
        "The name of a typical path stands where one thing is wanted.",
        "A path is a list of parts, from the rope's end outward.",
        "Use it under upper:, lower: or another path.",
    ),
    Explanation(
        "like-unknown",
        "The name after like: is misspelt, or nothing is written down under it.",
        "Nothing is known of the thing but what is written beside like:.",
        "Write a name that stands under typical:, or add it there.",
    ),
    Explanation(
        "line-sets-twice",
        "Line sets stand both inside house: and beside it.",
        "One of the two lists would be overlooked.",
        "Join them under one line_sets:.",
    ),
    Explanation(
        "line-unknown",
        "An exception names a mark that stands in no place under at:.",
        "The exception would change nothing.",
        "Correct the mark, or add the line under at:.",
    ),
    Explanation(
        "long-form-key",
        "A fact written as is: with more about it has a key that such a fact cannot have.",
        "Only is, seen, note and photo are read there.",
        "Correct the key, or move it to the thing.",
    ),
    Explanation(
        "none-in-list",
        "The word none stands as an entry of a list.",
        "An entry is something that is there.",
        "Write none in place of the whole list, or unknown as an entry that nobody has identified.",
    ),
    Explanation(
        "none-not-allowed",
        "A fact that every such thing has was written as none.",
        "None means looked for and not there. A rope always has a diameter.",
        "Leave it out when nobody looked; write unknown when somebody looked and could not tell.",
    ),
    Explanation(
        "part-kind-missing",
        "A part in a list of different parts does not say what it is.",
        "Its facts could be those of any part.",
        "Write part: and its kind, or like: and a typical part.",
    ),
    Explanation(
        "patch-of-nothing",
        "A map of changes stands for a path of which no parts are written.",
        "There is nothing to change.",
        "Write the parts as a list, here or in the typical path.",
    ),
    Explanation(
        "patch-unknown",
        "A change names a part that the path does not have, or has fewer of.",
        "The change would be lost.",
        "Name a part of the path (the second of a kind is shackle.2), or write the whole path as a list.",
    ),
    Explanation(
        "patch-wrong",
        "A change of a part is a list or a single value.",
        "A change says which facts of the part are otherwise.",
        "Write the facts in braces, or none when the part is not there.",
    ),
    Explanation(
        "plot-missing",
        "A plot file without a plot, or with a text in its place.",
        "Everything in a plot file belongs to one plot.",
        "Write plot: with the show and its items.",
    ),
    Explanation(
        "reference-unknown",
        "A fact names another thing (a kind of weight, a beam, a rail, a line) that is written nowhere.",
        "The name is misspelt, or the other thing has not been written down yet.",
        "Write the name that is offered, or add the thing with that key.",
    ),
    Explanation(
        "rule-packs-wrong",
        "Under rule_packs: stands something other than names of packs.",
        "A pack is named, or its folder is given beginning with ./ as seen from the rig file.",
        "Write a list of names.",
    ),
    Explanation(
        "seen-key",
        "A seen: block has a key that no such block has.",
        "It says who looked (by), when (on) and how, whether all else is in order, and what was not seen.",
        "Write the key that is offered.",
    ),
    Explanation(
        "seen-wrong",
        "A seen: block is a list, or a part of it is not a text.",
        "Nobody could tell who looked.",
        "Write seen: {by: who, on: a date, how: by-hand}, or the key of an inspection.",
    ),
    Explanation(
        "setting-twice",
        "Units or rule packs are named inside house: and beside it.",
        "Which of the two is meant cannot be told.",
        "Delete one.",
    ),
    Explanation(
        "typical-kind",
        "A typical thing does not say what kind of thing it is.",
        "It could not be checked, nor used where only one kind fits.",
        "Write kind: in it.",
    ),
    Explanation(
        "typical-wrong",
        "Under typical: stands a name with a single value, or no names at all.",
        "A typical thing is a thing with its kind, or a list of parts.",
        "Write the thing out under its name.",
    ),
    Explanation(
        "vocabulary-key",
        "A file that adds kinds of things has a key that no such file has.",
        "What stands under it would be overlooked.",
        "Write one of the keys that are offered.",
    ),
    Explanation(
        "vocabulary-name",
        "A file that adds a kind or class is called otherwise than what it holds.",
        "Kinds are found by the names of their files.",
        "Rename the file, or the kind.",
    ),
    Explanation(
        "yes-or-no",
        "A fact that is yes or no was answered with something else.",
        "True, false and none are not read: no is an answer, none is not.",
        "Write yes or no, or unknown when somebody looked and could not tell.",
    ),
)
