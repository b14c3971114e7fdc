"""What everything else speaks of: tanks, vocabulary, cells, changes, answers. All of it is frozen."""
