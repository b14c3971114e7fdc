"""Search for placements: questions asked of a tank, each a change laid over it."""
