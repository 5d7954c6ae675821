"""Our trees agree with those of ruamel.yaml's parser in pure Python, which shares no code with the C parser
that we use.
"""

from io import StringIO
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.reading import read_text

# The C parser follows YAML 1.1, in which a text inside brackets or braces holds no `?` or `:` without quotes;
# the other one writes and reads such texts by YAML 1.2. They are tested where problems are.
SIGNS = st.characters(
    min_codepoint=32,
    max_codepoint=0x1F9FF,
    exclude_categories=("Cc", "Cs", "Zl", "Zp", "Cn"),
    exclude_characters="?:\ufeff",
)
TEXTS = st.one_of(
    st.sampled_from(
        ["012", "1.10", "no", "12'-6 1/2\"", "1/4 in", "# 4", "- x", "", "*x", "two\nlines", " led"]
    ),
    st.text(SIGNS, max_size=12),
).filter(lambda text: " #" not in text)
KEYS = st.text("abcdefghij_-", min_size=1, max_size=8)
DOCUMENTS = st.dictionaries(
    KEYS,
    st.recursive(
        TEXTS,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
        max_leaves=20,
    ),
    min_size=1,
    max_size=5,
)


def written(document: Any, *, flow: bool) -> str:
    emitter = YAML(typ="safe", pure=True)
    emitter.default_flow_style = flow
    stream = StringIO()
    emitter.dump(document, stream)
    return stream.getvalue()


def plain(node: Node) -> Any:
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [plain(item) for item in node]
        case Mapping():
            return {key.text: plain(value) for key, value in node}


def places(node: Node) -> list[tuple[str, int, int]]:
    """Text, line and column of every scalar, from 1."""
    match node:
        case Scalar():
            return [(node.text, node.place.line, node.place.column)]
        case Sequence():
            return [place for item in node for place in places(item)]
        case Mapping():
            return [place for key, value in node for place in (*places(key), *places(value))]


def composed_places(node: Any) -> list[tuple[str, int, int]]:
    """The same of a node of the other parser, whose marks count from 0."""
    if node.id == "scalar":
        return [(node.value, node.start_mark.line + 1, node.start_mark.column + 1)]
    parts = [part for pair in node.value for part in pair] if node.id == "mapping" else node.value
    return [place for part in parts for place in composed_places(part)]


@settings(max_examples=150, deadline=None)
@given(DOCUMENTS, st.booleans())
def test_reading_what_was_written_gives_what_there_was(document: dict[str, Any], flow: bool) -> None:
    assert plain(read_text(written(document, flow=flow), "h")) == document


@settings(max_examples=150, deadline=None)
@given(DOCUMENTS, st.booleans())
def test_every_scalar_stands_where_the_other_parser_finds_it(document: dict[str, Any], flow: bool) -> None:
    text = written(document, flow=flow)
    other = YAML(typ="safe", pure=True).compose(StringIO(text))
    assert places(read_text(text, "h")) == composed_places(other)
