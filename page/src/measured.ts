// A number with its unit beside it: the unit is changed with one tap, and remembered.

import { el, say } from "./build";

/** Words with a unit behind every number that has none. */
export function withUnit(words: string, unit: string): string {
  const left = unit.endsWith(" left");
  const said = unit.replace(/ (left|right)$/, "");
  const parts = words.split(",").map((part) => part.trim()).filter(Boolean);
  return parts.map((part) => (/[a-z"″°%]/i.test(part) ? part : `${left ? "-" : ""}${part} ${said}`)).join(", ");
}

/** What was typed, with its unit where it has one. */
export function typedIn(input: HTMLInputElement): string {
  return input.dataset["unit"] ? withUnit(input.value, input.dataset["unit"]) : input.value;
}

/** A field for a number; `changed` when another unit is chosen. */
export function measured(id: string, label: string, units: string[], hint: string, changed: () => void): { node: HTMLDivElement; input: HTMLInputElement } {
  const key = `gudgeon unit ${units.join()}`;
  const remembered = localStorage.getItem(key);
  const input = el("input", { id, type: "text", class: "number", inputmode: "decimal", autocomplete: "off", placeholder: hint });
  input.dataset["unit"] = remembered && units.includes(remembered) ? remembered : units[0]!;
  const other = el("button", { type: "button", class: "unit", disabled: units.length === 1, click: () => {
    input.dataset["unit"] = units[(units.indexOf(input.dataset["unit"]!) + 1) % units.length]!;
    localStorage.setItem(key, input.dataset["unit"]);
    told();
    changed();
  } });
  const told = (): void => {
    say(other, input.dataset["unit"]!);
    other.setAttribute("aria-label", units.length > 1 ? `${label}, unit: ${input.dataset["unit"]}. Change it` : `${label}, unit: ${units[0]}`);
  };
  told();
  return { node: el("div", { class: "field wide measure" }, el("label", { for: id }, label), el("div", { class: "reading" }, input, other)), input };
}
