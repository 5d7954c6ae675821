"""Houses and a plot, written as people write them. All of it is invented."""

RIG = """\
plumbtrue: rig/1
house:
  name: Tarn Hollow Municipal Theatre
  batten_zero: stage-right
  rails: [{key: pin rail, use: pin}]
  bricks:
    - {key: brick-28, weight: 28.0 lb +/- 2 %, thickness: 2 in}
    - {key: brick-20, weight: 20 lb, thickness: 1 in}
  inspections:
    - key: insp-2025
      on: 2025-04-10
      by: inspector of a licensed firm
      how: with-tools
      in_order: yes
      tested: yes
      not_seen: [arbor label of 12]
"""
"""The head of a rig file: what the sets below name."""

TYPICAL = """\
typical:
  gac: {kind: rope, family: wire, diameter: 1/4 in, construction: 7x19, material: galvanized,
      core: strand, breaking_strength: 7000 lb, strength_from: tag, sold_for: lifting,
      weight_per_length: 0.11 lb/ft, jacket: none}
  sleeve-copper: {kind: swage-sleeve, shape: oval, material: plated-copper, size: 1/4 in,
      presses: 4,
      tool: bench-press-2, stack_length: 2 in}
  thimble-quarter: {kind: thimble, size: 1/4 in, gauge: heavy, stack_length: 1-1/2 in}
  end-w:          # chain end: sleeve, thimble, chain caught in the thimble
    - like: sleeve-copper
    - like: thimble-quarter
    - {part: trim-chain, size: 1/4 in, grade: 80, type: welded, working_load_limit: 3500 lb,
          rating_from: mark, attachment: wrap, wraps: 2, legs: 2, end_joint: captured,
          legs_meet_above: 6 in, stack_length: 8 in}
  end-arbor:
    - like: sleeve-copper
    - like: thimble-quarter
    - {part: shackle, size: 5/16 in, closure: screw-pin, working_load_limit: 1500 lb,
          rating_from: mark}
  loft-7: {kind: loft-block, mount: upright, made_for: wire, tread_diameter: 7 in,
      groove_form: round,
      working_load_limit: 500 lb, rating_means: line-tension, rating_from: mark, wrap_angle: 90 deg,
      bearing: sealed, groove_height: 62'-0", low_point: 61'-6"}
  pipe-42: {kind: batten, form: pipe, nominal: 1-1/2, schedule: 40, grade: a53-a, length: 42'-0"}
"""
"""What several of these sets share."""

SOUND_SET = """\
line_sets:
  - number: 14
    name: Border 3
    seen: {by: qualified inspector, on: 2025-06-10, how: with-tools, in_order: yes, tested: yes}
    system: single-purchase
    use: general
    drive: hand
    tagged_out: none
    reconditioned: 2016-07
    renewal_state: whole
    from_plaster_line: 13'-8"
    lines_stated: 5
    posted_per_length: 15 lb/ft
    posted_point_between: 150 lb
    present_load: 420 lb
    held_by: lock
    low_trim: 4'-0"
    batten: {like: pipe-42,
        splices: [{at: 13'-6", type: sleeve-bolted, sleeve_each_side: 9 in, bolts_each_side: 2,
            bolts: {grade: j429-5}}, {at: 28'-6", type: sleeve-bolted, sleeve_each_side: 9 in,
            bolts_each_side: 2, bolts: {grade: j429-5}}]}
    lift_lines:
      at: {1: 2'-0", 2: 11'-6", 3: 21'-0", 4: 30'-6", 5: 40'-0"}
      each: {role: lift, rope: {like: gac, installed: 2016-07, diameter_as_new: 0.254 in},
          upper: end-arbor, lower: end-w, blocks: [{like: loft-7, fleet_offset: 1-3/4 in,
          fleet_run: 10'-6"}]}
    head_block: {grooves: 5, mount: underhung, made_for: wire, tread_diameter: 10 in,
        working_load_limit: 1200 lb, rating_means: total, wrap_angle: 90 deg, bolts: {count: 4,
        designed: 4, grade: j429-5}}
    arbor: {capacity: 1200 lb, capacity_of: weights, weight: 90 lb, clear_height: 60 in,
        plates_thickness: 1-1/2 in, travel: 54'-0", weights: {brick-20: 23}}
    guide: {type: rail}
    hand_line: {rope: {family: polyester, diameter: 3/4 in, installed: 2021},
        upper: [{part: hand-splice,
        tucks: 4}, thimble], lower: [{part: hand-splice, tucks: 4}, thimble]}
    rope_lock: {range_least: 5/8 in, range_most: 3/4 in, tested_on: 2025-08-20}
    tension_block: {mount: wall, made_for: fibre}
    alterations: [{on: 2016-07, what: reconditioned, like_for_like: no}]
    load_tests: [{on: 2016-07, load: 630 lb, full_travel: yes}]
"""
"""A single-purchase set in good order, five lines."""

