"""A STEP file of a plan: smooth lofted skin, true cylinders for bores. Needs the extra `cad`; loaded when asked for."""

import importlib
import os
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from gudgeon.errors import Fault, NoAnswer, Refusal
from gudgeon.report.step_plan import Array, Block, Loft, PiecePlan, Ring, Rod, Stretch

# The kernel comes without types, and so its shapes have none here either.
Shape = Any

_FIT = 1e-4  # mm the loft may stand off its sections


def _hushed() -> None:
    """The kernel tells of its work on standard output; nobody asked."""
    messages = _kernel("Message")
    messages.Message.DefaultMessenger_s().RemovePrinters(messages.Message_Printer.get_type_descriptor_s())


def step(plans: Sequence[PiecePlan], title: str) -> bytes:
    """The pieces of a plan as one STEP file, in millimetres, each a solid of its own name.

    raises : Refusal when the extra is not installed; NoAnswer when a piece does not close
    """
    _hushed()
    solids = [(plan.name, solid(plan)) for plan in plans]
    return _written(solids, title)


def solid(plan: PiecePlan) -> Shape:
    """One piece as the kernel's solid.

    raises : Refusal when the extra is not installed; NoAnswer when it does not close
    """
    algo = _kernel("BRepAlgoAPI")
    shape = _lofted(plan.loft)
    if plan.keep:
        shape = algo.BRepAlgoAPI_Common(shape, _prism(plan)).Shape()
    for cutter in _cutters(plan):
        shape = algo.BRepAlgoAPI_Cut(shape, cutter).Shape()
    if not _kernel("BRepCheck").BRepCheck_Analyzer(shape).IsValid() or volume(shape) <= 0.0:
        raise NoAnswer(f"the {plan.name} does not close into a solid; STL and 3MF may still")
    return shape


def volume(shape: Shape) -> float:
    """[mm3] of a solid."""
    found = _kernel("GProp").GProp_GProps()
    _kernel("BRepGProp").BRepGProp.VolumeProperties_s(shape, found)
    return float(found.Mass())


def read_back(content: bytes) -> Shape:
    """What another program reads from a file's bytes, as one shape."""
    reader = _kernel("STEPControl").STEPControl_Reader()
    with _NamedFile(content) as path:
        status = reader.ReadFile(path)
    if status != _kernel("IFSelect").IFSelect_RetDone:
        raise NoAnswer("the file cannot be read back")
    reader.TransferRoots()
    return reader.OneShape()


def _kernel(module: str) -> Any:
    try:
        return importlib.import_module(f"OCP.{module}")
    except ImportError:
        words = 'STEP needs one more package, a large one: pip install "gudgeon[cad]"; 3MF and STL need none'
        raise Refusal("this file cannot be written yet", [Fault("--out", words)]) from None


def _point(x: float, y: float, z: float) -> Any:
    return _kernel("gp").gp_Pnt(x, y, z)


def _lofted(loft: Loft) -> Shape:
    through = _kernel("BRepOffsetAPI").BRepOffsetAPI_ThruSections(True, False, _FIT)
    through.CheckCompatibility(False)
    maker = _kernel("BRepBuilderAPI")
    places = [_parameters(loft, turn) for turn in range(4)]
    if loft.nose is not None:
        through.AddVertex(maker.BRepBuilderAPI_MakeVertex(_point(*loft.nose)).Vertex())
    for ring in loft.rings:
        through.AddWire(_wire(ring, places))
    if loft.tail is not None:
        through.AddVertex(maker.BRepBuilderAPI_MakeVertex(_point(*loft.tail)).Vertex())
    through.Build()
    return through.Shape()


def _parameters(loft: Loft, turn: int) -> Any:
    """Where along one quarter its points lie, the same for every section, so that the skin needs no more knots."""
    steps = np.mean([_steps(ring.quarters[turn]) for ring in loft.rings], axis=0)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    found = _kernel("collections").HArray1_double(1, len(along))
    for place, share in enumerate(along / along[-1], start=1):
        found.SetValue(place, float(share))
    return found


def _steps(line: Array) -> Array:
    lengths = np.hypot(*np.diff(line, axis=0).T)
    return np.asarray(lengths / lengths.sum())


