"""What the maker writes."""
