"""YAML text as a tree whose every value knows where it was written, and problems that say what to write instead."""
