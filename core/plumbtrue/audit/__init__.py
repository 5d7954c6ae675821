"""Rules times things: outcomes, a verdict for each line set and for the house, waivers."""
