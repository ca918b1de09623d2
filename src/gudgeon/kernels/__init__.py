"""Arithmetic only: compiled loops over floats and arrays, no words and no refusals."""
