// Numbers and words that are typed: the keys of a table of the design, as the file has them.

import { el } from "./build";
import { type Handle, outWord, written } from "./handles";
import { said } from "./sizes";
import type { Act, Key, Shape, Shop } from "./told";

export type Write = (words: string, acts: Act[]) => void;

export function spoken(key: string): string { return key.replaceAll("_", " "); }

function asText(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.every((item) => typeof item === "string") ? value.join(", ") : "";
  return String(value);
}

function hint(key: Key): string {
  if (key.takes === "quantity") return key.units[0] === "mm" ? "in mm or in" : key.units.length > 0 ? `in ${key.units[0]}` : "";
  if (key.takes === "list") return "with commas between";
  return "";
}

/** One labelled input; told when it was changed. */
export function field(label: string, value: string, more: { hint?: string; choices?: string[]; id: string },
  changed: (words: string) => void): HTMLElement {
  const props = { id: more.id, name: more.id, autocomplete: "off" };
  const options = more.choices ?? [];
  const input = options.length > 0
    ? el("select", { ...props, change: (event) => changed((event.target as HTMLSelectElement).value) },
        ...["", ...options].map((one) => el("option", { value: one, selected: one === value }, one === "" ? "left out" : one)))
    : el("input", { ...props, type: "text", value, placeholder: more.hint ?? "", spellcheck: "false",
        change: (event) => changed((event.target as HTMLInputElement).value),
        keydown: (event) => { if ((event as KeyboardEvent).key === "Enter") (event.target as HTMLInputElement).blur(); } });
  return el("div", { class: "field" }, el("label", { for: more.id }, label), input);
}

/** The fields of one table of the design. */
export function tableFields(title: string, where: string, has: Record<string, unknown>, keys: Key[], write: Write,
  only?: string[]): HTMLElement {
  const shown = keys.filter((key) => (only ? only.includes(key.name) : true) && !(key.takes === "list" && Array.isArray(has[key.name]) &&
    !(has[key.name] as unknown[]).every((item) => typeof item === "string")));
  const inputs = shown.map((key) => field(spoken(key.name), asText(has[key.name]),
    { hint: hint(key), choices: key.takes === "yes or no" ? ["yes", "no"] : key.choices, id: `f-${where}.${key.name}` },
    (words) => write(`${title}, ${spoken(key.name)}`, [{ act: "write", where: `${where}.${key.name}`, words }])));
  return group(title, shown.map((key) => asText(has[key.name])).filter(Boolean).join(", "), inputs);
}

/** Fields under a title that tells what they hold, to be opened. */
export function group(title: string, holds: string, inputs: HTMLElement[]): HTMLElement {
  return el("details", { class: "group", "data-group": title },
    el("summary", {}, el("h3", {}, title), el("span", { class: "holds" }, holds)),
    el("fieldset", {}, el("legend", { class: "unseen" }, title), el("div", { class: "fields" }, ...inputs)));
}

/** What is in the hand, in two or three fields that are always in sight. */
export function heldFields(handle: Handle, shape: Shape, shop: Shop, write: Write): HTMLElement[] {
  if (handle.curve) return pointFields(handle, shape, write);
  const part = handle.part!;
  const has = written(shape.written, part);
  const where = part.table === "lip" || part.table === "fin" ? part.table : `${part.table}.${part.place}`;
  const words: Record<string, string> = { at: "from the nose", height: "height", offset: "to the right" };
  return part.moves.map((key) => {
    const usual = said(1000 * part.at[{ at: 0, offset: 1, height: 2 }[key] ?? 0]!, shop);
    return field(words[key] ?? key, asText(has[key]), { hint: `${usual}, usual`, id: `h-${where}.${key}` },
      (typed) => write(`${part.name}, ${words[key]}`, [{ act: "write", where: `${where}.${key}`, words: typed }]));
  });
}

function pointFields(handle: Handle, shape: Shape, write: Write): HTMLElement[] {
  const curve = handle.curve!;
  const outline = shape.written["outline"] as Record<string, string[]> | undefined;
  const [station, out] = (outline?.[curve]?.[handle.place - 1] ?? "").split(":").map((part) => part.trim());
  const points = shape.curves?.[curve] ?? [];
  const isFirst = handle.place === 1, isLast = handle.place === points.length;
  const act = (more: Record<string, unknown>): Act[] => [{ act: "point", curve, place: handle.place,
    station: handle.at.station / 1000, out: (curve === "belly" ? -handle.at.up : handle.at.up) / 1000, ...more }];
  const found: HTMLElement[] = [];
  if (!isFirst) {
    found.push(field("from the nose", station ?? "", { id: "h-station" }, (words) => write(handle.name,
      isLast ? [{ act: "end", at: words }] : act({ station: words }))));
  }
  found.push(field(outWord(curve), out ?? "", { id: "h-out" }, (words) => write(handle.name, act({ out: words }))));
  return found;
}
