"""Work on the rule files themselves: prove them, measure their examples, compare and describe them."""
