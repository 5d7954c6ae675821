"""Engineering functions on SI floats and arrays: N, m, rad, s. No document, no rule, no disk, no clock.

Each module holds one idea and is imported by its own name. Outside its limits a computation gives a `Refused`
(see `refusal`), never a figure. Nothing here says that a rig is safe: the marking on a part, its maker's
data, the local code and a licensed or otherwise competent person govern.

The batten on its lines:

* `batten` the pipe, its lines, what hangs on it: values only
* `section` a tube's cross-section: area, moments, weight
* `held` the flexibility of a batten and its lines, worked out once for every question after
* `tight` which lines pull and which hang slack
* `reactions` **the door**: `solve(batten, lines, loads)` gives the tension of every lift line
* `bending` shear, moment and deflection along the pipe, from all forces on it
* `stress` bending and shear stress, what is allowed, and the share of it in use
* `splice_range` a joint of unknown stiffness: between a hinge and unbroken pipe
* `trim` lines out of level: sensitivity, worst case within a tolerance, which line is short
* `slack_extremes` extremes over a box of offsets or weights in which lines may go slack
* `small_programme` the small linear programmes that those need
* `load_bounds` weights and places known only within bounds, and what to put on a scale first
* `influence` what each line feels of a unit weight wherever it hangs
* `tributary` the rule of thumb beside the real figure
* `lost_support` a line, point or hoist lost: what the others then carry
* `curtain_travel` curtains closed, drawn into stacks, and every step between
* `grid_beam` a beam of the grid under its blocks
* `limits` what limits a batten, each by the name that a report gives it
* `growing_load` a load that grows from nothing, lines going slack on the way
* `capacity` the greatest load that the limits allow, and which governs

Counterweight and its handling:

* `balance` batten side against arbor side, and the counterweight that balances them
* `brick_stack` which whole bricks make up a weight, and whether they fit
* `load_sequence` out-of-balance and energy through a load-in, in the planned and in the worst order
* `closure` the heaviest set of events that may have happened, for the worst order
* `rope_shift` rope that passes over the blocks in travel, and the chain that makes up for it
* `hand_line` pull at the hand line, and friction from two pulls
* `rope_lock` a lock against the out-of-balance that it is asked to hold
* `runaway` speed, energy and stopping force of a set that runs
* `cue_pull` pull at the hand line that a move in the show takes
* `arbor_pull` how far off its centre the lines pull an arbor

Ropes, ends and what they pass over:

* `load_path` every part between arbor and batten, and which is the weakest
* `rope_stretch` stretch and stiffness of wire rope, and the jolt of a caught load
* `rope_condition` measured condition against discard criteria; never strength that is left
* `bend_efficiency` static strength that a wire rope keeps over a sheave or pin
* `sheave_ratio` sheave and groove against rope diameter
* `chain_wrap` chain round the pipe: legs, angle, length, choke
* `sling_leg` tension in the legs of a sling, and what a hitch makes of its rating
* `angle_factors` factors on a rated load by the angle of pull, in steps
* `cut_length` rope to cut for a lift line
* `cut_list` cutting ropes from reels

Blocks and places:

* `blocks` what a block does to the steel that holds it: resultant, uplift, bolts
* `head_block` pull of a whole set on head block and head beam
* `fleet_angle` how far a rope is off the plane of its groove
* `plumb` a line out of plumb: angle, level pull, height at which a limit is reached
* `drift` where a free batten hangs when its lines are out of plumb
* `trim_heights` how high a batten goes, what stops it, and what is then out of sight
* `clearance` room between a hung piece and its neighbours

Pieces of a show and their points:

* `bridle` two legs in a plane, by geometry or by length
* `bridle_in_space` three legs, and the worst three of four
* `hoist_point` load on a hoist's point, and what starting and stopping add
* `breast_line` a line that pulls a hung piece aside
* `centroid` centre of gravity of a list of loads
* `make_up` weight of a piece from what it is made of
* `curtain_weight` weight of a curtain from its cloth
* `cable_feed` share of a hanging cable loop that the pipe carries
* `draught` force of moving air on a cloth
* `swing` a hung piece as a pendulum, and how far a steady force holds it aside

Reconditioning:

* `renewal_jobs` jobs of a programme, and those that go together
* `renewal_plan` which work is done in which year within each year's money
* `renewal_search` that plan by exhaustive search
* `renewal_programme` that plan by integer programming

Beneath all of them:

* `gravity` standard gravity, for what moves
* `refusal` the named refusal, and what a caller may not hand in
"""
