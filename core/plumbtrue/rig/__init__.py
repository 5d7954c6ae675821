"""The rig as a tree of things with kinds and facts, as the schemas define them."""
