"""The manual's paragraph for each kind of message about a figure, a date or a place that cannot be read.

The messages come from `quantities`, which knows no document; their paragraphs stand beside those of all documents.
"""

from plumbtrue.documents.messages import Explanation

EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "bound-unreadable",
        "A bound is written in words or signs that are not known, such as 20-25 lb.",
        "It cannot be told which figures are possible.",
        "Write 20..25 lb, 22 lb +/- 10 %, at least 20 lb, at most 25 lb or about 22 lb.",
    ),
    Explanation(
        "count-not-whole",
        "A count is written with a fraction or a unit.",
        "Things that are counted come whole; a weight or length belongs to another fact.",
        "Write a whole number, or a bound of whole numbers such as 3..4.",
    ),
    Explanation(
        "date-impossible",
        "A date names a day that no calendar has, such as 2018-02-30.",
        "Which day was meant cannot be told.",
        "Look at the paper again; where the day is not known, write the month (2018-02) or the year (2018).",
    ),
    Explanation(
        "date-unreadable",
        "A date is written with slashes, in words, or with the day first.",
        "Which is the day and which the month is read differently in different places, so neither is guessed.",
        "Write year, month and day: 2018-07-14; or 2018-07, 2018, before 1990, 2009..2012, about 1985.",
    ),
    Explanation(
        "dimension-wrong",
        "The figure is of another kind than the fact: a weight where a length is wanted.",
        "Two columns or two lines were mixed up, or the unit is a slip of the pen.",
        "Write a figure of the kind that the message names.",
    ),
    Explanation(
        "figure-unreadable",
        "What stands there is no figure, or one in a form that is not known.",
        "Nothing can be compared with it.",
        "Write a number with its unit, such as 1-1/2 in or 450 lb; or unknown, with a note that says why.",
    ),
    Explanation(
        "place-unreadable",
        "A place along a batten is not a length, nor SL, SR or CL with one.",
        "Where the thing stands cannot be told, and every reaction hangs on it.",
        "Write 12'-6\" from the zero end, or SL 12'-6\", SR 12'-6\" or CL from the centre line.",
    ),
    Explanation(
        "range-backwards",
        "A range runs from the larger figure to the smaller.",
        "One of the two is a slip, or they were written in the wrong order.",
        "Write the smaller figure first: 20..25 lb.",
    ),
    Explanation(
        "unit-ambiguous",
        "The unit means more than one thing, such as ton.",
        "A short ton and a tonne differ by a tenth, which is not to be guessed.",
        "Write short ton or t, or the figure in lb or kg.",
    ),
    Explanation(
        "unit-missing",
        "A number stands alone where it is a length, a weight or another quantity.",
        "Whether 12 is inches, feet or metres decides what the rules say, so it is never assumed.",
        "Write the unit beside it: 12 in, 450 lb, 15 lb/ft.",
    ),
    Explanation(
        "unit-unknown",
        "The unit is misspelt or not one that the trade or its standards use.",
        "The figure cannot be compared with anything.",
        "Write the unit that is offered, or one of those named in the message.",
    ),
)
