"""Photographs made small enough to print: turned as the camera was held, a thousand dots along their longer side."""

import io
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps

_DOTS = 1000  # along the longer side: 300 to the inch where it is 85 mm
_QUALITY = 85


@dataclass(frozen=True, eq=False)
class Picture:
    """A picture as a JPEG; width and height in dots."""

    content: bytes
    width: int
    height: int


def printable_picture(content: bytes) -> Picture | None:
    """A photograph as it is printed; None for one that cannot be read: of another kind, damaged, or far too large."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=("JPEG", "PNG", "WEBP", "TIFF", "GIF")) as opened:
                opened.draft("RGB", (_DOTS, _DOTS))
                upright = ImageOps.exif_transpose(opened)
                upright.thumbnail((_DOTS, _DOTS))
                made = _on_white(upright)
    except Exception:  # what is wrong with a picture may make its reader raise anything
        return None
    out = io.BytesIO()
    made.save(out, "JPEG", quality=_QUALITY)
    return Picture(out.getvalue(), made.width, made.height)


def _on_white(image: Image.Image) -> Image.Image:
    if "A" not in image.getbands() and "transparency" not in image.info:
        return image.convert("RGB")
    clear = image.convert("RGBA")
    white = Image.new("RGBA", clear.size, "white")
    white.alpha_composite(clear)
    return white.convert("RGB")
