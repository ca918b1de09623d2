"""What nature does: frozen things in, frozen things out."""
