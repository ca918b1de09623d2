// What the hand can take hold of, where it may go, and the acts that say so to the workbench. Millimetres.

import type { View } from "./paper";
import type { Act, CurveName, Part, Shape, Shop, Table, Written } from "./told";
import { said } from "./sizes";

export interface At { station: number; up: number } // up: height in the side view, offset to the right in the top view

export interface Handle {
  key: string;
  view: View;
  kind: "point" | Table;
  at: At;
  name: string; // "back, point 6 of 12"
  short: string; // what stands beside it on the drawing
  curve?: CurveName;
  place: number;
  part?: Part;
  /** The nearest place to a wanted one where it may stand. */
  held(wanted: At): At;
  acts(to: At): Act[];
}

const CLEAR = 0.5; // mm that neighbours and opposite sides keep from each other while they are dragged
const ends = (name: CurveName): string => (name === "side" ? "half the width" : name === "back" ? "height" : "depth");

export function outWord(curve: CurveName): string { return ends(curve); }

function clamp(value: number, low: number, high: number): number { return Math.max(low, Math.min(high, value)); }

/** How far out a drawn curve is at a station, straight from point to point. */
function straight(points: [number, number][], station: number): number {
  for (let index = 1; index < points.length; index += 1) {
    const [x0, y0] = points[index - 1]!, [x1, y1] = points[index]!;
    if (station <= x1) return y0 + ((station - x0) / Math.max(x1 - x0, 1e-9)) * (y1 - y0);
  }
  return points[points.length - 1]?.[1] ?? 0;
}

function millimetres(points: [number, number][]): [number, number][] {
  return points.map(([station, out]) => [1000 * station, 1000 * out]);
}

export function handles(shape: Shape): Handle[] {
  const { curves } = shape;
  if (!curves) return [];
  const found: Handle[] = [];
  for (const name of ["back", "belly", "side"] as CurveName[]) {
    const points = curves[name];
    if (points) millimetres(points).forEach((_, index) => found.push(point(shape, name, index)));
  }
  for (const part of shape.handles ?? []) found.push(...partHandles(shape, part));
  return found;
}

function point(shape: Shape, curve: CurveName, index: number): Handle {
  const curves = shape.curves!;
  const points = millimetres(curves[curve]!);
  const [station, out] = points[index]!;
  const last = points.length - 1;
  const sign = curve === "belly" ? -1 : 1;
  const opposite = curve === "back" ? curves.belly ?? curves.back! : curves.back!;
  const place = index + 1;
  const lowest = (at: number): number => {
    if (curve === "side") return index === 0 || index === last ? 0 : CLEAR;
    if (curve === "back" && curves.belly === null) return index === 0 || index === last ? 0 : CLEAR;
    return -straight(millimetres(opposite), at) + (index === 0 || index === last ? 0 : CLEAR);
  };
  let lengthened = false; // once the end was moved, every further stroke says where it is
  return {
    key: `${curve}.${place}`, view: curve === "side" ? "top" : "side", kind: "point", curve, place,
    at: { station, up: sign * out },
    name: `${curve}, point ${place} of ${points.length}`, short: `point ${place}`,
    held: (wanted) => {
      const before = points[index - 1]?.[0] ?? 0, after = points[index + 1]?.[0] ?? 0;
      const to = index === 0 ? 0 : index === last ? Math.max(wanted.station, endBefore(shape)) :
        clamp(wanted.station, before + CLEAR, after - CLEAR);
      return { station: to, up: sign * Math.max(sign * wanted.up, lowest(to)) };
    },
    acts: (to) => {
      const acts: Act[] = [];
      lengthened ||= index === last && Math.abs(to.station - station) > 1e-6;
      if (lengthened) acts.push({ act: "end", at: to.station / 1000 });
      acts.push({ act: "point", curve, place, station: to.station / 1000, out: (sign * to.up) / 1000 });
      return acts;
    },
  };
}

/** The shortest the body can be made by hand: behind every other point and cut. */
function endBefore(shape: Shape): number {
  const curves = Object.values(shape.curves ?? {}).filter((points) => points !== null);
  const stations = curves.map((points) => 1000 * (points[points.length - 2]?.[0] ?? 0) + CLEAR);
  const cuts = (shape.handles ?? []).filter((part) => part.table === "joint").map((part) => 1000 * part.at[0] + 5);
  return Math.max(10, ...stations, ...cuts);
}

