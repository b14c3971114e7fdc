"""Text of rule files, cards and house files to a checked tree, and back to text."""
