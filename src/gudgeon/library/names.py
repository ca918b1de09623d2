"""Finding a row by the name a maker gives it: any word order, hyphens or capitals, and the trade's other names."""

import re
from collections.abc import Iterable, Mapping
from difflib import SequenceMatcher

from gudgeon.errors import OutsideSource

Words = frozenset[str]
Names = Mapping[str, Iterable[str]]

_EMPTY = frozenset({"the", "of", "and", "or", "spp", "sp"})
_DESCRIBING = frozenset({"wood", "hard", "soft", "heavy", "light", "dark", "clear", "common", "true"})  # no names alone
_NEAR = 0.12  # how much less alike than the nearest a name may be, of 1, to be offered beside it


def words_of(name: str) -> Words:
    """The words that tell a name apart: "Cedar, western red" and "western-red cedar" give the same three."""
    return frozenset(re.findall(r"[^\W_]+", name.casefold())) - _EMPTY


def other_names(cell: str) -> tuple[str, ...]:
    """The names in a table's cell, parted by semicolons."""
    return tuple(name.strip() for name in cell.split(";") if name.strip())


def _bare(words: Words) -> Words:
    """Without "wood", alone or as an ending: "balsa wood" and "beechwood" are balsa and beech."""
    return frozenset(word.removesuffix("wood") or word for word in words if word != "wood")


def _exact(wanted: Words, names: Names) -> list[str]:
    return [key for key, own in names.items() if any(words_of(name) == wanted for name in own)]


def _holding(wanted: Words, names: Names) -> list[str]:
    return [key for key, own in names.items() if wanted and any(wanted <= words_of(name) for name in own)]


def find_name(asked: str, names: Names, *, kind: str, way_out: str) -> str:
    """The key that a maker's name stands for.

    asked   : the name as the maker wrote it
    names   : key -> every name it goes by, its own among them
    kind    : what is looked for, in a refusal: "wood"
    way_out : what to do instead, in a refusal: "or give density, as weighed"
    returns : the key one of whose names has exactly these words; else the only key with a name that holds them all
    raises  : OutsideSource, listing what the words could mean, or the nearest names
    """
    wanted = words_of(asked)
    for words in (wanted, _bare(wanted)):
        for found in (_exact(words, names), _holding(words, names)):
            if len(found) == 1 and not words <= _DESCRIBING:
                return found[0]
            if found:
                raise OutsideSource(f"'{asked}' could be {_either(sorted(found))}; say which, {way_out}")
    near = _either(nearest_names(asked, names))
    raise OutsideSource(f"no {kind} '{asked}' is known; nearest in spelling: {near}; take one, {way_out}")


def nearest_names(asked: str, names: Names, most: int = 4) -> list[str]:
    """The keys whose names look most like what was asked, likest first: one at least."""
    wanted = words_of(asked)
    scores = {key: max(_likeness(wanted, words_of(name)) for name in own) for key, own in names.items()}
    likest = max(scores.values())
    near = [key for key, score in scores.items() if score >= likest - _NEAR]
    return sorted(near, key=lambda key: (-scores[key], key))[:most]


def _likeness(wanted: Words, own: Words) -> float:
    """How alike two names are, 0 to 1: each word asked for by its likest word, and the names as wholes."""
    best = [max((SequenceMatcher(None, word, other).ratio() for other in own), default=0.0) for word in wanted]
    whole = SequenceMatcher(None, " ".join(sorted(wanted)), " ".join(sorted(own))).ratio()
    return 0.8 * (sum(best) / len(best) if best else 0.0) + 0.2 * whole


def _either(names: list[str]) -> str:
    quoted = [f"'{name}'" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"
