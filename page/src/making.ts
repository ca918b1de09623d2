// What lures are made of: boards and stock in the log, looked at, added, corrected.

import { el, say } from "./build";
import { measured, typedIn } from "./measured";
import { ask, Door, Entries, type Entered, type MadeTold } from "./shoplog";
import type { Shop } from "./told";

interface Asked { name: string; label: string; units?: string[]; choices?: string[]; hint?: string }
interface Group { legend: string; fields: Asked[] }

function boardGroups(shop: Shop): Group[] {
  const sizes = shop === "inch" ? ["in", "mm"] : ["mm", "in"];
  const dense = shop === "inch" ? ["lb/ft3", "g/cm3"] : ["g/cm3", "lb/ft3"];
  const sides = (first: string): Asked[] => ["length", "width", "thickness"].map((side) =>
    ({ name: `${first}${side}`, label: side === "length" ? "Length, along the grain" : side.charAt(0).toUpperCase() + side.slice(1), units: sizes }));
  return [
    { legend: "The board", fields: [{ name: "name", label: "What you write on it", hint: "B7" }, { name: "wood", label: "Its wood", hint: "poplar" },
      { name: "moisture", label: "Moisture, if measured", units: ["%"] }] },
    { legend: "Its density by an offcut sawn square, if you have one", fields: [{ name: "offcut", label: "The offcut weighs", units: ["g", "oz"] }, ...sides("offcut_")] },
    { legend: "Or its density, as measured", fields: [{ name: "density", label: "Density", units: dense }] },
    { legend: "The whole board, if you like", fields: [...sides(""), { name: "mass", label: "It weighs", units: ["kg", "g", "oz"] }] },
  ];
}

function stockGroups(shop: Shop, sorts: string[]): Group[] {
  return [
    { legend: "What lies in the drawer", fields: [{ name: "name", label: "What it is called", hint: "2/0 treble" }, { name: "what", label: "It is", choices: sorts },
      { name: "each", label: "One weighs, a hook with its ring", units: ["g", "oz"] }, { name: "count", label: "How many", hint: "24" },
      { name: "material", label: "Made of", hint: "lead" }] },
    { legend: "What is not counted", fields: [{ name: "amount", label: "How much", units: ["g", "kg", "oz"] },
      { name: "density", label: "Density, of cured resin", units: shop === "inch" ? ["lb/ft3", "g/cm3"] : ["g/cm3", "lb/ft3"] },
      { name: "lot", label: "Lot, as it stands on the tin" }] },
  ];
}

/** A form that adds one. */
function adding(kind: "board" | "stock", words: string, button: string, groups: Group[], shop: Shop, done: (entered: Entered) => void): HTMLElement {
  const fields = new Map<string, HTMLInputElement | HTMLSelectElement>();
  const made = (one: Asked): HTMLElement => {
    const id = `${kind}-${one.name}`;
    if (one.units) {
      const { node, input } = measured(id, one.label, one.units, one.hint ?? "", () => door.withdraw());
      fields.set(one.name, input);
      return node;
    }
    const input = one.choices ? el("select", { id }, ...one.choices.map((choice) => el("option", { value: choice }, choice)))
      : el("input", { id, type: "text", autocomplete: "off", maxlength: 400, placeholder: one.hint ?? "" });
    fields.set(one.name, input);
    return el("div", { class: "field" }, el("label", { for: id }, one.label), input);
  };
  const door = new Door(() => shop, (entered) => {
    for (const one of fields.values()) if (one instanceof HTMLInputElement) one.value = "";
    remark.value = "";
    done(entered);
  }, () => undefined);
  const remark = el("input", { id: `${kind}-remark`, type: "text", autocomplete: "off", maxlength: 400 });
  const send = (): void => void door.send("add", { kind, remark: remark.value, fields: Object.fromEntries([...fields].map(([name, one]) =>
    [name, one instanceof HTMLInputElement ? typedIn(one) : one.value])) });
  return el("details", { class: "group" }, el("summary", {}, el("h3", {}, words)),
    el("form", { class: "entering", submit: (event) => { event.preventDefault(); send(); }, input: () => door.withdraw() },
      ...groups.map((group) => el("fieldset", {}, el("legend", {}, group.legend), el("div", { class: "fields" }, ...group.fields.map(made)))),
      el("div", { class: "field" }, el("label", { for: remark.id }, "A remark"), remark),
      el("button", { class: "main" }, button), door.node));
}

/** The page of boards and stock. */
export async function making(main: HTMLElement, shop: Shop, refusal: (told: Exclude<Awaited<ReturnType<typeof asked>>, MadeTold>) => string): Promise<void> {
  const told = await asked(shop);
  main.append(el("h1", {}, "Boards and stock"));
  if (!("there" in told) || !told.there) return main.append(el("p", {}, refusal(told)));
  const said = [el("p", { class: "entered", role: "status" }), el("p", { class: "entered", role: "status" })] as const;
  const again = (place: 0 | 1) => (entered: Entered): void => { say(said[place], entered.words); void load(); };
  const boards = new Entries(() => shop, again(0), "Boards, the newest first"), stock = new Entries(() => shop, again(1), "Stock, the newest first");
  const none = [el("p", { class: "quiet" }, "None yet."), el("p", { class: "quiet" }, "None yet.")] as const;
  const show = (now: MadeTold): void => {
    boards.show(now.boards);
    stock.show(now.stock);
    none[0].hidden = now.boards.length > 0;
    none[1].hidden = now.stock.length > 0;
  };
  const load = async (): Promise<void> => {
    const now = await asked(shop);
    if ("there" in now && now.there) show(now);
  };
  show(told);
  const quietly = (): void => void load(); // what was added is told where it was added
  main.append(el("div", { class: "weighing making" }, el("h2", {}, "Boards"),
    adding("board", "Add a board", "Enter the board", boardGroups(shop), shop, quietly), said[0], none[0], boards.node,
    el("h2", {}, "Stock"), adding("stock", "Add to stock", "Enter it", stockGroups(shop, told.sorts), shop, quietly), said[1], none[1], stock.node));
}

function asked(shop: Shop): ReturnType<typeof ask<MadeTold>> { return ask<MadeTold>("made", { units: shop }); }
