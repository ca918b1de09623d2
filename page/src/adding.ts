// What is put into the drawing and taken out of it: where there is room, what must stay.

import type { Handle } from "./handles";
import type { View } from "./paper";
import type { Act, Shape } from "./told";

type Curves = NonNullable<Shape["curves"]>;

/** The curve that a new point belongs to and its place on it, from 1; null where there is no room between two others. */
export function roomForPoint(curves: Curves, view: View, at: number, up: number): { curve: "back" | "belly" | "side"; place: number } | null {
  const curve = view === "top" ? "side" : up < 0 && curves.belly !== null ? "belly" : "back";
  const points = curves[curve]!;
  const place = points.findIndex(([before]) => 1000 * before > at) + 1;
  return place < 2 || points.some(([before]) => Math.abs(1000 * before - at) < 0.5) ? null : { curve, place };
}

/** Why something cannot be taken out by hand; empty where it can. */
export function mustStay(handle: Handle, shape: Shape | null): string {
  const last = (handle.curve && shape?.curves?.[handle.curve]?.length) || 0;
  if (handle.curve && (handle.place === 1 || handle.place === last)) return "The first and the last point stay; they hold the ends of the body.";
  return handle.kind === "lip" || handle.kind === "fin" ? `Take the ${handle.kind} out of the design's text, under Papers.` : "";
}

export function takenOut(handle: Handle): Act {
  return handle.curve ? { act: "drop point", curve: handle.curve, place: handle.place } : { act: "take out", table: handle.kind, place: handle.place };
}

/** The number, from 1, that something put in at a station [mm] will have: cuts are counted from the nose. */
export function numberOfNew(there: NonNullable<Shape["handles"]>, table: string, at: number): number {
  const alike = there.filter((part) => part.table === table);
  return (table === "joint" ? alike.filter((part) => 1000 * part.at[0] < at) : alike).length + 1;
}