OLD_SET = """\
line_sets:
  - number: 14
    seen: {by: head of flys, on: 2026-02-10, how: by-hand, in_order: yes, not_seen: [head_block],
        photos: [s14-lower-2.jpg]}
    system: single-purchase
    from_plaster_line: 13'-8"
    built: 1962
    renewal_state: original
    lines_stated: 4
    posted_total: 350 lb
    posted_point_between: 60 lb
    present_load: none
    batten: {form: pipe, nominal: 1-1/4, schedule: 40, grade: a53-a,
        length: 48'-0", splices: unknown, note: "splices under old tape, could not tell where"}
    lift_lines:
      at: {1: SR 21'-0", 2: SR 7'-0", 3: SL 7'-0", 4: SL 21'-0"}
      each:
        role: lift
        rope: {family: wire, diameter: 1/4 in, construction: 6x19, core: fibre, material: bright,
            grade: none, tag: none, record: none, breaking_strength: none, installed: 1962,
            corrosion: surface, lubrication: dry}
        # A clove hitch, its tail held by three clips: the hitch carries, so it comes first.
        lower:
          - {part: knot, type: clove-hitch, round: pipe, tail_secured: clips, stack_length: 3 in}
          - {part: wire-rope-clips, count: 3, type: u-bolt, material: malleable, size: 1/4 in,
                spacing: 1-1/2 in, saddle_on: live, turn_back: 5 in, torque_made: none,
                torque_after_load: none, witness_mark: none,
                    note: "rough parting line, no maker's mark"}
        upper:
          - {part: wire-rope-clips, count: 3, type: u-bolt, material: malleable, size: 1/4 in,
                spacing: 1-1/2 in, saddle_on: live, turn_back: 5 in, torque_made: none,
                torque_after_load: none}
          - thimble
          - {part: shackle, size: 3/8 in, closure: screw-pin, working_load_limit: 2000 lb,
                mark: full}
        blocks: [{part: loft-block, mount: underhung, tread_diameter: 8 in,
            working_load_limit: none,
            mark: none, certificate: none, rating_from: none}]
      except:
        - {lines: [2, 3], rope: {corrosion: {is: pitted, note: "just above the hitch",
              photo: s14-lower-2.jpg}, corrosion_at: above the hitch}}
    arbor: {capacity: 900 lb, capacity_of: weights, weight: 60 lb, clear_height: 64 in,
        travel: 54'-0", stop_low: 1'-6"}
"""
"""A set of 1962 with hitches, malleable clips and rust."""

DOUBLE_PURCHASE_SET = """\
line_sets:
  - number: 22
    seen: insp-2025
    system: double-purchase
    from_plaster_line: 20'-10"
    lines_stated: 5
    posted_total: 580 lb
    purchase_sign_rail: readable
    purchase_sign_bridge: readable
    batten: {like: pipe-48, splices: none}
    lift_lines:
      at: {1: SR 21'-0", 2: SR 10'-6", 3: CL, 4: SL 10'-6", 5: SL 21'-0"}
      each: {role: lift, rope: {like: gac, installed: 1987}, upper: end-f3, lower: end-w-shackled,
          blocks: [loft-7]}
      except: [{lines: [1, 2, 3, 4, 5], lower: {shackle: {mousing: plastic-tie, mousing_since: 2019,
          planned_until: none}}}]
    dead_ends: [{of: lines 1 to 5, fixed_to: steel, working_load_limit: 2000 lb,
        rating_from: drawing},
        {of: hand line, fixed_to: steel, working_load_limit: 1000 lb, rating_from: drawing}]
    arbor: {capacity: 1350 lb, capacity_of: weights, weight: 110 lb, clear_height: 97 in,
        travel: 27'-0", stop_low: 23'-6", weights: {brick-28: 6}}
    hand_line: {rope: {family: manila, diameter: 3/4 in, installed: about 2010,
        fibre_condition: [glazed]}}
    rope_lock:
      seen: {by: head of flys, on: 2026-02-11, how: with-tools}
      tested_at: 30 lb
      creep: creeps
      tested_on: 2026-02-11
"""
"""A double-purchase set that an inspection of the house vouches for."""

