"""What a joint's hinge holds: every way in which it lets two pieces go.

The pull is taken to run along the lure. Two levels share it at best; at worst one has it all.
"""

from collections.abc import Callable
from dataclasses import dataclass

from gudgeon.answers.eye_holds import Eye, Shank, Wood, metal_links, shank_link
from gudgeon.answers.hinge_sizes import HingeSizes
from gudgeon.answers.links import (
    ESTIMATE,
    TREND,
    Hold,
    Link,
    as_estimate,
    known_strength,
    load_of,
    product,
    share,
    short_by,
    weakest,
)
from gudgeon.design.hardware import Fitting, Hinge
from gudgeon.library.strengths import THICKEST_WIRE
from gudgeon.physics.holding import (
    WET_WOOD,
    dowel_bearing,
    glued_slot,
    net_section,
    pin_bent,
    pin_shear,
    plate_bearing,
    tear_out,
    wood_shear,
)
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.spread import Estimate, exactly
from gudgeon.units import Measure

PIN_PLAY = 0.5e-3  # m, a plate's hole over its pin; common practice, no source
EDGE_PINS = 1.5  # from a plate's hole to its edge, in pins, from the hole's middle; common practice, no source

_WOOD_SCATTER = share(0.6, 1.4)  # wood about its mean, sheared or crushed by a pin; from memory
_PIN_EVENNESS = Estimate(0.75, 0.5, 1.0)  # of its length that a pin leans on
_PLATE_SHEAR = 3.0e6  # Pa, epoxy on plate or metal, roughened; from memory
_PLATE_SCATTER = share(0.3, 2.0)
_STRAP_SHARE = 0.4  # of the wood's shear strength that a strap soaked in epoxy finds; from memory
_STRAP_SCATTER = share(0.4, 2.0)
_WET = Estimate(WET_WOOD[1], WET_WOOD[0], WET_WOOD[2])


@dataclass(frozen=True)
class Hung:
    """A hinge with what its holding depends on.

    joint  : number, from 1
    sizes  : of the hinge, nothing left open
    wood   : the lighter of the two pieces
    cover  : [m] wood between the pin and the face it would tear out of; not more than 0 where it stands in the gap
    locked : the fitting that passes through the plate
    wanted : [N] what it should hold; None when nothing is asked
    """

    joint: int
    hinge: Hinge
    sizes: HingeSizes
    wood: Wood
    cover: float
    locked: Fitting | None
    wanted: float | None


def joint_hold(hung: tuple[Hung, ...], joint: int) -> Hold:
    """What a joint holds: its strongest hinge, or that none is described."""
    name = f"joint {joint}"
    if not hung:
        return Hold(name, (Link("hinge", name, "its hinge", None, "", mend="hinge not described; write a [[hinge]]"),))
    kept, sizes = max(((hinge_links(one), _told_sizes(one.sizes)) for one in hung), key=lambda found: _least(found[0]))
    notes = () if len(hung) == 1 else ("more than one hinge; the strongest is counted, alone",)
    return Hold(name, kept, notes, sizes)


def _told_sizes(sizes: HingeSizes) -> tuple[tuple[str, float, Measure], ...]:
    """The sizes that its loads rest on."""
    found = [("buried in each piece", sizes.buried, Measure.LENGTH)]
    if sizes.has_eyes:
        found += [("wire of its eyes", sizes.wire, Measure.WIRE), ("inside of its eyes", sizes.eye, Measure.LENGTH)]
    else:
        found += [("thickness", sizes.thickness, Measure.LENGTH), ("tall", sizes.tall, Measure.LENGTH)]
    if sizes.has_pin:
        found += [("pin", sizes.pin, Measure.WIRE), ("slot", sizes.slot, Measure.LENGTH)]
    return tuple(found)


def _least(links: tuple[Link, ...]) -> float:
    link = weakest(links)
    return 0.0 if link is None else load_of(link)


