"""Pictures of shapes that are known exactly, as a camera would see them: light mixed at the edge, then blurred."""

import io
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy import ndimage

WIDE, HIGH = 720, 420
OVER = 3  # rays along each pixel


@dataclass(frozen=True)
class Ellipse:
    """An ellipse [pixels], its long axis turned clockwise as it is seen [deg]."""

    middle: tuple[float, float] = (360.0, 190.0)
    halves: tuple[float, float] = (280.0, 62.0)
    turned: float = 3.0

    def own(self, x, y):
        """Coordinates along its axes."""
        cos, sin = np.cos(np.radians(self.turned)), np.sin(np.radians(self.turned))
        x, y = x - self.middle[0], y - self.middle[1]
        return x * cos + y * sin, y * cos - x * sin

    def __call__(self, x, y):
        along, up = self.own(x, y)
        return (along / self.halves[0]) ** 2 + (up / self.halves[1]) ** 2 <= 1.0

    @property
    def ends(self):
        """The ends of its long axis, left and right."""
        cos, sin = np.cos(np.radians(self.turned)), np.sin(np.radians(self.turned))
        reach = np.array([cos, sin]) * self.halves[0]
        return tuple(np.array(self.middle) - reach), tuple(np.array(self.middle) + reach)

    @property
    def area(self):
        return np.pi * self.halves[0] * self.halves[1]

    def off(self, points):
        """How far (n,) points lie outside it, near it to second order."""
        along, up = self.own(*points.T)
        first, second = self.halves
        level = np.hypot(along / first, up / second)
        return (level - 1.0) * level / np.hypot(along / first**2, up / second**2)


def covered(inside: Callable, wide=WIDE, high=HIGH):
    """The share of each pixel that lies inside a shape."""
    y, x = np.mgrid[0 : high * OVER, 0 : wide * OVER]
    filled = inside((x + 0.5) / OVER, (y + 0.5) / OVER)
    return filled.reshape(high, OVER, wide, OVER).mean(axis=(1, 3))


def pictured(share, *, object_=0.06, ground=0.7, blur=1.1, noise=0.006, vignette=0.0, shadow=0.0, shadow_blur=7.0,
             shadow_at=(7, 10)):  # fmt: skip
    """Linear light of a picture of an object that covers `share` of each pixel."""
    level = np.full(share.shape, ground)
    if shadow:
        fallen = ndimage.gaussian_filter(ndimage.shift(share, shadow_at[::-1], order=1), shadow_blur)
        level = level * (1.0 - shadow * fallen)
    light = ndimage.gaussian_filter(level * (1.0 - share) + object_ * share, blur)
    rows, columns = np.mgrid[0 : share.shape[0], 0 : share.shape[1]]
    out = 2.0 * ((columns / share.shape[1] - 0.5) ** 2 + (rows / share.shape[0] - 0.5) ** 2)
    return light * (1.0 - vignette * out) + np.random.default_rng(5).normal(0.0, noise, share.shape)


def coded(light):
    """Eight-bit values as cameras write them, IEC 61966-2-1 (sRGB)."""
    light = np.clip(light, 0.0, 1.0)
    value = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1.0 / 2.4) - 0.055)
    return (255.0 * value + 0.5).astype(np.uint8)


def saved(values, kind="PNG", **more):
    """A picture's file."""
    held = io.BytesIO()
    Image.fromarray(values).save(held, kind, **more)
    return held.getvalue()
