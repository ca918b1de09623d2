"""A photo or a scan as light: decoded within bounds, turned as its camera says, brought to a size to be worked on.

A picture from elsewhere may be made to do harm. Its kind is told by its first bytes, its size is read before any of it
is decoded, and whatever a decoder throws is a refusal.
"""

import io
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from gudgeon.errors import Fault, Refusal

Light = NDArray[np.float32]
Made = TypeVar("Made")

LARGEST_PICTURE = 40_000_000  # bytes
MOST_PIXELS = 50_000_000  # of the file, told by its head before it is decoded
WORKED_ON = 5_000_000  # pixels; a larger picture is made smaller first
LEAST_SIDE = 60  # pixels
KINDS = {"JPEG": "a JPEG", "PNG": "a PNG", "WEBP": "a WebP"}
_OTHERS = {b"II*\x00": "a TIFF", b"MM\x00*": "a TIFF", b"GIF8": "a GIF", b"%PDF": "a PDF", b"BM": "a BMP"}
_ORIENTATION = 0x0112  # EXIF tag
_UNDER_THE_PICTURE = 255  # white, under what a picture leaves clear


@dataclass(frozen=True, eq=False)
class Picture:
    """A picture, upright.

    light  : (h, w, 3) linear light, 0 to 1; row 0 is the upper edge
    shrunk : pixels of the file along one of its own
    width, height : of the file, upright [pixels]
    turned : whether its camera said that it lay on its side or head
    """

    light: Light
    shrunk: float
    width: int
    height: int
    turned: bool


def picture_of(content: bytes) -> Picture:
    """What a picture file shows.

    content : of a JPEG, PNG or WebP
    raises  : Refusal when it is none, is damaged, or is too large or too small
    """
    return _made_of(content, _decoded)


def sound_picture(content: bytes) -> None:
    """Nothing, when a file is a picture that can be kept: whole, and of a size that can be looked at.

    content : of a JPEG, PNG or WebP
    raises  : Refusal when it is none, is damaged, or is too large
    """
    _made_of(content, _whole)


def _made_of(content: bytes, make: Callable[[Image.Image], Made]) -> Made:
    """What is made of a picture, which may be made to do harm."""
    if len(content) > LARGEST_PICTURE:
        raise no_picture(f"it is larger than {LARGEST_PICTURE // 1_000_000} MB; save it smaller")
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of Pillow's own bounds and of odd tags; ours are narrower
            with Image.open(io.BytesIO(content), formats=tuple(KINDS)) as image:
                width, height = image.size
                if width * height > MOST_PIXELS:
                    raise no_picture(f"it has {width} x {height} pixels; {MOST_PIXELS // 1_000_000} million are "
                                     "enough: save it smaller")  # fmt: skip
                return make(image)
    except Refusal:
        raise
    except UnidentifiedImageError:
        raise no_picture(_other_kind(content)) from None
    except Image.DecompressionBombError:
        raise no_picture(f"it says it has far more than {MOST_PIXELS // 1_000_000} million pixels; save it "
                         "smaller") from None  # fmt: skip
    except MemoryError:
        raise no_picture("there is no room in memory for it; save it smaller") from None
    except Exception as error:  # whatever a damaged file makes a decoder throw
        words = f"it is damaged or cut short ({str(error)[:80] or type(error).__name__}); take it from the camera again"
        raise no_picture(words) from None


def no_picture(words: str) -> Refusal:
    """The refusal of a picture."""
    return Refusal("the picture cannot be read", [Fault("the picture", words)])


def _whole(image: Image.Image) -> None:
    image.draft("RGB", (1, 1))  # as small as a JPEG's decoder can make it; all of the file is gone through
    image.load()


def _decoded(image: Image.Image) -> Picture:
    width, height = image.size
    if min(width, height) < LEAST_SIDE:
        raise no_picture(f"it has {width} x {height} pixels; too few to trace from")
    turned = image.getexif().get(_ORIENTATION, 1) not in (None, 1)
    shrink = max(1.0, (width * height / WORKED_ON) ** 0.5)
    target = (max(1, round(width / shrink)), max(1, round(height / shrink)))
    image.draft("RGB", target)
    upright = ImageOps.exif_transpose(_plain(image))
    if upright.width * upright.height > WORKED_ON:
        sideways = turned and (upright.width > upright.height) != (width > height)
        upright = upright.resize(target[::-1] if sideways else target, Image.Resampling.BOX)
    if (upright.width > upright.height) != (width > height):
        width, height = height, width
    return Picture(_light(np.asarray(upright)), width / upright.width, width, height, turned)


def _plain(image: Image.Image) -> Image.Image:
    """The picture in eight bits a colour, what is clear laid on white."""
    exif = image.getexif()
    if image.mode.startswith(("I", "F")):
        deep = np.asarray(image, dtype=np.float64)
        span = 65535.0 if deep.max(initial=0.0) > 255.0 else 255.0
        plain = Image.fromarray((deep / span * 255.0).clip(0.0, 255.0).astype(np.uint8)).convert("RGB")
    elif "A" in image.getbands() or "transparency" in image.info:
        clear = image.convert("RGBA")
        under = Image.new("RGBA", clear.size, (_UNDER_THE_PICTURE,) * 4)
        plain = Image.alpha_composite(under, clear).convert("RGB")
    else:
        plain = image.convert("RGB")
    plain.info.pop("exif", None)
    plain.getexif()[_ORIENTATION] = exif.get(_ORIENTATION, 1)
    return plain


def _light(coded: NDArray[np.uint8]) -> Light:
    """Eight-bit values to linear light: a blurred edge is half as light half way, its coded value is not.

    source : IEC 61966-2-1 (sRGB), from memory; a camera's own curve differs a little
    """
    value = np.arange(256) / 255.0
    table = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)
    return table[coded]


def _other_kind(content: bytes) -> str:
    kinds = [words for head, words in _OTHERS.items() if content.startswith(head)]
    if content[4:8] == b"ftyp":
        kinds = ["a HEIC or AVIF"]
    known = "JPEG, PNG and WebP are read"
    if not content:
        return "nothing is in it"
    return f"it is {kinds[0]}; {known}: save it as one of them" if kinds else f"it is no picture; {known}"
