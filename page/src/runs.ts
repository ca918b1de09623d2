// Runs of lures: which there are, one of them with its lead for each blank, and lures begun.

import { el, refresh, say } from "./build";
import { findingItem } from "./figures";
import { ask, Door, sentence, showSections, type Entered, type RunsTold, type RunTold } from "./shoplog";
import type { Shop } from "./told";

const AT_ONCE = 8; // runs in sight, before the older ones

interface RunName { pattern: string; version: number; run: number }

export function runAddress({ pattern, version, run }: RunName): string {
  return `/?${new URLSearchParams({ log: "run", pattern, version: String(version), run: String(run) })}`;
}

export function runName({ pattern, version, run }: RunName): string { return `${pattern}, version ${version}, run ${run}`; }

/** What is chosen of runs of one version: a new one, or one that is there. */
export function runChoice(id: string): HTMLSelectElement { return el("select", { id }); }

export function offerRuns(node: HTMLSelectElement, runs: number[]): void {
  refresh(node, runs, () => [el("option", { value: "" }, "a new run"), ...runs.map((run) => el("option", { value: run }, `run ${run}, with those`))]);
}

export function boardChoice(id: string, boards: string[]): HTMLSelectElement {
  return el("select", { id }, el("option", { value: "" }, "not noted"), ...boards.map((name) => el("option", { value: name }, name)));
}

export function field(words: string, node: HTMLElement): HTMLDivElement {
  return el("div", { class: "field" }, el("label", { for: node.id }, words), node);
}

/** A whole number as it was typed, or the words, for the workbench to refuse. */
export function whole(words: string): number | string | null {
  const typed = words.trim();
  return typed === "" ? null : /^[0-9]{1,15}$/.test(typed) ? Number(typed) : typed;
}

/** Lures begun of a pattern that the log has. */
function beginning(told: RunsTold, shop: Shop, done: (entered: Entered) => void): HTMLElement {
  const pattern = el("select", { id: "begin-pattern", change: () => offer() },
    ...told.patterns.map((one, index) => el("option", { value: index }, `${one.pattern}, version ${one.version}`)));
  const count = el("input", { id: "begin-count", type: "text", inputmode: "numeric", value: "1", autocomplete: "off" });
  const board = boardChoice("begin-board", told.boards), run = runChoice("begin-run");
  const number = el("input", { id: "begin-number", type: "text", inputmode: "numeric", autocomplete: "off", placeholder: "the next free one" });
  const remark = el("input", { id: "begin-remark", type: "text", autocomplete: "off", maxlength: 400 });
  const chosen = (): RunsTold["patterns"][number] | undefined => told.patterns[Number(pattern.value)];
  const offer = (): void => offerRuns(run, chosen()?.runs ?? []);
  const door = new Door(() => shop, done, () => undefined);
  offer();
  const begin = (): void => {
    const one = chosen();
    if (one) void door.send("begin", { pattern: one.pattern, version: one.version, count: whole(count.value), board: board.value, run: whole(run.value), number: whole(number.value), remark: remark.value });
  };
  return el("details", { class: "group beginning" }, el("summary", {}, el("h2", {}, "Begin a lure, or a run of them")),
    el("form", { submit: (event) => { event.preventDefault(); begin(); }, input: () => door.withdraw() }, el("div", { class: "fields" },
      field("Pattern", pattern), field("How many", count), field("Out of the board", board), field("Run", run),
      field("Number of the first", number), field("A remark", remark)), el("button", { class: "main" }, "Begin"), door.node));
}

/** The runs there are, each with how far it has come; and the way to begin one. */
export async function runs(node: HTMLElement, shop: Shop): Promise<void> {
  const told = await ask<RunsTold>("runs", {});
  if (!("there" in told) || !told.there) return;
  const list = (some: RunsTold["runs"]): HTMLElement => el("ul", { class: "runs", "aria-label": "Runs, the newest first" }, ...some.map((one) =>
    el("li", {}, el("a", { href: runAddress(one) }, runName(one)), el("p", { class: "quiet" }, one.words))));
  const older = told.runs.slice(AT_ONCE);
  node.replaceChildren(
    ...(told.patterns.length > 0 ? [beginning(told, shop, (begun) => { if (begun.lure) location.assign(`/?log=${begun.lure}`); })] : []),
    ...(told.runs.length > 0 ? [el("h2", {}, "Runs"), list(told.runs.slice(0, AT_ONCE))] : []),
    ...(older.length > 0 ? [el("details", { class: "group" }, el("summary", {}, el("h3", {}, "Older runs")), list(older))] : []));
}

/** One run. */
export async function runPage(main: HTMLElement, asked: URLSearchParams, shop: Shop, toLure: (number: number) => HTMLElement): Promise<void> {
  const name = { pattern: asked.get("pattern") ?? "", version: asked.get("version") ?? "", run: asked.get("run") ?? "" };
  const bit = el("input", { id: "run-bit", type: "text", autocomplete: "off", placeholder: shop === "inch" ? "7/16 in" : "11 mm", maxlength: 40 });
  const holes = el("input", { id: "run-holes", type: "text", inputmode: "numeric", autocomplete: "off", value: "1", maxlength: 3 });
  const head = el("p", { class: "sentence", "aria-live": "polite" }), trouble = el("p", { class: "told wrong", role: "alert" });
  const findings = el("ul", { class: "findings", "aria-label": "What to watch, worst first" });
  const sections = el("div", { class: "sections" }), lures = el("ol", { class: "lures", "aria-label": "Its lures, by number" });
  const title = el("h1", {}, "A run");
  let filled = false;
  const load = async (): Promise<void> => {
    const told = await ask<RunTold>("run", { ...name, units: shop, bit: bit.value.trim(), holes: holes.value.trim() });
    const known = "there" in told && told.there;
    say(trouble, known ? "" : "refused" in told ? sentence(told.refused) : "There is no log yet.");
    if (!known) return;
    document.title = `${runName(told)} - Gudgeon`;
    say(title, runName(told));
    say(head, told.headline);
    refresh(findings, told.findings, () => told.findings.map((one) => findingItem(one, null, false)));
    showSections(sections, told.sections);
    for (const one of filled ? [] : sections.querySelectorAll("details")) one.open = true;
    filled = true;
    refresh(lures, told.lures, () => told.lures.map((one) => el("li", {}, toLure(one.number), el("p", {}, one.words))));
  };
  const form = el("form", { class: "find", submit: (event) => { event.preventDefault(); void load(); } },
    field("Bit for the lead, if it is drilled", bit), field("Holes it is parted into", holes), el("button", {}, "Work it out"));
  await load();
  main.append(title, trouble, head);
  if (filled) main.append(findings, form, sections, el("section", {}, el("h2", {}, "Its lures"), lures));
}
