"""Pure functions of numbers and arrays: distances, growth, streams, canopies."""
