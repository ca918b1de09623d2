"""Constants of the water's force that a maker may put in place of the published ones: `[coefficients]`."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, field_validator
from pydantic_core import CoreSchema, core_schema

from gudgeon.design.table import LONGEST_QUANTITY, Table, shown
from gudgeon.errors import BadQuantity
from gudgeon.units import ANGLE, STIFFNESS, TIME, TORQUE, Reading, number


@dataclass(frozen=True)
class Plain:
    """Marks a number without a unit: bare, or in quotes with its own spread, from `least` to `most`."""

    least: float
    most: float

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Reads what is written before the table keeps it."""
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def read(self, value: Any) -> Reading:
        """What is written, as a reading: 0.5, "0.5 ± 0.1", "0.5 ± 20 %".

        raises : ValueError, saying what would do
        """
        reading = value if isinstance(value, Reading) else _reading(value)
        if reading is None or not abs(reading.value) < 1e9:  # nan fails this too
            raise ValueError(f'{shown(value)} is not a number; write 0.5 or "0.5 ± 0.1", without a unit')
        if not self.least <= reading.value <= self.most:
            given = shown(value) if not isinstance(value, Reading) else f"{value.value:g}"
            raise ValueError(f"{given} cannot be: it is {self.least:g} to {self.most:g}")
        return reading


def _reading(value: Any) -> Reading | None:
    """A bare number, or a number in quotes with or without its spread; None for anything else."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Reading(float(value)) if abs(value) < 1e9 else None
    if not isinstance(value, str) or len(value) > LONGEST_QUANTITY:
        return None
    parts = [part.strip() for part in re.split(r"±|\+/-|\+-", value)]
    try:
        middle = number(parts[0])
        if len(parts) == 1:
            return Reading(middle)
        shared = parts[1].endswith("%")
        spread = number(parts[1].rstrip("%")) * (abs(middle) / 100.0 if shared else 1.0)
    except BadQuantity:
        return None
    return Reading(middle, spread) if len(parts) == 2 and spread >= 0.0 else None


Share = Annotated[Reading, Plain(0.0, 1.0)]
Drag = Annotated[Reading, Plain(0.0, 5.0)]
EndDrag = Annotated[Reading, Plain(0.0, 2.0)]
KnownTime = Annotated[Reading, TIME]
_LEAST_STALL = 0.017  # rad
_LONGEST_DAMPING = 1.0  # s


class Coefficients(Table):
    """Water-force constants the maker overrides; left out, the published defaults stand."""

    fall_drag: Annotated[float, Field(gt=0.1, lt=5.0)] | None = None  # across the plan area
    fall_drag_spread: Annotated[float, Field(ge=0.0, lt=2.0)] | None = None
    mass_scale: Annotated[Reading, Plain(0.0, 1.2)] | None = None
    afterbody_recovery: Share | None = None
    wake_reattachment: Share | None = None
    open_joint_reattachment: Share | None = None
    carry_over: Share | None = None
    crossflow_drag_sideways: Drag | None = None
    crossflow_drag_vertical: Drag | None = None
    crossflow_drag_fin: Drag | None = None
    leading_edge_suction: Share | None = None
    stall_angle: Annotated[Reading, ANGLE] | None = None
    base_drag: EndDrag | None = None
    joint_drag: EndDrag | None = None
    hook_drag_coefficient: Drag | None = None
    lump_drag: Drag | None = None
    turbulent_share: Share | None = None
    lateral_friction: EndDrag | None = None
    stop_stiffness: Annotated[Reading, STIFFNESS] | None = None
    stop_damping: KnownTime | None = None
    joint_friction: Annotated[Reading, TORQUE] | None = None
    fin_damping: KnownTime | None = None
    fin_recovery: Share | None = None
    line_normal_drag: Drag | None = None
    line_tangential_drag: Share | None = None
    line_damping: EndDrag | None = None
    lip_side_edge_lift: Drag | None = None
    lip_normal_cap: Annotated[Reading, Plain(0.1, 3.0)] | None = None
    broadside_moment: Share | None = None
    side_centre_shift: Annotated[Reading, Plain(-0.5, 0.5)] | None = None

    @field_validator("stall_angle")
    @classmethod
    def _ahead(cls, angle: Reading | None) -> Reading | None:
        if angle is not None and angle.value < _LEAST_STALL:
            raise ValueError('must be at least 1 deg; a body stalls between "20 deg" and "45 deg"')
        return angle

    @field_validator("stop_damping", "fin_damping")
    @classmethod
    def _soon_over(cls, time: Reading | None) -> Reading | None:
        if time is not None and time.value > _LONGEST_DAMPING:
            raise ValueError('must be at most 1 s; a stop\'s is about "0.01 s"')
        return time

    @property
    def towing(self) -> Mapping[str, Reading]:
        """Those of the towed model that the maker gave, by name [SI]."""
        given = {name: getattr(self, name) for name in type(self).model_fields}
        return MappingProxyType({name: value for name, value in given.items() if isinstance(value, Reading)})
