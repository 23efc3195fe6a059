"""Keys where any word is right, and misspellings that cannot be told, each with the reason."""

# (shape, key, "value" or "name"): why
FREE = {
    ("build", "job", "value"): "a number of the shop's own",
    ("build", "copy", "value"): "a number of the shop's own",
    ("build", "machine", "value"): "printed as given",
    ("build", "machine", "name"): "printed as given",
    ("build", "customer", "value"): "printed as given",
    ("build", "customer", "name"): "printed as given",
    ("build", "people", "value"): "a person's name",
    ("build", "recheck", "value"): "printed as given",
    ("build", "undisturbed", "value"): "the reason, a sentence",
    ("engine", "loose", "value"): "declares; handles and swallows name it",
    ("engine", "holds", "value"): "declares; hold_kind names it",
    ("in-set", "members", "value"): "declares; by member and [ ] name it",
    ("engine", "joints", "name"): "declares; as a part's joints",
    ("shop", "gauges", "name"): "declares; a box's gauge names it",
    ("shop", "wrenches", "name"): "a name of the shop's own; nothing names it",
    ("shop", "people", "value"): "a person's name",
    ("in-gauge", "id", "value"): "the number on it",
    ("in-wrench", "id", "value"): "the number on it",
    ("part", "number", "value"): "the maker's order number",
    ("part", "notes", "value"): "a sentence",
    ("in-step", "id", "value"): "declares; after, before, since and notes name it",
    ("in-block", "id", "value"): "declares; after names it",
    ("in-box", "at", "value"): "where it is measured, in the writer's words",
    ("in-value", "page", "value"): "a page of the sheet",
    ("in-limit", "page", "value"): "a page of the sheet",
    ("in-joint", "page", "value"): "a page of the sheet",
    ("in-pass", "check", "value"): "what to look at, in the writer's words",
    ("in-pass_2", "check", "value"): "what to look at, in the writer's words",
    ("in-worked-out_value", "letter", "value"): "a letter of its own",
}

FREE.update({("readings", key, slot): "see tests/check_readings" for key, slot in (
    ("readings", "name"), ("fitted", "name"), ("revision", "value"))})
FREE.update({(shape, "asks", slot): "printed as given"
             for shape in ("engine", "part") for slot in ("name", "value")})
FREE["in-result_of_a_check", "found", "value"] = "see tests/check_readings"

# (shape, key, word): why
KNOWN = {
    ("part", "mates", "axle"): "no other part of the fork meets by it",
    ("in-joint", "thread", "M10x1"): "M1x1 is nearer to other threads",
    ("in-joint", "thread", "M38x1"): "M3x1.5 is nearer to other threads",
    ("part", "mates", "M14x1"): "of two that differ neither is known to be right",
    ("in-thread_s_hole", "thread", "M10x1"): "M1x1.5 is nearer to other threads",
    ("in-step", "otherwise", "wipe_base"): "the step is left out where a gasket is chosen",
    ("in-box", "occasion", "received"): "an occasion of the writer's own, named once",
    ("in-box", "occasion", "record"): "an occasion of the writer's own, named once",
    ("in-box", "occasion", "before"): "an occasion of the writer's own, named once",
    ("in-concession", "of", "piston_clearence"): "is misspelt already",
    ("in-concession", "of", "piston_clearense"): "is misspelt already",
    ("part", "mates", "t764"): "of two that differ neither is known to be right",
}
