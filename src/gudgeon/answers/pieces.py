"""Each segment alone with its own hooks and half its hinge: the trade wants each to float, or sink, alike."""

from dataclasses import dataclass, replace

from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.physics.lure import SHAPED, WATER, Lure
from gudgeon.physics.mass import MASS, MASS_Z, VOLUME, VOLUME_Z
from gudgeon.physics.spread import Array, Estimate, directions, smooth

ALIKE_WITHIN = 0.03  # of its own weight: common practice, no source


def _heaviness(state: Array) -> Array:
    """Weight in water over weight."""
    share: Array = 1.0 - state[..., WATER] * state[..., VOLUME] / state[..., MASS]
    return share


@dataclass(frozen=True)
class PieceAnswer:
    """One segment.

    start, stop : [m] where it is cut
    volume      : [m3] finished
    blank       : [kg] of its wood, shaped, before any hole
    rate        : alone in the water
    lever       : [m] height of its buoyancy centre above its weight centre
    unlike      : share of its own weight by which its weight in water differs from its share of the whole's
    """

    name: str
    start: float
    stop: float
    volume: Estimate
    blank: Estimate
    rate: SinkingRate
    lever: Estimate
    unlike: Estimate


def pieces(lure: Lure) -> tuple[PieceAnswer, ...]:
    """Every segment of a lure, from the nose."""
    whole, whole_effects = lure.state()
    answers = []
    for place, segment in enumerate(lure.segments):
        mask = lure.chosen(segment=place)
        state, effects = lure.state(mask)
        falling = replace(lure.falling, plan_area=segment.plan_area, drag_centre=segment.plan_centre)
        blank, blank_effects = lure.state(lure.chosen(step=SHAPED, segment=place))
        direction = directions(_heaviness, state, effects) - directions(_heaviness, whole, whole_effects)
        unlike = float(_heaviness(state) - _heaviness(whole))
        spread = lure.knowledge.half_width(direction)
        answers.append(
            PieceAnswer(
                segment.name, segment.start, segment.stop,
                smooth(lambda s: s[..., VOLUME], state, effects, lure.knowledge),
                smooth(lambda s: s[..., MASS], blank, blank_effects, lure.knowledge),
                sinking_rate(state, effects, lure.knowledge, falling),
                smooth(lambda s: s[..., VOLUME_Z] / s[..., VOLUME] - s[..., MASS_Z] / s[..., MASS], state, effects,
                       lure.knowledge),
                Estimate(unlike, unlike - spread, unlike + spread),
            )
        )  # fmt: skip
    return tuple(answers)
