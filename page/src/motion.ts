// A recorded tow: where every piece of the lure is at a moment. Metres; x the way it is towed, y to starboard, z down.

export interface Recording {
  lure: string; design: string; speed_m_s: number; frames_per_second: number; width: number; count: number;
  pieces: { above: [number, number][]; side: [number, number][] }[];
  hinges: [number, number, number][]; eye: [number, number, number]; frames: string;
}

export type Turn = [number, number, number, number, number, number, number, number, number]; // rows of a 3 x 3
export interface Placed { at: [number, number, number]; turn: Turn }

/** A section of a piece, in the piece's own axes: an ellipse. */
interface Ring { x: number; axis: number; wide: number; deep: number }

const AROUND = 16;
const CIRCLE = Array.from({ length: AROUND }, (_, index) => [Math.cos((2 * Math.PI * index) / AROUND), Math.sin((2 * Math.PI * index) / AROUND)] as const);

export class Motion {
  readonly seconds: number;
  private frames: Float32Array;
  private rings: Ring[][];
  private sums: Float64Array; // of the nose's places up to each frame: x, y, z

  constructor(readonly told: Recording, private loop: number) {
    const bytes = Uint8Array.from(atob(told.frames), (letter) => letter.charCodeAt(0));
    this.frames = new Float32Array(bytes.buffer);
    this.rings = told.pieces.map((piece) => ringsOf(piece.above, piece.side));
    this.seconds = Math.max(0, (told.count - 1) / told.frames_per_second);
    this.sums = new Float64Array(3 * (told.count + 1));
    for (let frame = 0; frame < told.count; frame += 1) {
      for (const axis of [0, 1, 2]) this.sums[3 * frame + 3 + axis] = this.sums[3 * frame + axis]! + this.frames[frame * told.width + axis]!;
    }
  }

  /** Where the eye that follows it is: the mean of the nose's places within half a second of a moment. */
  follow(time: number): [number, number, number] {
    const { told } = this;
    const first = Math.max(0, Math.round((time - 0.5) * told.frames_per_second)), last = Math.min(told.count, Math.round((time + 0.5) * told.frames_per_second) + 1);
    return [0, 1, 2].map((axis) => (this.sums[3 * last + axis]! - this.sums[3 * first + axis]!) / Math.max(1, last - first)) as [number, number, number];
  }

  /** Seconds after which it is played again: so many whole beats, or all of it. */
  get round(): number { return this.loop > 0 && this.loop <= this.seconds ? this.loop : this.seconds; }

  /** Every piece at a moment [s]; between two frames, in proportion. */
  at(time: number): Placed[] {
    const { told } = this;
    const place = Math.min(Math.max(time, 0) * told.frames_per_second, told.count - 1);
    const first = Math.min(Math.floor(place), Math.max(0, told.count - 2)), share = place - first;
    const value = (column: number): number => {
      const from = this.frames[first * told.width + column] ?? 0;
      const to = this.frames[Math.min(first + 1, told.count - 1) * told.width + column] ?? from;
      return from + share * (to - from);
    };
    let at: [number, number, number] = [value(0), value(1), value(2)];
    let turn = fromQuaternion([value(3), value(4), value(5), value(6)]);
    const found: Placed[] = [{ at, turn }];
    told.hinges.forEach((hinge, joint) => {
      const off = turned(turn, hinge);
      at = [at[0] + off[0], at[1] + off[1], at[2] + off[2]];
      turn = aboutUpright(turn, value(7 + joint));
      found.push({ at, turn });
    });
    return found;
  }

  /** The sections of a piece where it is, each a ring of points, its own front first. */
  sections(piece: number, placed: Placed): [number, number, number][][] {
    return this.rings[piece]!.map((ring) => CIRCLE.map(([across, down]) => {
      const [x, y, z] = turned(placed.turn, [ring.x, ring.wide * across, ring.axis + ring.deep * down]);
      return [placed.at[0] + x, placed.at[1] + y, placed.at[2] + z];
    }));
  }

  /** Where the line is tied. */
  eye(placed: Placed): [number, number, number] {
    const off = turned(placed.turn, this.told.eye);
    return [placed.at[0] + off[0], placed.at[1] + off[1], placed.at[2] + off[2]];
  }

  /** What the lure takes up over the whole recording, from the eye that follows it: least and greatest x, y, z. */
  reach(): [[number, number, number], [number, number, number]] {
    const low: [number, number, number] = [Infinity, Infinity, Infinity], high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
    for (let frame = 0; frame < this.told.count; frame += 3) {
      const time = frame / this.told.frames_per_second, eye = this.follow(time);
      this.at(time).forEach((placed, piece) => {
        for (const ring of this.sections(piece, placed)) {
          for (const point of ring) {
            for (const axis of [0, 1, 2] as const) {
              low[axis] = Math.min(low[axis], point[axis] - eye[axis]);
              high[axis] = Math.max(high[axis], point[axis] - eye[axis]);
            }
          }
        }
      });
    }
    return [low, high];
  }
}

/** Outlines run down one side and back along the other, so each section has its ends at the same place of both halves. */
function ringsOf(above: [number, number][], side: [number, number][]): Ring[] {
  const count = above.length / 2;
  return above.slice(0, count).map(([x, wide], index) => {
    const low = side[index]![1], high = side[side.length - 1 - index]![1];
    return { x, axis: 0.5 * (low + high), wide, deep: 0.5 * Math.abs(low - high) };
  });
}

function fromQuaternion(given: [number, number, number, number]): Turn {
  const size = Math.hypot(...given) || 1;
  const [w, x, y, z] = given.map((part) => part / size) as [number, number, number, number];
  return [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y),
    2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x),
    2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)];
}

function turned(turn: Turn, [x, y, z]: [number, number, number]): [number, number, number] {
  return [turn[0] * x + turn[1] * y + turn[2] * z, turn[3] * x + turn[4] * y + turn[5] * z, turn[6] * x + turn[7] * y + turn[8] * z];
}

/** A turn followed by one about its own z. */
function aboutUpright(turn: Turn, angle: number): Turn {
  const cos = Math.cos(angle), sin = Math.sin(angle);
  const [a, b, c, d, e, f, g, h, i] = turn;
  return [a * cos + b * sin, b * cos - a * sin, c, d * cos + e * sin, e * cos - d * sin, f, g * cos + h * sin, h * cos - g * sin, i];
}