HEMP_SET = """\
line_sets:
  - number: H1
    seen: {by: head of flys, on: 2026-02-12, how: by-hand}
    system: hemp
    from_plaster_line: 28'-6"
    lines_stated: 3
    rail: pin rail
    batten: {form: timber, length: 40'-0", weight: 120 lb, splices: none, kink: none}
    lift_lines:
      at: {1: SR 16'-0", 2: CL, 3: SL 16'-0"}
      each:
        rope: {family: manila, diameter: 5/8 in, installed: before 1990, breaking_strength: unknown,
            tag: none, record: none, fibre_condition: [powder]}
        lower: [{part: knot, type: half-hitches, round: pipe, tail_secured: none}]
        blocks: [{part: loft-block, made_for: fibre, mount: upright, turns: drags}]
    belays: [{pin: "12", round_turn: yes, figure_eights: 4, sets_on_pin: 1, pin_state: none}]
    sandbags: [{weight: 118 lb, weight_mark: readable, hung_by: trim-clamp, state: none}]
"""
"""A hemp set at a pin rail."""

WHOLE_HOUSE = """\
plumbtrue: rig/1
house:
  name: Tarn Hollow Municipal Theatre
  batten_zero: stage-right
  schedule_revision: "7"
  schedule_on: 2026-02-13
  posted_rules: [load-order, imbalance-limit, call-words, people]
  training_log: kept
  framing_plan: none
  sightline: {hidden_above: 30'-0"}
  grid: {height: 61'-6", posted_limit: none, limit_plate: none, openings: none, loose_things: none}
  bridges:
    - {key: upper,
          height: 54'-0", posted_limit: 150 lb/ft2, limit_plate: readable, guard_height: 42 in,
              toeboard_height: 4 in, arbor_side: gate, openings: none, bays: [{key: A, area: 60 ft2,
              weights: {brick-28: 40, brick-14: 12}, stack_height: 4 in}, unknown]}
  bricks:
    - {key: brick-28, weight: 28.0 lb +/- 2 %, sample: 10, thickness: 2 in, material: steel,
          stock: 372}
    - {key: brick-14, weight: 14.0 lb +/- 2 %, sample: none, thickness: 1 in, material: steel,
          stock: 96}
  beams: [{key: loft CL, what: loft-beam,
      underside: 61'-0", capacity: none, capacity_sideways: none, capacity_paper: none,
          damage: none, other_loads: none}]
  sprinklers: [{key: grid row, deflectors_at: 60'-3", from: 0 ft, to: 34'-0"}, {key: back wall,
      deflectors_at: 34'-0", from: 31'-0", to: 34'-0"}]
  fire_curtain: {from_plaster_line: 0'-6", thickness: 4 in, tested: 2025-12-05, dropped: 2025-12-05,
      release: free, changes: none, obstructions: none}
  inspections:
    - {key: insp-2025, on: 2025-04-10, by: inspector of a licensed firm, qualification: qualified,
          how: with-tools, in_order: yes, tested: yes, every_part: yes,
              not_seen: [arbor label of 12,
          sleeve gauge of 16, chain mark of 29], report: report-2025}
  events: none
  papers: [{key: report-2025, title: Yearly inspection, on: 2025-04-10, by: licensed firm}]
"""
"""A house with bridge, grid, bricks and papers."""

