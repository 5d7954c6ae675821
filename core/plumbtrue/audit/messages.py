"""The manual's paragraph for each kind of message about waivers."""

from plumbtrue.documents.messages import Explanation

EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "accepted-twice",
        "Two waivers accept the same finding at the same place.",
        "Which last day and which state count could not be told.",
        "Keep one of them.",
    ),
    Explanation(
        "compare-no-house",
        "Two plots are compared, and nothing says over which house they are laid.",
        "What a plot does to a house cannot be told without the house.",
        "Write house_file: into the plot, or name the house with --house.",
    ),
    Explanation(
        "compare-unlike",
        "A house is compared with a plot, or a house is named under something that is no plot.",
        "Only two of a kind have anything in common that could differ.",
        "Name two houses, with --plot-old and --plot-new where shows hang in them, or two plots.",
    ),
    Explanation(
        "state-empty",
        "A waiver does not say which state it accepts.",
        "It would cover whatever the thing comes to.",
        "Write state: with the facts that the rule looks at, as they were seen.",
    ),
    Explanation(
        "waiver-matches-nothing",
        "A waiver names a rule or a thing that is not there, or a finding that is no more.",
        "What excuses nothing today would excuse the next finding at that place without anybody deciding it.",
        "Correct the name, or take the waiver out.",
    ),
    Explanation(
        "waiver-state",
        "A waiver states a fact that the rule does not look at, or leaves out one that decides it.",
        "A worse state could not be told from the accepted one.",
        "State what the rule asks about, as it writes it; of members of a list, the words of the finding.",
    ),
)
