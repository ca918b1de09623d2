"""The wood a joint's faces take off, or leave on, beyond square cuts half a gap from its middle, by quadrature."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from gudgeon.physics.hull import Hull, skin_heights
from gudgeon.physics.joint_face import Array, Edge, FaceLine
from gudgeon.physics.mass import Place
from gudgeon.physics.quadrature import gauss

_ACROSS, _ALONG = 16, 6  # points per stretch: right to 1e-4 of what an oval body loses, 2 % where a slab tapers 1 in 5


@dataclass(frozen=True)
class Removal:
    """What one face's shape does to its piece.

    volume : [m3] of wood between square plane and face; less than nothing where the face reaches beyond the plane
    moment : (3,) [m4] of that about the nose, the middle line and the centre line
    area   : [m2] of the face
    """

    volume: float
    moment: Place
    area: float


@dataclass(frozen=True, eq=False)
class _Nodes:
    """Points of one face: offsets and weights (n,) [m] across, stations and signed weights (n, k) [m] along."""

    offsets: Array
    across: Array
    stations: Array
    along: Array
    tilts: Array
    walls: tuple[tuple[float, Array, Array], ...]


def removals(hull: Hull, faces: Sequence[tuple[float, float, FaceLine]]) -> list[Removal]:
    """What each face takes off, all of them looked up at once.

    faces : station [m] of the middle of the gap, gap [m], face
    """
    reached = _reached(hull, faces)
    nodes = [_nodes(at, gap, face, wide) for (at, gap, face), wide in zip(faces, reached, strict=True)]
    if not nodes:
        return []
    x = np.concatenate([part for node in nodes for part in _stations(node)])
    y = np.concatenate([part for node in nodes for part in _offsets(node)])
    bottom, top = skin_heights(hull, x, y)
    found, first = [], 0
    for node in nodes:
        last = first + sum(part.size for part in _stations(node))
        found.append(_removal(node, bottom[first:last], top[first:last]))
        first = last
    return found


def _reached(hull: Hull, faces: Sequence[tuple[float, float, FaceLine]]) -> Array:
    """How far out [m] each face goes before it leaves the wood: the body is wider or narrower where it recedes to."""
    at = np.array([middle for middle, _, _ in faces])
    planes = at + np.array([0.5 * gap * face.wood for _, gap, face in faces])
    widest = wide = hull.side(np.clip(planes, hull.start, hull.stop))
    for _ in range(4):
        there = at + np.array([float(face.station(np.array(w))) for (_, _, face), w in zip(faces, wide, strict=True)])
        wide = hull.side(np.clip(there, hull.start, hull.stop))
        widest = np.maximum(widest, wide)
    return widest


def _nodes(at: float, gap: float, face: FaceLine, wide: float) -> _Nodes:
    plane = 0.5 * gap * face.wood
    places, weights = gauss(_ACROSS)
    share, share_weights = 1.0 - (1.0 - places) ** 2, 2.0 * (1.0 - places) * weights  # crowded where the skin closes
    own = [edge for edge in face.edges if edge.inner < wide]
    spans = [min(edge.outer, wide) - edge.inner for edge in own]
    offsets = [edge.inner + span * share for edge, span in zip(own, spans, strict=True)]
    faced = np.concatenate([edge.station(out) for edge, out in zip(own, offsets, strict=True)])
    steps, step_weights = gauss(_ALONG)
    depth = (faced - plane)[:, None]
    return _Nodes(
        offsets=np.concatenate(offsets), across=np.concatenate([span * share_weights for span in spans]),
        stations=at + plane + depth * steps, along=depth * step_weights * face.wood,
        tilts=np.concatenate([edge.tilt(out) for edge, out in zip(own, offsets, strict=True)]),
        walls=tuple(_wall(at, before, after) for before, after in pairwise(own)),
    )  # fmt: skip


def _wall(at: float, before: Edge, after: Edge) -> tuple[float, Array, Array]:
    """The side of a tongue or a slot: its offset, stations and weights [m]; of no length where two stretches meet."""
    steps, weights = gauss(_ALONG)
    offset = np.array(after.inner)
    low, high = float(before.station(offset)), float(after.station(offset))
    return after.inner, at + low + (high - low) * steps, abs(high - low) * weights


def _stations(node: _Nodes) -> list[Array]:
    on_face = node.stations[:, -1] + (node.stations[:, -1] - node.stations[:, 0]) * _BEYOND
    return [node.stations.ravel(), on_face, *(wall[1] for wall in node.walls)]


def _offsets(node: _Nodes) -> list[Array]:
    inner = np.repeat(node.offsets, node.stations.shape[1])
    return [inner, node.offsets, *(np.full_like(wall[1], wall[0]) for wall in node.walls)]


_FIRST, _LAST = (float(gauss(_ALONG)[0][place]) for place in (0, -1))
_BEYOND = (1.0 - _LAST) / (_LAST - _FIRST)  # from the last point along to the face itself


def _removal(node: _Nodes, bottom: Array, top: Array) -> Removal:
    """Sums over both halves: the heights of the skin below and above every point, in the order of `_stations`."""
    inside, faces = node.stations.size, node.offsets.size
    chord = (top - bottom)[:inside].reshape(node.stations.shape)
    middle = (0.5 * (top + bottom))[:inside].reshape(node.stations.shape)
    slices = 2.0 * node.across[:, None] * node.along * chord
    area = 2.0 * float(((top - bottom)[inside : inside + faces] * node.across * node.tilts).sum())
    rest = inside + faces
    for _, stations, weights in node.walls:
        area += 2.0 * float(weights @ (top - bottom)[rest : rest + len(stations)])
        rest += len(stations)
    moment = (float((slices * node.stations).sum()), 0.0, float((slices * middle).sum()))
    return Removal(float(slices.sum()), moment, area)
