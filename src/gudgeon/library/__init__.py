"""What others have published."""
