"""Engineering functions on SI floats and arrays: N, m, rad, s. No document, no rule, no disk, no clock.

Each module holds one idea and is imported by its own name. The batten on its lines:

* `batten` the pipe, its lines, what hangs on it; `section` the pipe's cross-section;
* `held` the flexibility of a batten and its lines, worked out once; `tight` which lines pull and which hang
  slack;
* `reactions` **the door**: `solve(batten, lines, loads)` gives the tension of every lift line;
* `bending` shear, moment and deflection along the pipe; `stress` what that does to the pipe;
* `trim`, `slack_extremes` lines out of level; `load_bounds` weights and places known only within bounds;
* `influence`, `tributary`, `splice_range`, `lost_support`, `curtain_travel`, `grid_beam` further questions;
* `capacity` turned round: how much may still be hung by which of the `limits`, as the load grows
  (`growing_load`);
* `rope_stretch` stretch and shock; `small_programme` linear programmes of a dozen unknowns.

Outside its limits a computation gives a `Refused` (see `refusal`), never a figure. Nothing here says that a
rig is safe: the marking on a part, its maker's data, the local code and a licensed or otherwise competent
person govern.
"""
