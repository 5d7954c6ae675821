"""Packs of rules: folders of data, read, checked, and laid over one another."""
