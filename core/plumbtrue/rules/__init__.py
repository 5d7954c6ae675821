"""The rule language (grammar, check, evaluate, explain) and packs (load, layer, tables, examples)."""