def _wire(ring: Ring, places: Sequence[Any]) -> Shape:
    maker = _kernel("BRepBuilderAPI")
    wire = maker.BRepBuilderAPI_MakeWire()
    for quarter, along in zip(ring.quarters, places, strict=True):
        wire.Add(maker.BRepBuilderAPI_MakeEdge(_curve(ring.station, quarter, along)).Edge())
    return wire.Wire()


def _curve(station: float, line: Array, along: Any) -> Any:
    """A smooth curve through the points of a quarter of a section."""
    points = _kernel("collections").HArray1_gp_Pnt(1, len(line))
    for place, (y, z) in enumerate(line, start=1):
        points.SetValue(place, _point(station, float(y), float(z)))
    through = _kernel("GeomAPI").GeomAPI_Interpolate(points, along, False, 1e-7)
    through.Perform()
    return through.Curve()


def _prism(plan: PiecePlan) -> Shape:
    maker = _kernel("BRepBuilderAPI")
    wire = maker.BRepBuilderAPI_MakeWire()
    for stretch in plan.keep:
        wire.Add(_edge(stretch, plan.bottom))
    face = maker.BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    up = _kernel("gp").gp_Vec(0.0, 0.0, plan.top - plan.bottom)
    return _kernel("BRepPrimAPI").BRepPrimAPI_MakePrism(face, up).Shape()


def _edge(stretch: Stretch, height: float) -> Shape:
    maker = _kernel("BRepBuilderAPI").BRepBuilderAPI_MakeEdge
    start, end = _point(*stretch.start, height), _point(*stretch.end, height)
    if stretch.by is None:
        return maker(start, end).Edge()
    return maker(_kernel("GC").GC_MakeArcOfCircle(start, _point(*stretch.by, height), end).Value()).Edge()


def _cutters(plan: PiecePlan) -> Iterator[Shape]:
    yield from (_cylinder(rod) for rod in plan.rods)
    yield from (_box(block) for block in plan.blocks)


def _cylinder(rod: Rod) -> Shape:
    gp = _kernel("gp")
    axes = gp.gp_Ax2(_point(*rod.start), gp.gp_Dir(*rod.inward))
    return _kernel("BRepPrimAPI").BRepPrimAPI_MakeCylinder(axes, rod.radius, rod.length).Shape()


def _box(block: Block) -> Shape:
    gp = _kernel("gp")
    along, across, up = block.size
    box = _kernel("BRepPrimAPI").BRepPrimAPI_MakeBox(_point(-0.5 * along, -0.5 * across, -0.5 * up), along, across, up)
    turn, move = gp.gp_Trsf(), gp.gp_Trsf()
    turn.SetRotation(gp.gp_Ax1(_point(0.0, 0.0, 0.0), gp.gp_Dir(0.0, 1.0, 0.0)), block.tilt)
    move.SetTranslation(gp.gp_Vec(*block.centre))
    return _kernel("BRepBuilderAPI").BRepBuilderAPI_Transform(box.Shape(), move.Multiplied(turn), True).Shape()


def _written(solids: Sequence[tuple[str, Shape]], title: str) -> bytes:
    interface = _kernel("Interface").Interface_Static
    writer = _kernel("STEPControl").STEPControl_Writer()
    interface.SetCVal_s("write.step.unit", "MM")
    for name, shape in solids:
        interface.SetCVal_s("write.step.product.name", f"{title}: {name}")
        writer.Transfer(shape, _kernel("STEPControl").STEPControl_StepModelType.STEPControl_AsIs)
    with _NamedFile(b"") as path:
        if writer.Write(path) != _kernel("IFSelect").IFSelect_RetDone:
            raise NoAnswer("the STEP file could not be put together")
        return Path(path).read_bytes()


class _NamedFile:
    """A file the kernel can open by its name, gone afterwards."""

    def __init__(self, content: bytes) -> None:
        handle, self._path = tempfile.mkstemp(suffix=".step")
        with os.fdopen(handle, "wb") as opened:
            opened.write(content)

    def __enter__(self) -> str:
        return self._path

    def __exit__(self, *_: object) -> None:
        os.unlink(self._path)
