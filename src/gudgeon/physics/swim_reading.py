"""What a tow came to, start by start: whether the lure tracks, swims, leans, locks or tumbles, and how it beats.

Read off the second half of the motion, the first being left for it to settle. A start is, the first that fits:

* tumbles : the motion ended itself, its flow reversed or its head turned round
* leans   : its mean list is more than 15 degrees, or it rolls past 60 degrees to a side
* swims   : its tail goes from side to side by more than 4 % of its length, again and again: at least twice up through
            the middle
* locks   : bent and still: the joints together bent by more than 10 degrees, or the head's mean yaw more than 10
* tracks  : none of these

Lists and sweeps of that size are common practice, no source; 60 degrees is where a lure no longer comes back.

A lure also wanders on its line, slower than it beats. What is read of the beat is read of what is left when the mean
over one beat has been taken off, the beat being the strongest line of the tail's spectrum; where the tail comes up
through the middle at another rate than that, by more than a quarter, the beat is irregular and the spectrum's is told.
"""

import math
from dataclasses import dataclass, fields

import numpy as np

from gudgeon.physics.chain import Array, Chain
from gudgeon.physics.chain_motion import Motion

MOST_LIST = math.radians(15.0)
MOST_ROLL = math.radians(60.0)
LEAST_SWEEP = 0.02
"""[1] half of the tail's way from side to side, over the length, that counts as a swim."""
LEAST_BEND = math.radians(10.0)
_LEAST_BEATS = 2
_AGREES = 0.25
_OUTER = (0.5, 99.5)  # per cent of the samples between which a sweep is taken


@dataclass(frozen=True)
class SwimReading:
    """One start. Angles [rad]; a list to starboard and a nose that points up are positive.

    kind        : "tracks", "swims", "leans", "locks" or "tumbles"
    beat        : [1/s] 0 where it does not swim
    spectrum    : [1/s] the strongest line of the tail's motion, whether it swims or not; 0 where it is still
    tail_sweep, head_sweep : [m] half of the way from side to side in a beat, of the rear end and of the nose
    head_yaw    : most that the head turns to a side of its mean in a beat
    most_roll, mean_roll, mean_pitch : of the head
    mean_pull, peak_pull : [N] in the line
    joints      : (joints,) furthest that each has turned, to either side
    tumbled     : [s] infinite where it did not
    """

    kind: str
    beat: float
    spectrum: float
    tail_sweep: float
    head_sweep: float
    head_yaw: float
    most_roll: float
    mean_roll: float
    mean_pitch: float
    mean_pull: float
    peak_pull: float
    joints: tuple[float, ...]
    tumbled: float


def swim_readings(chain: Chain, motion: Motion, speed: float) -> tuple[SwimReading, ...]:
    """Every start of a tow.

    speed : [m/s] at which it was towed; no beat is looked for that takes the time of ten lengths or more
    """
    half = len(motion.times) // 2
    turned = _turned(chain, motion)
    slowest = 0.1 * speed / float(chain.pieces.length.sum())
    return tuple(_reading(chain, motion, turned.of(start, half), (start, half, slowest))
                 for start in range(len(motion.tumbled)))  # fmt: skip


def rear_end(chain: Chain, motion: Motion) -> Array:
    """(n, 3, starts) [m] where the last piece's rear end is, from the carriage."""
    axis, across = _axes(motion)
    place, bent = motion.place.copy(), np.zeros_like(motion.pull)
    down = np.cross(axis, across, axis=1)
    ends = np.concatenate([chain.joints.place, [[-float(chain.pieces.length[-1]), 0.0, 0.0]]])
    for number, (x, y, z) in enumerate(ends):
        c, s = np.cos(bent)[:, None], np.sin(bent)[:, None]
        place += x * (c * axis + s * across) + y * (c * across - s * axis) + z * down
        if number < motion.angles.shape[1]:
            bent = bent + motion.angles[:, number]
    return place


def _axes(motion: Motion) -> tuple[Array, Array]:
    """The head's x and y axes (n, 3, starts) in the earth's."""
    w, x, y, z = np.moveaxis(motion.attitude, 1, 0)
    axis = np.stack([1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y + w * z), 2.0 * (x * z - w * y)], axis=1)
    across = np.stack([2.0 * (x * y - w * z), 1.0 - 2.0 * (x * x + z * z), 2.0 * (y * z + w * x)], axis=1)
    return axis, across


@dataclass(frozen=True)
class _Turned:
    """The head's yaw, pitch (nose-up) and roll (to starboard) [rad], and the tail's and the nose's way aside [m]."""

    yaw: Array
    pitch: Array
    roll: Array
    tail: Array
    nose: Array

    def of(self, start: int, since: int) -> "_Turned":
        """Of one start from one sample on."""
        return _Turned(**{one.name: getattr(self, one.name)[since:, start] for one in fields(self)})