def hinge_links(hung: Hung) -> tuple[Link, ...]:
    """Every way in which one hinge lets go."""
    kind = hung.sizes.kind
    if kind == "strap":
        return tuple(_strap(hung))
    if kind == "screw eyes":
        return tuple(_eyes(hung))
    turning = _plates(hung) if kind == "plate and pin" else _eyes(hung)
    return (*turning, *_pin(hung), *_pin_in_wood(hung))


def _shared(hung: Hung, one_level: Estimate) -> Estimate:
    """The pull on a hinge [N] whose one level lets go at `one_level`: alone at worst, all of them alike at best."""
    levels = len(hung.sizes.heights)
    return product(one_level, Estimate(0.5 * (1.0 + levels), 1.0, float(levels)))


def _where(hung: Hung) -> str:
    return f"joint {hung.joint}"


def _eyes(hung: Hung) -> list[Link]:
    """Eyes in the end grain of a joint's face."""
    sizes = hung.sizes
    loop = sizes.eye + 2.0 * sizes.wire
    shank: Shank = "twisted" if sizes.kind == "wire eye and pin" else "threaded"
    eye = Eye(sizes.wire, sizes.buried, loop, shank, hung.hinge.material, end_grain=True)
    levels = len(sizes.heights)
    share_wanted = None if hung.wanted is None else 2.0 * hung.wanted / (1.0 + levels)
    links = [shank_link(eye, hung.wood, share_wanted, name="eyes"), *metal_links(eye, _where(hung), share_wanted)]
    return [_for_all(hung, link) for link in links]


def _for_all(hung: Hung, link: Link) -> Link:
    """A link of one eye as one of the hinge."""
    if link.load is None:
        return link
    wet = None if link.wet is None else _shared(hung, link.wet)
    words = f"{link.part.replace('its ', 'an eye, its ', 1)}"
    mend = link.mend.replace("a through-wire", "a wire along each piece, looped through each other in the gap")
    return Link(link.name, _where(hung), words, _shared(hung, link.load), link.standing, link.beyond_tested, mend,
                link.numbers, wet)  # fmt: skip


def _pin(hung: Hung) -> list[Link]:
    """The pin bent between the sides of a slot, and sheared."""
    sizes = hung.sizes
    metal = known_strength(hung.hinge.pin_material, sizes.pin)
    if metal is None:
        return [_no_strength(hung, hung.hinge.pin_material)]
    flow = Estimate(0.5 * (metal.yields.value + metal.ultimate.value), metal.yields.low, metal.ultimate.high)

    def bent(pin: float) -> Estimate:
        return _shared(hung, flow.mapped(lambda s: pin_bent(s, pin, free_span(sizes, pin))))

    def sheared(pin: float) -> Estimate:
        return _shared(hung, as_estimate(metal.ultimate).mapped(lambda s: pin_shear(s, pin)))

    found = []
    for name, words, load in (("pin_bent", "the pin, bent in its slot", bent),
                              ("pin_shear", "the pin, sheared off", sheared)):  # fmt: skip
        thicker = _pin_for(hung, load(sizes.pin), lambda pin, load=load: load(pin).value)  # type: ignore[misc]
        mend = "" if thicker is None else "a pin of {thicker}"
        numbers = {} if thicker is None else {"thicker": (thicker, Measure.WIRE)}
        if name == "pin_bent" and mend:
            mend += ", or a closer slot"
        found.append(Link(name, _where(hung), words, load(sizes.pin), ESTIMATE, False, mend, numbers))
    return found


def free_span(sizes: HingeSizes, pin: float) -> float:
    """The length [m] over which a pin bends: its slot, and half a pin's thickness into the wood at either side."""
    return sizes.slot + pin


def _pin_for(hung: Hung, load: Estimate, held: Callable[[float], float]) -> float | None:
    """The thinnest pin in tenths of a millimetre that holds what is wanted [m]; None when this one does."""
    if hung.wanted is None or short_by(load, hung.wanted) is None:
        return None
    tenth = 1e-4
    pin = (round(hung.sizes.pin / tenth) + 1) * tenth
    while held(pin) < hung.wanted and pin < THICKEST_WIRE:
        pin += tenth
    return pin


