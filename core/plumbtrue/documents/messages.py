"""The manual's paragraph for each kind of message about a document that cannot be read or does not fit.

A message carries its slug; `EXPLANATIONS` says for each what usually causes it, what it means, what to do.
"""

from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Explanation:
    """A kind of message explained, in whole sentences."""

    slug: str
    cause: str
    meaning: str
    what_to_do: str


EXPLANATIONS: tuple[Explanation, ...] = (
    Explanation(
        "alias-limit",
        "A file names other parts of itself with * some thousand times, which no house needs.",
        "Such a file may be short and stand for millions of parts, so it is not read.",
        "Use like: for parts that are alike, or divide the file.",
    ),
    Explanation(
        "alias-of-itself",
        "An alias (*name) stands inside the part that carries its anchor (&name).",
        "The part would contain itself without end.",
        "Write out what is meant at that place.",
    ),
    Explanation(
        "alias-unknown",
        "A text begins with *, which in YAML names another part, and no part above has that name.",
        "The name is misspelt, stands further down, or the text was never meant as a name.",
        "Correct the name, or put quotes round a text that begins with *.",
    ),
    Explanation(
        "anchor-twice",
        "A part with an anchor (&name) was copied together with its anchor.",
        "An alias could mean either part, and a reader cannot see which.",
        "Give the second anchor another name, or delete it.",
    ),
    Explanation(
        "bracket-not-closed",
        "A comma, or the closing bracket or brace of a list or mapping on one line, is missing.",
        "The parser read on until something could not belong to it; the fault may lie a little before.",
        "Look at the line where the list began. Texts in it with a comma or bracket need quotes.",
    ),
    Explanation(
        "character-cannot-begin",
        "A text begins with a character that has a meaning of its own in YAML: @ ` % * & ! | > ?",
        "The parser takes it as an instruction that it cannot follow.",
        "Put quotes round the text.",
    ),
    Explanation(
        "colon-missing",
        "A key stands without its colon, or without the space that has to follow the colon.",
        "The line is neither a key with its value nor part of the text above it.",
        "Write key: value, with a space after the colon.",
    ),
    Explanation(
        "colon-out-of-place",
        "A text without quotes holds a colon and a space, or a key is indented further than its neighbours.",
        "The parser takes what stands before the colon as a key, where none can be.",
        "Put quotes round the text, or begin the key in the same column as those beside it.",
    ),
    Explanation(
        "control-character",
        "Text was pasted from another program, and characters came with it that no editor shows.",
        "They could change how a line is read or how a message looks, so they are refused everywhere.",
        "Delete the character. Retyping the word that holds it is often quickest.",
    ),
    Explanation(
        "dash-out-of-place",
        "A list begins with - on the same line as its key.",
        "YAML lists with dashes have a line for each entry.",
        "Put each - on a line of its own below the key, or write the list as [one, two].",
    ),
    Explanation(
        "depth-limit",
        "Lists and mappings stand inside one another more than 64 deep, written out or by way of aliases.",
        "No house is that deep: a bracket or an indent went wrong, or the file is meant to do harm.",
        "Look for a bracket that is opened again and again, or an alias inside another one's part.",
    ),
    Explanation(
        "documents-several",
        "A line of three dashes stands in the middle of the file.",
        "It begins a second document, and what stands after it would go unread.",
        "Delete the line, or put what follows it into a file of its own.",
    ),
    Explanation(
        "entry-twice",
        "The same entry was written twice in a list in which each may stand once.",
        "The second says nothing new, or another one was meant.",
        "Delete one, or write the one that was meant.",
    ),
    Explanation(
        "escape-unknown",
        "A backslash stands in a text in double quotes.",
        "There it begins a special character, and no such character is known.",
        "Use single quotes, in which a backslash stands for itself.",
    ),
    Explanation(
        "file-empty",
        "The file holds nothing, or only comments.",
        "It was perhaps never stored, or another file was meant.",
        "Check which file was named.",
    ),
    Explanation(
        "file-is-not-text",
        "A spreadsheet, a picture or an archive was named instead of a text file.",
        "The file holds a zero byte, which no text does.",
        "Name the text file. A spreadsheet is exported as text first.",
    ),
    Explanation(
        "file-is-not-utf-8",
        "The file was stored in an older encoding, as some editors still do with accented letters.",
        "Which letters are meant cannot be told for certain, so nothing is guessed.",
        "Open it in the editor that wrote it and save it with the encoding UTF-8.",
    ),
    Explanation(
        "file-is-utf-16",
        "The file was stored with two bytes to a character; some programs call that Unicode.",
        "Only UTF-8 is read.",
        "Save it again with the encoding UTF-8.",
    ),
    Explanation(
        "file-missing",
        "The name is misspelt, or the file lies in another folder.",
        "Nothing can be read under that name.",
        "Check the name against the folder. A name under include: is seen from the file that holds it.",
    ),
    Explanation(
        "file-too-long",
        "The file, with what it includes, is longer than is ever read.",
        "No house comes near that length, so something else is in it.",
        "Check that it is the file you meant.",
    ),
    Explanation(
        "file-unreadable",
        "A folder was named, you may not read the file, or its disk does not answer.",
        "The system refused to open it.",
        "Name a file, or ask for leave to read it.",
    ),
    Explanation(
        "include-circle",
        "A file includes one that, directly or by way of others, includes it again.",
        "Reading would never end.",
        "Let one file include all the others, and those none.",
    ),
    Explanation(
        "include-clash",
        "The same key is written in two files of one document, and both cannot hold.",
        "Which one was meant cannot be told, so neither is taken.",
        "Delete one. Lists such as line_sets: may stand in several files and are put one after the other.",
    ),
    Explanation(
        "include-not-a-list",
        "Under include: stands something else than names of files.",
        "The files are read in the order of a list.",
        "Write include: [ropes.yaml, line-sets.yaml].",
    ),
    Explanation(
        "include-outside",
        "A name under include: leads out of the folder in which the document lies.",
        "A document from somebody else could have other files of yours read that way, so it is refused.",
        "Put it into the document's folder, and name it as seen from the file that includes it.",
    ),
    Explanation(
        "include-twice",
        "Two includes name the same file.",
        "What is in it would count twice.",
        "Delete one of the two.",
    ),
    Explanation(
        "indent-uneven",
        "A line begins a column too far left or right, or something follows the closing quote of a text.",
        "The parser cannot tell what the line belongs to.",
        "Begin the keys of one thing in one column, entries of one list too; quote all of a text.",
    ),
    Explanation(
        "key-empty",
        "A colon stands without a key before it.",
        "There is nothing to call the value by.",
        "Write the key, or put quotes round a text that begins with a colon.",
    ),
    Explanation(
        "key-missing",
        "A key that identifies the thing, or without which the rest means nothing, is not written.",
        "It cannot be used without it. Facts of rigging that nobody knows are never demanded.",
        "Write the key.",
    ),
    Explanation(
        "key-not-text",
        "A key is a list, a mapping or an alias, often because a text that begins with [ or { has no quotes.",
        "Only texts can be keys here.",
        "Write the key out, in quotes if it begins with a bracket or brace.",
    ),
    Explanation(
        "key-twice",
        "A key was written twice in the same thing, mostly after copying lines.",
        "Only one of the values could count, and which was meant cannot be told.",
        "Delete one. Two things of one kind are two entries of a list.",
    ),
    Explanation(
        "key-unknown",
        "A key is misspelt or belongs somewhere else.",
        "What stands under it would be overlooked, so it is refused.",
        "Write the key that is offered, or delete the line.",
    ),
    Explanation(
        "keys-do-not-agree",
        "Some keys that stand together exclude one another.",
        "The document could be read in two ways, or in none.",
        "Leave one of them out.",
    ),
    Explanation(
        "merge-key",
        "Parts are joined with <<, which YAML offers for merging.",
        "It hides where a value was written and which one counts, so it is not used here.",
        "Write the shared part under typical: and name it with like:.",
    ),
    Explanation(
        "node-limit",
        "With every alias written out, the file holds more keys and values than are ever read.",
        "A few lines of aliases inside aliases can stand for millions of values; no house needs that.",
        "Divide the file, and let no alias stand for a part that is full of aliases.",
    ),
    Explanation(
        "number-lost",
        "A text without quotes holds a space and # before a number or a mark, such as Border #3 or Leg #A.",
        "From there on it is a comment: the number is lost, and two things could get one name.",
        "Put quotes round the whole text. Where a comment is meant, put a space after #.",
    ),
    Explanation(
        "quote-not-closed",
        "A text begins with a quotation mark and the closing one is missing, or an inch mark was put first.",
        "The parser read to the end of the file in search of it.",
        "Write the closing mark. Round a text that begins with an inch mark put single quotes.",
    ),
    Explanation(
        "revision-file-missing",
        "The revision of the history that was named holds no such file, or holds a link in its place.",
        "Nothing can be compared with what is not there. Links are left alone, since they may lead anywhere.",
        "Name the file as seen from the top of the repository, or with ./ before it as seen from here.",
    ),
    Explanation(
        "revision-no-git",
        "Git is not there, does not answer, or the folder belongs to no repository.",
        "Older revisions lie in the history that git keeps, and cannot be read without it.",
        "Call it inside the repository that holds the file, or name two files.",
    ),
    Explanation(
        "revision-too-large",
        "More files belong to the document at that revision than any house needs.",
        "They are not read, so that a mistake in an include does not bring in a whole disk.",
        "Check what the document includes and which folders it names as packs.",
    ),
    Explanation(
        "revision-unknown",
        "A revision is misspelt, or this history does not hold it.",
        "What it held cannot be read.",
        "Name a commit, a tag or a branch that git knows here.",
    ),
    Explanation(
        "sign-needs-quotes",
        "Inside brackets or braces a text holds a colon or a question mark, such as a time of day.",
        "There these signs divide a key from its value, so the parser cannot tell where the text ends.",
        "Put quotes round the text. Between a key and its value write a colon and a space.",
    ),
    Explanation(
        "tab-for-indenting",
        "An editor puts tabs at the beginning of lines.",
        "How far a tab reaches differs from editor to editor, so YAML takes only spaces there.",
        "Let the editor turn the tabs of the file into spaces, and set it to use spaces from now on.",
    ),
    Explanation(
        "tag-refused",
        "A text begins with !, which in YAML names a type; in some programs a type can run code.",
        "Nothing in a document can do that here, and no types are named.",
        "Delete the word with the !, or put quotes round the text.",
    ),
    Explanation(
        "top-level-wrong",
        "The file has another form than its kind asks for: mostly a list without its key in front.",
        "What the entries are cannot be told.",
        "A house or plot holds keys such as line_sets: at the top; a file of rules a - for each rule.",
    ),
    Explanation(
        "value-does-not-fit",
        "A value has not the form that its key asks for, such as a date or a name with hyphens.",
        "It cannot be used as it stands.",
        "Write it as the message shows.",
    ),
    Explanation(
        "value-not-written",
        "A key stands there with nothing behind it.",
        "The key needs a value here.",
        "Write the value, or delete the key.",
    ),
    Explanation(
        "value-of-wrong-form",
        "A list stands where one value is meant or the other way about, or a text for a number.",
        "The value cannot be used as it stands.",
        "Write it in the form that the message names. A list of one entry is written [one].",
    ),
    Explanation(
        "value-out-of-range",
        "A number is smaller or larger than its key allows.",
        "The value cannot be meant.",
        "Check the number and the key.",
    ),
    Explanation(
        "value-too-little",
        "A list or text is shorter than its key needs.",
        "Something that is needed is not written.",
        "Write the rest.",
    ),
    Explanation(
        "value-too-much",
        "A list or text is longer than its key takes.",
        "What is too much would be overlooked.",
        "Shorten it, or divide it over several keys.",
    ),
    Explanation(
        "word-not-permitted",
        "A word is misspelt, or is not among those that the key takes.",
        "Each such list of words is closed, so that two people mean the same by one word.",
        "Write the word that is offered, or one of those listed.",
    ),
    Explanation(
        "yaml-unreadable",
        "The parser met something that fits none of the usual mistakes.",
        "The file cannot be read from there on.",
        "Compare the line with its neighbours. Quotes round a text settle most doubts.",
    ),
)
