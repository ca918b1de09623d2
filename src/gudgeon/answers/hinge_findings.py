"""What is wrong with a hinge, or will be: pins that miss, play, slots that bind, with the place and what to change."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.hinge_made import MadeHinge
from gudgeon.answers.hinge_parts import level_names
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

# Common practice, no source.
PLAY = (0.5e-3, 1.0e-3)  # m of a slot over what turns in it: the hinge's up and down play
EYE_PLAY = (0.3e-3, 0.8e-3)  # m of an eye's inside over its pin
PIN_COVER = 2e-3  # m of wood between a pin and the face it would tear out of
PIN_BEYOND = 2e-3  # m of pin in wood past its last slot
STRAP_BURIED = (10e-3, 15e-3)
STRAP_BARE = (1.5e-3, 3e-3)
STRAP_SLOT = (0.5e-3, 1.0e-3)
_SLACK = 5e-5  # m; not worth a word


def hinge_findings(made: MadeHinge, lure: Lure) -> Iterator[Finding]:
    """Everything to know about one hinge, in no order."""
    if made.sizes.has_pin:
        yield from _pin_place(made)
        yield from _pin_ends(made)
    if made.sizes.has_pin and made.sizes.has_eyes:
        yield from _eye_on_pin(made)
    if made.sizes.kind == "strap":
        yield from _strap(made)
    else:
        yield from _play(made)
    yield from _turning(made)
    yield from _levels(made, lure)


def where(made: MadeHinge) -> str:
    """The hinge, and the place of its axis, for a finding with the number {at}."""
    return f"{made.name[0].upper()}{made.name[1:]}, {{at}} from the nose,"


def _pin_place(made: MadeHinge) -> Iterator[Finding]:
    """The pin stands in wood."""
    half = 0.5 * made.gap
    least = half + 0.5 * made.sizes.pin + PIN_COVER
    if made.holder is None:
        yield wrong(
            f"{where(made)} has its pin in the open gap, where nothing holds it: the faces are {{gap}} apart. Set the "
            "joint's pivot {least} aft of the middle of the gap, or as far ahead.",
            at=(made.pivot, Measure.CUT), gap=(made.gap, Measure.WIRE), least=(least, Measure.WIRE),
        )  # fmt: skip
        return
    face = min((abs(made.pivot - face) for face in made.faces), default=0.0)
    cover = face - 0.5 * made.sizes.pin
    if cover < PIN_COVER - _SLACK:
        way = "aft" if made.holder == made.joint else "ahead"
        yield watch(
            f"{where(made)} leaves {{cover}} of wood between pin and joint face, {{wanted}} wanted. Move the joint's "
            f"pivot {{by}} {way}.",
            at=(made.pivot, Measure.CUT), cover=(max(cover, 0.0), Measure.WIRE), wanted=(PIN_COVER, Measure.WIRE),
            by=(PIN_COVER - cover, Measure.WIRE),
        )  # fmt: skip


def _pin_ends(made: MadeHinge) -> Iterator[Finding]:
    """The pin goes through everything that turns on it, and into the wood past it."""
    sizes = made.sizes
    thing = "eye" if sizes.has_eyes else "plate"
    ends = ((0, sizes.pin_bottom, 1.0, "bottom"), (-1, sizes.pin_top, -1.0, "top"))
    for place, end, up, key in ends:
        level = sizes.heights[place]
        name = f"{level_names(len(sizes.heights))[place]}{thing}"
        in_wood = up * (level - end) - 0.5 * sizes.slot
        through = up * (level - end) - 0.5 * sizes.turns
        needed = level - up * (0.5 * sizes.slot + PIN_BEYOND)
        if through <= 0.0:
            yield wrong(
                f"{where(made)} has a pin that misses its {name}: it ends at a height of {{end}}, the {name} lies at "
                f"{{level}}. Give pin_{key} = {{needed}}, or move the {thing}.",
                at=(made.pivot, Measure.CUT), end=(end, Measure.LENGTH), level=(level, Measure.LENGTH),
                needed=(needed, Measure.LENGTH),
            )  # fmt: skip
        elif in_wood < PIN_BEYOND - _SLACK:
            yield watch(
                f"{where(made)} has {{in_wood}} of its pin in the wood past the {name}'s slot, {{wanted}} wanted. Give "
                f"pin_{key} = {{needed}}.",
                at=(made.pivot, Measure.CUT), in_wood=(max(in_wood, 0.0), Measure.WIRE),
                wanted=(PIN_BEYOND, Measure.WIRE), needed=(needed, Measure.LENGTH),
            )  # fmt: skip


def _eye_on_pin(made: MadeHinge) -> Iterator[Finding]:
    sizes, play = made.sizes, made.eye_play
    if play is None or EYE_PLAY[0] - _SLACK <= play <= EYE_PLAY[1] + _SLACK:
        return
    tight = play < EYE_PLAY[0]
    words = "does not go over its pin" if play <= 0.0 else "binds on its pin" if tight else "knocks on its pin"
    yield (wrong if play <= 0.0 else watch)(
        f"{where(made)} {words}: eyes of {{eye}} inside on a pin of {{pin}}. Makers leave {{low}} to {{high}}: eyes of "
        "{least} to {most}.",
        at=(made.pivot, Measure.CUT), eye=(sizes.eye, Measure.WIRE), pin=(sizes.pin, Measure.WIRE),
        low=(EYE_PLAY[0], Measure.WIRE), high=(EYE_PLAY[1], Measure.WIRE),
        least=(sizes.pin + EYE_PLAY[0], Measure.WIRE), most=(sizes.pin + EYE_PLAY[1], Measure.WIRE),
    )  # fmt: skip


def _play(made: MadeHinge) -> Iterator[Finding]:
    """Up and down play: of a slot over what turns in it, or of linked eyes."""
    play, sizes = made.play, made.sizes
    if sizes.kind == "screw eyes":
        if play > PLAY[1] + _SLACK:
            yield note(
                f"{where(made)} has {{play}} of up and down play, {{most}} is the most makers like: an eye is that "
                "much wider inside than its wire. Smaller eyes, or close them further.",
                at=(made.pivot, Measure.CUT), play=(play, Measure.WIRE), most=(PLAY[1], Measure.WIRE),
            )  # fmt: skip
        elif play <= 0.0:
            yield wrong(
                f"{where(made)} has eyes that cannot be linked: {{eye}} inside, of {{wire}} wire. Wider eyes.",
                at=(made.pivot, Measure.CUT), eye=(sizes.eye, Measure.WIRE), wire=(sizes.wire, Measure.WIRE),
            )
        return
    if PLAY[0] - _SLACK <= play <= PLAY[1] + _SLACK:
        return
    words = "does not go into its slot" if play <= 0.0 else "binds in its slot" if play < PLAY[0] else "has loose slots"
    yield (wrong if play <= 0.0 else watch)(
        f"{where(made)} {words}: {{turns}} turns in {{slot}}, which leaves {{play}} up and down. Makers leave {{low}} "
        "to {high}: slots of {least} to {most}.",
        at=(made.pivot, Measure.CUT), turns=(sizes.turns, Measure.WIRE), slot=(sizes.slot, Measure.WIRE),
        play=(play, Measure.WIRE), low=(PLAY[0], Measure.WIRE), high=(PLAY[1], Measure.WIRE),
        least=(sizes.turns + PLAY[0], Measure.WIRE), most=(sizes.turns + PLAY[1], Measure.WIRE),
    )  # fmt: skip


def _strap(made: MadeHinge) -> Iterator[Finding]:
    sizes = made.sizes
    for value, (low, high), what, key in (
        (sizes.buried, STRAP_BURIED, "of strap in each piece", "buried"),
        (made.gap, STRAP_BARE, "of bare strap across the gap", "the joint's gap"),
        (sizes.slot - sizes.thickness, STRAP_SLOT, "of slot over the strap's thickness", "slot"),
    ):
        if low - _SLACK <= value <= high + _SLACK or (key == "buried" and value > high):
            continue
        yield watch(
            f"{where(made)} has {{value}} {what}, {{low}} to {{high}} is the habit. Change {key} by {{by}}.",
            at=(made.pivot, Measure.CUT), value=(value, Measure.WIRE), low=(low, Measure.WIRE),
            high=(high, Measure.WIRE), by=(low - value if value < low else high - value, Measure.WIRE),
        )  # fmt: skip


def _turning(made: MadeHinge) -> Iterator[Finding]:
    """A hinge that stops the swing before the wood does."""
    if made.turns < made.swing:
        what = "cup" if made.sizes.kind == "screw eyes" else "slot"
        yield watch(
            f"{where(made)} turns {{turns}} before it meets the edge of its {what}; the wood would let it turn "
            f"{{swing}}. Widen the {what} at its mouth.",
            at=(made.pivot, Measure.CUT), turns=(made.turns, Measure.ANGLE), swing=(made.swing, Measure.ANGLE),
        )


def _levels(made: MadeHinge, lure: Lure) -> Iterator[Finding]:
    """Every level lies inside the body."""
    station = min(max(made.pivot, lure.hull.start), lure.hull.stop)
    bottom, top = depth_at(lure.hull, station)
    for level in made.sizes.heights:
        if not bottom < level < top:
            yield wrong(
                f"{where(made)} has a level at a height of {{level}}, outside the body, which reaches from {{bottom}} "
                "to {top} there. Move it inside.",
                at=(made.pivot, Measure.CUT), level=(level, Measure.LENGTH), bottom=(bottom, Measure.LENGTH),
                top=(top, Measure.LENGTH),
            )  # fmt: skip
