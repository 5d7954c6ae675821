"""What a pack consists of, as one number: two houses with the same digest use the same pack to the last
letter.
"""

from collections.abc import Iterable
from hashlib import sha256


def digest(files: Iterable[tuple[str, bytes]]) -> str:
    """SHA-256 over files in order of their names, each with its name and length, so that no two packs read
    alike.

    >>> digest([("b", b"2"), ("a", b"1")]) == digest([("a", b"1"), ("b", b"2")])
    True
    """
    total = sha256()
    for name, content in sorted(files):
        total.update(f"{name}\0{len(content)}\0".encode())
        total.update(content)
    return total.hexdigest()
