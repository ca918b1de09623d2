// The tables of the design file that are typed beside the drawing, place by place.

import type { Handle } from "./handles";
import { written } from "./handles";
import type { Act, PlaceName, Shape, Shelf } from "./told";
import { field, group, tableFields } from "./typed";

type Made = [() => HTMLElement, unknown]; // how it is made, and what it is made of
type Write = (words: string, acts: Act[]) => void;
type Table = (title: string, where: string, kind: string, only?: string[]) => Made;

/** The tables of a place; on the drawing those of what is in hand. */
export function typedTables(place: PlaceName, shape: Shape, handle: Handle | undefined, keys: Shelf["keys"], write: Write): Made[] {
  const table: Table = (title, where, kind, only) => {
    const has = at(shape, where);
    return [() => tableFields(title, where, has, keys[kind] ?? [], write, only), [where, has]];
  };
  if (place === "ledger") return [table("The wood", "wood", "wood"), table("The sealer", "sealer", "sealer"), ...each(shape, "coat", "Coat", table)];
  if (place === "water") return [table("The water", "water", "water"), table("What it is to do", "aim", "aim")];
  if (place === "tow") return [table("Speeds it is meant for", "aim", "aim", ["speeds"]), table("The line", "tackle", "tackle")];
  if (place === "bench") return [table("As weighed: the blank, the board", "wood", "wood", ["blank_weight", "density"])];
  if (place !== "drawing") return [];
  const body = { name: shape.written["name"], length: shape.written["length"] };
  return [...ofPart(shape, handle, table), [() => bodyFields(body, write), body],
    table("Its ends", "outline", "outline", ["nose", "tail", "drawn"])];
}

function ofPart(shape: Shape, handle: Handle | undefined, table: Table): Made[] {
  if (!handle?.part) return [];
  const { table: kind, place, name } = handle.part;
  const lone = kind === "lip" || kind === "fin";
  return [table(name, lone ? kind : `${kind}.${place}`, kind), ...(kind === "joint" ? hinges(shape, place, table) : [])];
}

function each(shape: Shape, kind: string, title: string, table: Table): Made[] {
  const list = shape.written[kind];
  return Array.isArray(list) ? list.map((one: { name?: string }, index) => table(`${title}: ${one.name ?? index + 1}`, `${kind}.${index + 1}`, kind)) : [];
}

function hinges(shape: Shape, joint: number, table: Table): Made[] {
  const list = shape.written["hinge"];
  if (!Array.isArray(list)) return [];
  return list.flatMap((hinge: { joint?: number }, index) => hinge.joint === joint ? [table(`hinge ${index + 1}`, `hinge.${index + 1}`, "hinge")] : []);
}

function bodyFields(body: { name: unknown; length: unknown }, write: (words: string, acts: Act[]) => void): HTMLElement {
  return group("The body", [body.name, body.length].filter(Boolean).map(String).join(", "), [
    field("name", String(body.name ?? ""), { id: "f-name" }, (words) => write("name", [{ act: "write", where: "name", words }])),
    field("length", String(body.length ?? ""), { id: "f-length", hint: "in mm or in" }, (words) => write("length", [{ act: "end", at: words }]))]);
}

/** A table of the file by its place: "hook.2", "wood". */
function at(shape: Shape, where: string): Record<string, unknown> {
  const [kind, number] = where.split(".");
  return written(shape.written, { table: kind as never, place: Number(number ?? 1) });
}
