"""The verbs for those who edit rules: one module a verb, named for it, with `options` and `run`."""
