"""Survey tables, rules compiled to column operations, verdicts and their reasons."""
