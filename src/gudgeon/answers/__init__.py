"""What the maker asks: one module, one question."""
