"""YAML text as a tree whose every value knows its place, and problems that say what to write instead."""
