"""Gudgeon: the sums behind a hand-made wooden lure, done before the first cut and after every weighing."""

__version__ = "0.1.0"