const WORDS: Record<Table, string> = { joint: "cut", fitting: "eye or fitting", hook: "hook", pocket: "bore", lip: "lip",
  fin: "fin" };

function partHandles(shape: Shape, part: Part): Handle[] {
  const [x, y, z] = part.at.map((metres) => 1000 * metres) as [number, number, number];
  const key = `${part.table}.${part.place}`;
  const most = (shape.length ?? 1000) + (part.table === "joint" || part.table === "pocket" ? -1 : 15);
  const name = part.name === WORDS[part.table] || part.table === "joint" ? `${part.name}${part.table === "joint" ? ", a cut" : ""}`
    : `${part.name}, ${WORDS[part.table]}`;
  const common = { kind: part.table, place: part.place, part, short: part.name, name };
  const cuts = (shape.handles ?? []).filter((one) => one.table === "joint").map((one) => 1000 * one.at[0]);
  const low = part.table === "joint" ? (cuts[part.place - 2] ?? 0) + 3 : 0;
  const high = part.table === "joint" ? (cuts[part.place] ?? most + 3) - 3 : most;
  const did: Moved = { up: false, aside: false };
  const found: Handle[] = [{
    ...common, key, view: "side", at: { station: x, up: z },
    held: (wanted) => ({ station: clamp(wanted.station, low, high), up: part.moves.includes("height") ? wanted.up : z }),
    acts: (to) => moved(shape, part, did, [to.station - x, part.moves.includes("height") ? to.up - z : 0, 0]),
  }];
  if (part.moves.includes("offset")) {
    found.push({
      ...common, key: `${key}.above`, view: "top", at: { station: x, up: y },
      held: (wanted) => ({ station: clamp(wanted.station, 0, most), up: wanted.up }),
      acts: (to) => moved(shape, part, did, [to.station - x, 0, to.up - y]),
    });
  }
  return found;
}

/** What of a part the hand has moved: once it has, every further stroke says where it is, also back at the old place. */
interface Moved { up: boolean; aside: boolean }

/** The acts that move a part; its twin on the other side and the hooks that hang on it go along. */
function moved(shape: Shape, part: Part, did: Moved, by: [number, number, number]): Act[] {
  const [along, up, aside] = by.map((far) => far / 1000) as [number, number, number];
  did.up ||= Math.abs(up) > 1e-9;
  did.aside ||= Math.abs(aside) > 1e-9;
  return [part, ...companions(shape, part)].map((one) => {
    const [x, y, z] = one.at;
    const act: Act = { act: "move", table: one.table, place: one.place, at: x + along };
    if (did.up && (one === part || "height" in written(shape.written, one))) act["height"] = z + up;
    if (did.aside) act["offset"] = y + (one === part || y * part.at[1] > 0 ? aside : -aside);
    return act;
  });
}

const TOGETHER = 0.00075; // m: a hook no further from an eye hangs on it

function companions(shape: Shape, part: Part): Part[] {
  const others = (shape.handles ?? []).filter((one) => one !== part);
  const twins = others.filter((one) => one.table === part.table && Math.abs(one.at[0] - part.at[0]) < 1e-6 &&
    Math.abs(one.at[2] - part.at[2]) < 1e-6 && part.at[1] !== 0 && Math.abs(one.at[1] + part.at[1]) < 1e-6);
  if (part.table !== "fitting") return twins;
  const hung = others.filter((one) => {
    const on = written(shape.written, one)["on"];
    return one.table === "hook" && (on === part.name || (on === undefined && Math.abs(one.at[0] - part.at[0]) < TOGETHER));
  });
  return [...twins, ...hung];
}

/** What the file has under a part. */
export function written(all: Written, part: { table: Table; place: number }): Record<string, unknown> {
  const table = all[part.table];
  const found: unknown = Array.isArray(table) ? table[part.place - 1] : table;
  return typeof found === "object" && found !== null ? (found as Record<string, unknown>) : {};
}

export function whereWords(handle: Handle, at: At, shop: Shop): string {
  const from = `${said(at.station, shop)} from the nose`;
  if (handle.kind === "joint") return from;
  if (handle.curve) return `${from}, ${outWord(handle.curve)} ${said(Math.abs(at.up), shop)}`;
  if (handle.view === "top") return `${from}, ${said(Math.abs(at.up), shop)} to the ${at.up < 0 ? "left" : "right"}`;
  return handle.part?.moves.includes("height") ? `${from}, at a height of ${said(at.up, shop)}` : from;
}