def _turned(chain: Chain, motion: Motion) -> _Turned:
    """Of every start (n, starts)."""
    w, x, y, z = np.moveaxis(motion.attitude, 1, 0)
    return _Turned(
        yaw=np.unwrap(np.arctan2(2.0 * (x * y + w * z), 1.0 - 2.0 * (y * y + z * z)), axis=0),
        pitch=np.arcsin(np.clip(2.0 * (w * y - x * z), -1.0, 1.0)),
        roll=np.unwrap(np.arctan2(2.0 * (y * z + w * x), 1.0 - 2.0 * (x * x + y * y)), axis=0),
        tail=rear_end(chain, motion)[:, 1], nose=motion.place[:, 1],
    )  # fmt: skip


def _reading(chain: Chain, motion: Motion, turned: _Turned, of: tuple[int, int, float]) -> SwimReading:
    """Of one start from one sample on, slower beats than so many a second left out."""
    start, since, slowest = of
    times, pull = motion.times[since:], motion.pull[since:, start]
    angles = motion.angles[since:, :, start]
    spectrum = _strongest(times, turned.tail, slowest)
    tail, nose, yaw = (_of_beat(times, one, spectrum) for one in (turned.tail, turned.nose, turned.yaw))
    sweep, (counted, ups) = _half_sweep(tail), _beat(times, tail)
    swims = sweep > LEAST_SWEEP * float(chain.pieces.length.sum()) and ups >= _LEAST_BEATS
    regular = abs(counted - spectrum) < _AGREES * spectrum
    bent = max(abs(float(angles.sum(axis=1).mean())), abs(float(turned.yaw.mean())))
    tumbled, most_roll = float(motion.tumbled[start]), float(np.abs(turned.roll).max())
    leans = abs(float(turned.roll.mean())) > MOST_LIST or most_roll > MOST_ROLL
    kind = ("tumbles" if math.isfinite(tumbled) else "leans" if leans else "swims" if swims
            else "locks" if bent > LEAST_BEND else "tracks")  # fmt: skip
    beat = (counted if regular else spectrum) if kind == "swims" else 0.0
    return SwimReading(
        kind=kind, beat=beat, spectrum=spectrum, tail_sweep=sweep, head_sweep=_half_sweep(nose),
        head_yaw=float(np.abs(yaw).max()), most_roll=most_roll, mean_roll=float(turned.roll.mean()),
        mean_pitch=float(turned.pitch.mean()), mean_pull=float(pull.mean()), peak_pull=float(pull.max()),
        joints=tuple(np.abs(angles).max(axis=0).tolist()), tumbled=tumbled,
    )  # fmt: skip


def _of_beat(times: Array, values: Array, beat: float) -> Array:
    """Values less their mean over one beat, half a beat at either end left out; less their mean where nothing beats."""
    count = round(1.0 / (beat * (times[1] - times[0]))) if beat > 0.0 else 0
    if not 2 <= count < len(values) // 2:
        return np.asarray(values - values.mean())
    sums = np.concatenate([[0.0], np.cumsum(values)])
    means = (sums[count:] - sums[:-count]) / count
    lead = count // 2
    return np.asarray(values[lead : lead + len(means)] - means)


def _half_sweep(aside: Array) -> float:
    low, high = np.percentile(aside, _OUTER)
    return 0.5 * float(high - low)


def _beat(times: Array, off: Array) -> tuple[float, int]:
    """Beats a second by the times at which a motion about its middle comes up through it, and how often it does.

    A way back and forth of less than a tenth of its half sweep about the middle is not counted.
    """
    edge = 0.1 * float(np.abs(off).max())
    side = np.where(off > edge, 1, np.where(off < -edge, -1, 0))
    clear = np.flatnonzero(side)
    if len(clear) == 0:
        return 0.0, 0
    ups = np.flatnonzero((side[clear][1:] > 0) & (side[clear][:-1] < 0))
    if len(ups) < 2:
        return 0.0, len(ups)
    before, after = clear[ups], clear[ups + 1]
    crossing = times[before] + (times[after] - times[before]) * off[before] / (off[before] - off[after])
    return (len(ups) - 1) / float(crossing[-1] - crossing[0]), len(ups)


def _strongest(times: Array, aside: Array, least: float) -> float:
    """The strongest line [1/s], from `least` up, of a motion's spectrum; 0 where it is still."""
    off = aside - aside.mean()
    if float(np.abs(off).max()) < 1e-9 or len(off) < 8:
        return 0.0
    points = 1 << (4 * len(off) - 1).bit_length()
    power = np.abs(np.fft.rfft(off * np.hanning(len(off)), points))
    lines = np.fft.rfftfreq(points, times[1] - times[0])
    power[lines < least] = 0.0
    return float(lines[int(np.argmax(power))])
