"""A keeper's tank folder: tank.yaml, tables and the journal, read and written."""
