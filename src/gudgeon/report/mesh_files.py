"""Triangles as files: binary STL, and 3MF with an object for each piece. Millimetres; x aft, y right, z up."""

import io
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_MODEL = "3D/3dmodel.model"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can tell: the same lure gives the same bytes


@dataclass(frozen=True, eq=False)
class Mesh:
    """One piece.

    vertices : (n, 3) [m]
    faces    : (m, 3) corners of each triangle, anticlockwise seen from outside
    """

    name: str
    vertices: Array
    faces: NDArray[np.int64]


def stl(meshes: Sequence[Mesh], title: str) -> bytes:
    """Binary STL of all pieces together, in millimetres.

    source : the format's 84-byte head, then 50 bytes a triangle: normal, three corners, two bytes unused
    """
    corners = np.concatenate([1e3 * mesh.vertices[mesh.faces] for mesh in meshes])
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0.0)
    rows = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    rows["normal"], rows["corners"] = normals, corners
    head = f"gudgeon, mm, {title}".encode("ascii", "replace")[:80].ljust(80, b" ")
    return head + np.array(len(rows), dtype="<u4").tobytes() + rows.tobytes()


def three_mf(meshes: Sequence[Mesh], title: str, words: str) -> bytes:
    """A 3MF package: one object for each piece, named, where it lies in the lure.

    source : the open 3MF core specification, its smallest package
    """
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in (("[Content_Types].xml", _content_types()), ("_rels/.rels", _relations()),
                           (_MODEL, "".join(_model(meshes, title, words)))):  # fmt: skip
            entry = zipfile.ZipInfo(name, _EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            package.writestr(entry, text)
    return held.getvalue()


def _content_types() -> str:
    return (f'{_HEAD}<Types xmlns="{_TYPES}"><Default Extension="rels" '
            'ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" '
            'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>')  # fmt: skip


def _relations() -> str:
    return (f'{_HEAD}<Relationships xmlns="{_RELATIONS}"><Relationship Target="/{_MODEL}" Id="model" '
            'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>')  # fmt: skip


def _model(meshes: Sequence[Mesh], title: str, words: str) -> Iterator[str]:
    yield f'{_HEAD}<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">\n'
    for name, value in (("Title", title), ("Description", words), ("Application", "gudgeon")):
        yield f'<metadata name="{name}">{escape(value)}</metadata>\n'
    yield "<resources>\n"
    for number, mesh in enumerate(meshes, start=1):
        yield f'<object id="{number}" type="model" name={quoteattr(mesh.name)}><mesh>\n<vertices>\n'
        yield from ('<vertex x="{:.5f}" y="{:.5f}" z="{:.5f}"/>\n'.format(*corner) for corner in 1e3 * mesh.vertices)
        yield "</vertices>\n<triangles>\n"
        yield from ('<triangle v1="{}" v2="{}" v3="{}"/>\n'.format(*face) for face in mesh.faces)
        yield "</triangles>\n</mesh></object>\n"
    yield "</resources>\n<build>\n"
    yield from (f'<item objectid="{number}"/>\n' for number in range(1, len(meshes) + 1))
    yield "</build>\n</model>\n"