def _pin_in_wood(hung: Hung) -> list[Link]:
    """The wood that holds the pin: crushed beside it, or torn out ahead of it."""
    sizes, gravity = hung.sizes, hung.wood.gravity
    length = sizes.pin_top - sizes.pin_bottom - len(sizes.heights) * sizes.slot
    if hung.cover <= 0.0:
        return [Link("pin_wood", _where(hung), "the wood round the pin", None, "",
                     mend="the pin stands in the gap, with no wood round it; give the joint's pivot so that it "
                     "stands in one piece")]  # fmt: skip
    if length <= 0.0:
        return [Link("pin_wood", _where(hung), "the wood round the pin", None, "",
                     mend="the pin is no longer than its slots are wide; give pin_top and pin_bottom")]  # fmt: skip
    crushed = product(gravity.mapped(lambda g: dowel_bearing(g, sizes.pin, length)), _WOOD_SCATTER, _PIN_EVENNESS)
    torn = product(gravity.mapped(lambda g: tear_out(wood_shear(g), hung.cover, length)), _WOOD_SCATTER, _PIN_EVENNESS)
    soft, soft_torn = product(crushed, _WET), product(torn, _WET)
    longer, further = short_by(soft, hung.wanted), short_by(soft_torn, hung.wanted)
    return [
        Link("pin_wood", _where(hung), "the wood beside the pin, crushed", crushed, ESTIMATE, False,
             "a pin {longer} long in the wood, or a bush of epoxy round it" if longer else "",
             {"longer": (longer * length, Measure.CUT)} if longer else {}, soft),
        Link("pin_tears", _where(hung), "the wood ahead of the pin, torn out", torn, ESTIMATE, False,
             "the pin {further} from the face" if further else "",
             {"further": (further * hung.cover, Measure.LENGTH)} if further else {}, soft_torn),
    ]  # fmt: skip


def _plates(hung: Hung) -> list[Link]:
    """Plates on a pin: crushed at the hole, torn to the edge, parted across it, drawn out of their slots."""
    sizes = hung.sizes
    stuff = known_strength(hung.hinge.material, sizes.thickness)
    if stuff is None:
        return [_no_strength(hung, hung.hinge.material)]
    hole, thick = sizes.pin + PIN_PLAY, sizes.thickness
    if sizes.tall <= hole:
        return [Link("plate", _where(hung), "its plate", None, "",
                     mend="the plate is no taller than its hole; give tall")]  # fmt: skip
    ultimate, shear = as_estimate(stuff.ultimate), as_estimate(stuff.shear)
    cover = EDGE_PINS * sizes.pin - 0.5 * hole
    ways = (
        ("plate_hole", "a plate, crushed at its hole", ultimate.mapped(lambda s: plate_bearing(s, sizes.pin, thick))),
        ("plate_edge", "a plate, torn from hole to edge", shear.mapped(lambda s: tear_out(s, cover, thick))),
        ("plate_parts", "a plate, parted across its hole",
         ultimate.mapped(lambda s: net_section(s, sizes.tall, hole, thick))),
    )  # fmt: skip
    links = [_plate_link(hung, name, words, _shared(hung, load)) for name, words, load in ways]
    return [*links, _plate_in_slot(hung)]


def _plate_link(hung: Hung, name: str, words: str, load: Estimate) -> Link:
    more = short_by(load, hung.wanted)
    numbers = {"thicker": (more * hung.sizes.thickness, Measure.LENGTH)} if more else {}
    mend = "a plate {thicker} thick, or of a stronger material" if more else ""
    return Link(name, _where(hung), words, load, ESTIMATE, False, mend, numbers)


