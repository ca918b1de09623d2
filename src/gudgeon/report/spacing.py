"""Places along a line, moved apart as little as may be."""

from collections.abc import Sequence


def spread_out(places: Sequence[float], apart: float) -> list[float]:
    """Places in order, each moved as little as may be until it is `apart` from the next."""
    groups: list[tuple[float, int]] = []  # middle of a run of places that touch, and how many
    for place in places:
        middle, count = place, 1
        while groups and middle - 0.5 * apart * (count - 1) < groups[-1][0] + 0.5 * apart * (groups[-1][1] + 1):
            other, many = groups.pop()
            middle, count = (middle * count + other * many) / (count + many), count + many
        groups.append((middle, count))
    return [middle + apart * (number - 0.5 * (count - 1)) for middle, count in groups for number in range(count)]
