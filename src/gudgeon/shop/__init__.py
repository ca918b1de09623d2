"""What happened at the bench: every lure of a shop from board to water, in one file."""
