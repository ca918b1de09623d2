"""A tow recorded for a page to play: outlines of the pieces, and where they are thirty times a second."""

import base64
import json

import numpy as np

from gudgeon.answers.one_beat import typical_start
from gudgeon.answers.tow_runs import Towed
from gudgeon.physics.tow_poses import piece_outlines

FRAMES_PER_SECOND = 30.0
LONGEST = 12.0  # s
_DIGITS = 5  # of metres: a hundredth of a millimetre


def recording(run: Towed, *, name: str, stamp: str) -> str:
    """One JSON object.

    frames : base64 of little-endian 32-bit floats, `width` to a frame: the nose's place (3) [m] from the point that
             is towed along, x the way it goes, y to starboard, z down; the head's quaternion (4), scalar first; the
             joints' angles [rad], positive where a piece's rear swings to port of the one ahead. Outlines are in each
             piece's own frame, x forward, y to starboard, z down, from its front end; `hinges` in the piece ahead [m]
    """
    start, motion, chain = typical_start(run), run.motion, run.task.chain
    last = min(float(motion.times[-1]), float(motion.tumbled[start]))
    times = np.arange(max(last - LONGEST, 0.0), last, 1.0 / FRAMES_PER_SECOND)
    rows = np.clip(np.searchsorted(motion.times, times), 0, len(motion.times) - 1)
    table = np.concatenate([motion.place[rows, :, start], motion.attitude[rows, :, start],
                            motion.angles[rows, :, start]], axis=1)  # fmt: skip
    outlines = piece_outlines(chain)
    told = {
        "lure": name, "design": stamp, "speed_m_s": run.task.speed, "frames_per_second": FRAMES_PER_SECOND,
        "width": int(table.shape[1]), "count": len(table),
        "pieces": [{"above": np.round(one.above[:, :2], _DIGITS).tolist(),
                    "side": np.round(one.side[:, ::2], _DIGITS).tolist()} for one in outlines],
        "hinges": np.round(chain.joints.place, _DIGITS).tolist(), "eye": np.round(chain.line.eye, _DIGITS).tolist(),
        "frames": base64.b64encode(table.astype("<f4").tobytes()).decode("ascii"),
    }  # fmt: skip
    return json.dumps(told, allow_nan=False)
