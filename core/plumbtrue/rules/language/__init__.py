"""The rule language: from a text in a rule pack to an answer about a thing, in three steps that know
nothing of one another.

* `parsing.parse(text, place)` gives the tree of what is written (`nodes`), or a problem. It knows no rig.
* `checking.check_claim(expression, scope)` gives its `meaning`, or problems: names found, dimensions and
  words checked. It knows no values. A `Scope` holds the vocabulary, the kinds a rule is about, its
  parameters (`Given`) and tables; `checking.with_lets` adds named values; `Scope.where(meaning of when)`
  is the scope of what is asked only where a condition holds.
* `careful.evaluate(meaning, facts, thing)` gives an `Evaluated`: the answer (`.truth`), what is missing,
  and the working. `fast.compile_fast(meaning)` gives a function of the same that answers or raises
  `NotExact`. Both raise `RuleError` or hand over where the rule itself fails.

`explaining` puts the working into words, `texts` fills findings and remedies, `tables` holds look-up tables.
"""