def _plate_in_slot(hung: Hung) -> Link:
    """A plate's hold in the piece it is fixed to: its glue, or what passes through it, whichever is more."""
    sizes = hung.sizes
    glued = product(exactly(glued_slot(_PLATE_SHEAR, sizes.tall, sizes.buried)), _PLATE_SCATTER)
    load, words = _shared(hung, glued), "a plate, drawn out of its glue"
    lock = None if hung.locked is None else _lock(hung, hung.locked)
    if lock is not None and lock.value > load.value:
        load, words = lock, f"a plate, torn past the {hung.locked.name if hung.locked else ''} that locks it"
    more = short_by(load, hung.wanted)
    numbers = {"deeper": (more * sizes.buried, Measure.CUT)} if more else {}
    cross = "" if hung.locked else ", or a hanger's shank through it"
    mend = f"{{deeper}} of it buried{cross}" if more else ""
    return Link("plate_slot", _where(hung), words, load, TREND, False, mend, numbers)


def _lock(hung: Hung, locked: Fitting) -> Estimate | None:
    """What a shank through a plate holds it by [N]: the plate crushed, or the wood beside the shank; one plate."""
    stuff = known_strength(hung.hinge.material, hung.sizes.thickness)
    if stuff is None or locked.wire is None or locked.shank is None:
        return None
    wire, shank = locked.wire, locked.shank
    plate = as_estimate(stuff.ultimate).mapped(lambda s: plate_bearing(s, wire, hung.sizes.thickness))
    wood = product(hung.wood.gravity.mapped(lambda g: dowel_bearing(g, wire, shank)), _WOOD_SCATTER)
    return min(plate, wood, key=lambda load: load.value)


def _strap(hung: Hung) -> list[Link]:
    """Straps: parted in the gap, or drawn out of their slots."""
    sizes = hung.sizes
    stuff = known_strength(hung.hinge.material, sizes.thickness)
    gravity = hung.wood.gravity
    bond = gravity.mapped(lambda g: glued_slot(_STRAP_SHARE * wood_shear(g), sizes.tall, sizes.buried))
    drawn = _shared(hung, product(bond, _STRAP_SCATTER))
    wet = product(drawn, _WET)
    deeper = short_by(wet, hung.wanted)
    slot = Link("strap_slot", _where(hung), "a strap, drawn out of its slot", drawn, TREND, False,
                "{deeper} of it buried" if deeper else "",
                {"deeper": (deeper * sizes.buried, Measure.CUT)} if deeper else {}, wet)  # fmt: skip
    if stuff is None:
        return [_no_strength(hung, hung.hinge.material), slot]
    cloth = as_estimate(stuff.ultimate).mapped(lambda s: net_section(s, sizes.tall, 0.0, sizes.thickness))
    load = _shared(hung, cloth)
    more = short_by(load, hung.wanted)
    numbers = {"thicker": (more * sizes.thickness, Measure.LENGTH)} if more else {}
    parted = Link("strap_parts", _where(hung), "a strap, parted in the gap", load, ESTIMATE, False,
                  "a strap {thicker} thick" if more else "", numbers)  # fmt: skip
    return [parted, slot]


def _no_strength(hung: Hung, material: str) -> Link:
    return Link("material", _where(hung), f"its {material}", None, "",
                mend=f"the strength of {material} is not in the table; name one that is")  # fmt: skip


def pin_cover(shape: JointShape, pin: float) -> float:
    """Wood [m] between a pin and the nearest face it could tear out of; not more than 0 when it stands in the gap.

    The pin stands in the piece ahead or behind as the joint's pivot does. Through a tongue it can tear the tongue's
    end, or the cheeks that hold it.
    """
    if shape.face != "tongue":
        return abs(shape.pivot) - 0.5 * shape.gap - 0.5 * pin
    along = shape.pivot if shape.carries == "front" else -shape.pivot
    half = 0.5 * shape.gap
    return min(along - half, half + shape.tongue_length - along) - 0.5 * pin
