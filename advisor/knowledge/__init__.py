"""Knowledge: the rule files read, cards by any name, and cards as answers."""
