"""How much water the air gives wood, and how much of it a finish keeps out."""

from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name
from gudgeon.library.source import Source, figure, source_of, table
from gudgeon.units import Part, Temperature, celsius


def equilibrium_moisture(temperature: Temperature, relative_humidity: Part) -> Part:
    """The moisture wood comes to when it is left long in air of one temperature and humidity.

    temperature       : [K] 272.04 to 327.59 (30 to 130 F), the span of the source's table
    relative_humidity : [1] 0 to 1
    returns           : [1] of the dry weight
    raises            : OutsideSource
    source            : Wood Handbook, FPL-GTR-190 (2010), equation 4-5 in Celsius, table 4-2; Simpson, FPL-RN-0268
    """
    t = celsius(temperature)
    if not -1.2 <= t <= 54.5:
        raise OutsideSource(f"air at {t:.1f} C: the table of wood's moisture covers -1.1 to 54.4 C")
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutsideSource(f"a relative humidity of {relative_humidity * 100:.3g} % cannot be; use 0 to 100 %")
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * relative_humidity
    percent = 1800.0 / w * (kh / (1.0 - kh) + (k1 * kh + 2.0 * k1 * k2 * kh**2) / (1.0 + k1 * kh + k1 * k2 * kh**2))
    return percent / 100.0


@dataclass(frozen=True)
class KeptOut:
    """The share of the water vapour a finish keeps out of wood, after a time in damp air.

    one_day, seven_days, fourteen_days : [1] 1 keeps all out, 0 none; None where the table has no entry
    """

    finish: str
    coats: int
    one_day: Part | None
    seven_days: Part | None
    fourteen_days: Part
    source: Source


def _share(text: str) -> Part | None:
    percent = figure(text)
    return None if percent is None else percent / 100.0


def moisture_excluding(finish: str, coats: int) -> KeptOut:
    """How much of the damp a finish keeps out of the wood.

    finish : "polyurethane paint gloss two-part", "linseed oil", "epoxy clear"
    coats  : as many as the table has for it
    raises : OutsideSource, with the finishes or the numbers of coats there are
    source : Wood Handbook, FPL-GTR-190 (2010), table 16-3, and the same laboratory's tests as quoted
    """
    rows = table("finishes")
    names = {row["finish"]: (row["finish"],) for row in rows}
    key = find_name(finish, names, kind="finish", way_out="or test a painted offcut: weigh it before and after a soak")
    own = [row for row in rows if row["finish"] == key]
    for row in own:
        fourteen_days = _share(row["fourteen_days_percent"])
        if int(row["coats"]) == coats and fourteen_days is not None:
            return KeptOut(key, coats, _share(row["one_day_percent"]), _share(row["seven_days_percent"]),
                           fourteen_days, source_of(row))  # fmt: skip
    counts = " or ".join(row["coats"] for row in own)
    raise OutsideSource(f"'{key}' in {coats} coats is not in the table; it has {counts}")
