"""A tank opened for questions about one date."""
