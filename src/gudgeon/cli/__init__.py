"""Names to commands."""
