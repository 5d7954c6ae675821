"""What a node says before anybody asks what it is about: a bare word, a fact in its long form, texts."""

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence


def is_word(node: Node | None, *words: str) -> bool:
    """Whether a node is one of these words, not in quotes."""
    return isinstance(node, Scalar) and not node.quoted and node.text in words


def value_node(node: Node) -> Node:
    """Where the value of a fact is written: in its long form under `is`."""
    value = node.get("is") if isinstance(node, Mapping) else None
    return node if value is None else value


def scalars(node: Node) -> tuple[Scalar, ...]:
    """The texts of a list, or the one text that stands alone."""
    items = node.items if isinstance(node, Sequence) else (node,)
    return tuple(item for item in items if isinstance(item, Scalar))


def by_key(node: Sequence) -> dict[str, Mapping]:
    """The mappings of a list that have a `key`, by it."""
    keyed = ((item.get("key"), item) for item in node.items if isinstance(item, Mapping))
    return {key.text: item for key, item in keyed if isinstance(key, Scalar)}
