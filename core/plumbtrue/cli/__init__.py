"""Thin commands: parse, call the library, print, return a status."""