PLOT = """\
plumbtrue: plot/1
typical:
  half-ton: {kind: hoist, working_load_limit: 1000 lb, mark: full, inspected: 2025-11-02, body: up,
      body_weight: 75 lb, chain_weight: 0.5 lb/ft,
      chain_length: 60'-0", second_means: second-line, plumb: at most 3 deg, bag: long-enough}
  leg: [{part: sling, type: wire-rope, hitch: vertical, working_load_limit: 2400 lb, mark: full,
      inspected: 2025-11-02}]
plot:
  show: The Tin Meridian
  revision: A
  issued: 2026-03-30
  issued_by: tour's production rigger
  load_in: 2026-04-14 08:00
  strike_ends: 2026-04-20 02:00
  house_schedule: "6"
  sets_drawn: [{key: 17, from_plaster_line: 15'-11"}, {key: 20, from_plaster_line: 19'-4"}]
  accepted: none
  items:
    - {key: "09", name: border 2, category: border, on: 11, weight: 75 lb, weight_basis: weighed,
          weighed_on: 2026-03-02, includes: [all], loads: [{from: SR 22'-0", to: SL 22'-0",
          weight: 75 lb}],
          height: 8'-0", drop_to_top: 2 in, half_depth: 2 in, moves: no, flame_paper: fp-09}
    - key: "23"
      name: blackout traveller
      category: curtain
      on: 28
      weight_basis: weighed
      half_depth: 4 in
      moves: draws
      track: {weight: 110 lb,
          hanger_spacing: 4'-0", splice_to_hanger: 6 in, end_stops: both-bolted,
              pull_line_to: track}
      panels:
        - {weight: 92 lb, closed_from: CL, closed_to: SR 24'-0", stack_at: SR 24'-0",
              stack_length: 3'-0", gathers: off-stage}
        - {weight: 92 lb, closed_from: CL, closed_to: SL 24'-0", stack_at: SL 24'-0",
              stack_length: 3'-0", gathers: off-stage}
    - key: "14"
      category: electric
      on: 18
      weight_basis: counted
      extent: [{from: SR 20'-6", to: SL 20'-6", half_depth: 10 in}]
      units:
        - {at: [both 2'-0", both 6'-0", both 10'-0", both 14'-0",
              both 18'-0"], weight: 46 lb, swept_half_depth: 10 in, lit_towards: any,
                  least_distance: 6 in}
        - {at: [both 4'-0", both 8'-0", both 16'-0", both 20'-0"], weight: 22 lb,
              swept_half_depth: 8 in,
              lit_towards: down}
      cables: [{run: 23'-6", count: 3, per_length: 0.85 lb/ft, from: SR 22'-0", to: SL 22'-0"}]
      feed: [{weight_per_length: 2.55 lb/ft, loop_length: 34'-0", pick_height: 30'-0",
          support: both-ends}]
      locked: yes
      trims: [4'-0", 27'-0"]
      second_lines: [{to: same-pipe, slack: 8 in, working_load_limit: 200 lb}]
    - {key: "21", name: ship profile, category: framed, on: 26, weight: 520 lb, weight_basis: drawn,
          includes: [frame, hardware], loads: [{at: [both 4'-0", both 12'-0"], weight: 130 lb}],
          height: 14'-0", drop_to_top: 2 in, half_depth: 2 in, moves: flies, over_people: cast,
              people: none, hangs_from_its: bottom-rail, taller_than_trim_plan: stage-plan-21}
    - {key: "30", name: shop sign, category: sign, on: sign truss, weight: 310 lb,
          weight_basis: weighed,
          weighed_on: 2026-03-12,
          loads: [{at: both 3'-0", weight: 155 lb}], moves: no, over_people: cast}
    - {key: "13", name: star drop, category: drop, on: 17, weight: 190 lb, weight_basis: weighed,
          height: 24'-0", half_depth: 2 in, moves: flies}
  points: [{key: P1, across: SR 10'-6", from_plaster_line: 32'-0",
      height: 61'-0", anchor: {type: beam-clamp, holds_to: beam, beam: loft 2,
          working_load_limit: 2000 lb}, rating: none, rating_sideways: none}, {key: P2, like: P1,
          across: CL}, {key: P3, like: P1, across: SL 10'-6"}]
  trusses:
    - key: sign truss
      length: 24'-0"
      depth: 12 in
      weight: 144 lb
      maker_table: none
      trim: 28'-0"
      from_plaster_line: 32'-0"
      supports: [{at: 6'-0", hoist: H-1, at_panel_point: yes, load_cell: none}, {at: 18'-0",
          hoist: H-2,
          at_panel_point: yes, load_cell: none}]
  bridles:
    - {key: B1, apex_height: 56'-0", apex_across: SR 6'-0", legs: [{point: P1,
          horizontal: 4'-6", rise: 5'-0", path: leg}, {point: P2, horizontal: 6'-0", rise: 5'-0",
          path: leg}]}
    - {key: B2, apex_height: 56'-0", apex_across: SL 6'-0", legs: [{point: P2,
          horizontal: 6'-0", rise: 5'-0", path: leg}, {point: P3, horizontal: 4'-6", rise: 5'-0",
          path: leg}]}
  hoists: [{key: H-1, like: half-ton, hangs_on: B1}, {key: H-2, like: half-ton, hangs_on: B2}]
  cues: [{key: Q12, item: "13", from: 4'-0", to: 30'-0", time: 10 s, operators: 1, rehearsed: yes,
      view: clear, stop_word: hold, people_within: 10 ft}]
  steps: [{key: ship on, order: 1, set: 26, batten_change: 520 lb,
      batten_at: 4'-0", loader: fly crew, caller: head of flys, area_clear: yes}, {key: ship bricks,
          order: 2, set: 26, arbor_change: {brick-28: 37}, batten_at: 4'-0"}]
"""
"""What an invented show hangs in it."""
