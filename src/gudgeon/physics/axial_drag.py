"""What holds a body back along its own axis: skin friction, the share its form adds, and the blunt end.

A lure's Reynolds number is 5e4 to 5e5, where its skin may be laminar or turbulent, the turbulent line twice the other;
both are always told.
"""

import math
from dataclasses import dataclass

from gudgeon.errors import OutsideSource

LEAST_REYNOLDS, MOST_REYNOLDS = 1e3, 1e9
"""[1] on the body's length, for both friction lines. Below 1e4 the turbulent one is no more than an upper bound."""


@dataclass(frozen=True)
class SkinFriction:
    """Friction coefficient on the wetted skin: with it laminar, and with it turbulent from the nose on.

    laminar, turbulent : [1] force over 1/2 rho U^2 times area
    """

    laminar: float
    turbulent: float

    def at(self, turbulent_share: float) -> float:
        """The coefficient between the two: 0 gives the laminar one, 1 the turbulent."""
        return self.laminar + turbulent_share * (self.turbulent - self.laminar)


def skin_friction(reynolds: float) -> SkinFriction:
    """Friction of a smooth flat skin of one length.

    reynolds : [1] speed times length over kinematic viscosity, 1e3 to 1e9
    raises   : OutsideSource
    """
    return SkinFriction(laminar_friction(reynolds), turbulent_friction(reynolds))


def turbulent_friction(reynolds: float) -> float:
    """0.075 / (log10 Re - 2)^2.

    reynolds : [1] 1e3 to 1e9
    source   : ITTC 1957 model-ship correlation line, ITTC 7.5-02-02-02
    """
    _check(reynolds)
    return 0.075 / (math.log10(reynolds) - 2.0) ** 2


def laminar_friction(reynolds: float) -> float:
    """1.328 / Re^0.5.

    reynolds : [1] 1e3 to 1e9; real skins turn turbulent at 3e5 to 3e6
    source   : Blasius (1908), any fluid mechanics textbook
    """
    _check(reynolds)
    return 1.328 / math.sqrt(reynolds)


def _check(reynolds: float) -> None:
    if not LEAST_REYNOLDS <= reynolds <= MOST_REYNOLDS:
        raise OutsideSource(f"skin friction at Reynolds number {reynolds:.3g}: the lines go from {LEAST_REYNOLDS:g} to "
                            f"{MOST_REYNOLDS:g}; say another speed")  # fmt: skip


def form_factor(slenderness: float) -> float:
    """Drag of a streamlined body of revolution over the friction of its skin: 1 + 1.5 (d/l)^1.5 + 7 (d/l)^3.

    slenderness : l/d, length over diameter, or over the root of depth times width; at least 1
    raises      : OutsideSource for a body wider than long
    source      : Hoerner, Fluid-Dynamic Drag (1965), chapter 6, as two public codes have it
    """
    if not slenderness >= 1.0:
        raise OutsideSource(f"a body {slenderness:.3g} times as long as thick: the form factor starts at 1")
    thin = 1.0 / slenderness
    return 1.0 + 1.5 * math.pow(thin, 1.5) + 7.0 * thin**3


def axial_drag_area(*, friction: float, form: float, wetted_area: float, blunt_area: float, base_drag: float) -> float:
    """Drag coefficient times area [m2] of a body towed straight: force is 1/2 rho U^2 times it.

    friction    : [1] see `skin_friction`        form       : [1] see `form_factor`
    wetted_area : [m2] of its skin               blunt_area : [m2] of its cut-off rear end
    base_drag   : [1] of that end, on its area
    """
    return friction * form * wetted_area + base_drag * blunt_area
