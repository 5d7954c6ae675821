"""plumbtrue checks a theatre's rigging, written down as data, against rules that are data too."""

__version__ = "0.1.0"
