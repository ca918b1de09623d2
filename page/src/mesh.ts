// A lure in three dimensions as it comes from the workbench: read, and shaded so that round wood looks round and cuts
// keep their edges. Millimetres; x aft of the nose, y right, z up.

export type Point3 = [number, number, number];
export type Shape =
  | { shape: "rod"; at: Point3; along: Point3; half: number; radius: number }
  | { shape: "box"; at: Point3; halves: Point3; tilt: number }
  | { shape: "ring"; at: Point3; normal: Point3; radius: number; wire: number }
  | { shape: "ball"; at: Point3; radius: number }
  | { shape: "sheet"; at: Point3; along: Point3; across: Point3; outline: [number, number][]; thick: number }
  | { shape: "treble"; at: Point3; length: number; gape: number; wire: number };
export type Kind = "ballast" | "plug" | "metal" | "plate" | "glass";
export type Part = { name: string; kind: Kind; piece: number } & Shape;

export interface Head {
  stamp: string; whole: boolean; pieces: { name: string; corners: number; triangles: number }[];
  folds: { pivot: number; swing: number | null }[]; parts: Part[]; water: { height: number; pitch: number } | null;
}

export interface Surface { corners: Float32Array; triangles: Uint32Array }
export interface Lure { head: Head; surfaces: Surface[] }

/** Corners with their normals, once for every normal that a corner has; which of them make each triangle; and both ends of
 * every edge that is cut, not rounded. */
export interface Shaded { places: Float32Array; normals: Float32Array; triangles: Uint32Array; edges: Float32Array }

const CREASE = Math.cos((35 * Math.PI) / 180);
const NOTHING = 1e-7; // mm2: a triangle with less has no face to speak of

export function read(bytes: ArrayBuffer): Lure {
  const long = new DataView(bytes).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, 4, long))) as Head;
  let at = 4 + long;
  const surfaces = head.pieces.map((piece) => {
    const corners = new Float32Array(bytes, at, 3 * piece.corners);
    at += corners.byteLength;
    const triangles = new Uint32Array(bytes, at, 3 * piece.triangles);
    at += triangles.byteLength;
    return { corners, triangles };
  });
  return { head, surfaces };
}

export function shaded({ corners, triangles }: Surface): Shaded {
  const count = triangles.length / 3;
  const faces = new Float32Array(3 * count), sizes = new Float32Array(count); // normal of unit length, twice the area
  for (let face = 0; face < count; face += 1) faceOf(corners, triangles, face, faces, sizes);
  const { first, around } = neighbours(triangles, corners.length / 3);
  const places = new Float32Array(9 * count), normals = new Float32Array(9 * count), made = new Uint32Array(3 * count), edges: number[] = [];
  const newest = new Int32Array(corners.length / 3).fill(-1), older = new Int32Array(3 * count); // what was made of each corner
  let many = 0;
  const smooth = (one: number, other: number): boolean =>
    faces[3 * one]! * faces[3 * other]! + faces[3 * one + 1]! * faces[3 * other + 1]! + faces[3 * one + 2]! * faces[3 * other + 2]! > CREASE;
  for (let face = 0; face < count; face += 1) {
    for (let place = 0; place < 3; place += 1) {
      const corner = triangles[3 * face + place]!, to = 3 * many;
      let x = 0, y = 0, z = 0;
      for (let index = first[corner]!; index < first[corner + 1]!; index += 1) {
        const other = around[index]!;
        if (other !== face && !smooth(face, other)) continue;
        const size = sizes[other]!;
        x += size * faces[3 * other]!;
        y += size * faces[3 * other + 1]!;
        z += size * faces[3 * other + 2]!;
      }
      const long = Math.hypot(x, y, z) || 1;
      normals[to] = x / long;
      normals[to + 1] = y / long;
      normals[to + 2] = z / long;
      let same = newest[corner]!;
      while (same >= 0 && (normals[3 * same] !== normals[to] || normals[3 * same + 1] !== normals[to + 1] || normals[3 * same + 2] !== normals[to + 2])) same = older[same]!;
      if (same < 0) {
        for (let axis = 0; axis < 3; axis += 1) places[to + axis] = corners[3 * corner + axis]!;
        older[many] = newest[corner]!;
        newest[corner] = same = many;
        many += 1;
      }
      made[3 * face + place] = same;
      const next = triangles[3 * face + ((place + 1) % 3)]!;
      if (corner > next || sizes[face]! < NOTHING) continue;
      const beside = across(triangles, first, around, face, corner, next);
      if (beside < 0 || sizes[beside]! < NOTHING || smooth(face, beside)) continue;
      for (const end of [corner, next]) edges.push(corners[3 * end]!, corners[3 * end + 1]!, corners[3 * end + 2]!);
    }
  }
  return { places: places.slice(0, 3 * many), normals: normals.slice(0, 3 * many), triangles: made, edges: new Float32Array(edges) };
}

function faceOf(corners: Float32Array, triangles: Uint32Array, face: number, faces: Float32Array, sizes: Float32Array): void {
  const a = 3 * triangles[3 * face]!, b = 3 * triangles[3 * face + 1]!, c = 3 * triangles[3 * face + 2]!;
  const ux = corners[b]! - corners[a]!, uy = corners[b + 1]! - corners[a + 1]!, uz = corners[b + 2]! - corners[a + 2]!;
  const vx = corners[c]! - corners[a]!, vy = corners[c + 1]! - corners[a + 1]!, vz = corners[c + 2]! - corners[a + 2]!;
  const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;
  const size = Math.hypot(x, y, z);
  sizes[face] = size;
  faces[3 * face] = x / (size || 1);
  faces[3 * face + 1] = y / (size || 1);
  faces[3 * face + 2] = z / (size || 1);
}

/** The triangles round about each corner, one corner's after the other's. */
function neighbours(triangles: Uint32Array, corners: number): { first: Uint32Array; around: Uint32Array } {
  const first = new Uint32Array(corners + 1), around = new Uint32Array(triangles.length);
  for (const corner of triangles) first[corner + 1]! += 1;
  for (let corner = 0; corner < corners; corner += 1) first[corner + 1]! += first[corner]!;
  const next = first.slice();
  triangles.forEach((corner, index) => { around[next[corner]!++] = Math.floor(index / 3); });
  return { first, around };
}

/** The triangle on the other side of an edge; -1 where there is none. */
function across(triangles: Uint32Array, first: Uint32Array, around: Uint32Array, face: number, from: number, to: number): number {
  for (let index = first[from]!; index < first[from + 1]!; index += 1) {
    const other = around[index]!;
    if (other !== face && (triangles[3 * other] === to || triangles[3 * other + 1] === to || triangles[3 * other + 2] === to)) return other;
  }
  return -1;
}
