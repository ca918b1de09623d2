// The shop's log as the workbench tells it, and what is sent to it. What is told as entered is on the disk.

import { el, refresh } from "./build";
import { bareSections, Before, findingItem } from "./figures";
import type { Finding, Refused, Section, Shop } from "./told";

export interface LogField { name: string; label: string; now: string; choices: string[] }
/** `open`: it stands, and may be corrected or struck out. */
export interface LogEntry { number: number; words: string; open: boolean; fields: LogField[] }

export interface PhotoTold { number: number; name: string; shows: string; done: string; there: boolean; shown: boolean }

export interface LureTold {
  there: true; number: number; pattern: string; version: number; run: number; stamp: string; headline: string; next: string; stage: string;
  piece: string; stages: string[]; pieces: string[]; holes: string[]; parts: string[]; sections: Section[];
  entries: LogEntry[]; photos: PhotoTold[]; newest: number;
}

/** What is in a lure and what is still missing; worked out after the rest. */
export interface SumsTold { there: true; trouble: string; sections: Section[] }

export interface PatternTold {
  there: true; words: string; pattern: string; known: boolean; lures: { number: number; words: string }[]; runs: number[]; boards: string[];
}

export interface RunsTold {
  there: true; runs: { pattern: string; version: number; run: number; words: string }[];
  patterns: { pattern: string; version: number; runs: number[] }[]; boards: string[];
}

/** Boards and stock; `sorts` of stock there are. */
export interface MadeTold { there: true; boards: LogEntry[]; stock: LogEntry[]; sorts: string[] }

/** A run, with the rows of `gudgeon log batch`. */
export interface RunTold {
  there: true; pattern: string; version: number; run: number; headline: string; findings: Finding[]; sections: Section[];
  lures: { number: number; words: string }[];
}

export interface LuresTold {
  there: true; headline: string; lures: { number: number; words: string; last: string }[]; more: boolean;
}

export interface FoundTold { there: true; headline: string; found: { stamp: string; words: string; lures: number[] }[] }

export interface NoLog { there: false; folder: string }
export interface Wrong { refused: Refused }
export interface Entered { entry?: number; lure?: number; words: string; findings?: Finding[] }
interface Questioned { questioned: Finding[] }

const SILENT: Wrong = { refused: { heading: "No answer came",
  faults: [{ place: "the workbench", words: "it may have stopped. What was entered last, the entries below show once it answers", line: null }] } };

async function answered<T>(asking: () => Promise<Response>): Promise<T | Wrong> {
  try {
    return (await (await asking()).json()) as T | Wrong;
  } catch {
    return SILENT;
  }
}

/** Asks the log; a refusal, or silence, comes as one. */
export function ask<T>(what: string, asked: Record<string, string | number>): Promise<T | NoLog | Wrong> {
  const query = new URLSearchParams(Object.entries(asked).map(([key, value]) => [key, String(value)]));
  return answered(() => fetch(`/api/log/${what}?${query}`));
}

/** What the log is for, where there is none. */
export function purpose(folder: string): string {
  return `It keeps what every lure weighed at each stage and what it did on the water, in the folder ${folder}.`;
}

export function showSections(node: Element, sections: Section[]): void {
  bareSections(node, { headline: "", also: [], sections }, new Before(), "bench");
}

export function sentence(refused: Refused): string {
  return [`${refused.heading}.`, ...refused.faults.map((fault) => `${fault.place}: ${fault.words}.`)].join(" ");
}

/** A file made by the workbench, saved by the browser; tells why when it is not. */
export async function take(what: string, asked: Record<string, string | number>, said: (words: string) => void): Promise<void> {
  const query = new URLSearchParams(Object.entries(asked).map(([key, value]) => [key, String(value)]));
  said("Being made.");
  try {
    const answer = await fetch(`/api/log/take/${what}?${query}`);
    if (!answer.ok) return said(sentence(((await answer.json()) as Wrong).refused));
    const name = decodeURIComponent(/filename\*=UTF-8''(.+)$/.exec(answer.headers.get("content-disposition") ?? "")?.[1] ?? what);
    const address = URL.createObjectURL(await answer.blob());
    el("a", { href: address, download: name }).click();
    window.setTimeout(() => URL.revokeObjectURL(address), 60_000);
    said(`${name} is made.`);
  } catch {
    said(sentence(SILENT.refused));
  }
}

/** What goes through the log's door, and what it says: entered, refused, or questioned until it is so. */
export class Door {
  readonly node = el("div", { class: "door" });
  private said = el("p", { class: "entered", role: "status" });
  private trouble = el("div", { role: "alert" });
  private busy = false;

  constructor(private shop: () => Shop, private done: (entered: Entered) => void, private back: () => void) {
    this.node.append(this.trouble, this.said);
  }

  async send(what: "start" | "begin" | "enter" | "correct" | "add", asked: Record<string, unknown>): Promise<void> {
    const answer = await this.through(() => fetch(`/api/log/${what}?units=${this.shop()}`,
      { method: "POST", body: JSON.stringify(asked), headers: { "content-type": "application/json" } }));
    if (answer && "questioned" in answer) this.question(answer.questioned, () => this.send(what, { ...asked, sure: true }));
  }

  /** A file, with what is told of it. */
  async bring(what: "photo", asked: Record<string, string | number>, file: File): Promise<void> {
    const query = new URLSearchParams({ units: this.shop() });
    for (const [key, value] of Object.entries(asked)) query.set(key, String(value));
    await this.through(() => fetch(`/api/log/${what}?${query}`, { method: "POST", body: file, headers: { "content-type": "application/octet-stream" } }));
  }

  /** What is answered; told here, unless it is a question. */
  private async through(asking: () => Promise<Response>): Promise<Entered | Questioned | Wrong | null> {
    if (this.busy) return null;
    this.busy = true;
    this.clear();
    const answer = await answered<Entered | Questioned>(asking);
    this.busy = false;
    if ("refused" in answer) this.refuse(answer.refused);
    else if (!("questioned" in answer)) {
      this.said.textContent = answer.words;
      this.done(answer);
    }
    return answer;
  }

  /** Takes back what was asked or refused; what was entered last stays told. */
  withdraw(): void { this.trouble.replaceChildren(); }

  refuse(refused: Refused): void {
    this.trouble.replaceChildren(el("div", { class: "told wrong" }, el("p", {}, el("strong", {}, "not entered: "),
      sentence(refused).replace(/^nothing was entered\. /, ""))));
  }

  say(words: string): void { this.said.textContent = words; }

  private clear(): void {
    this.withdraw();
    this.said.textContent = "";
  }

  private question(odd: Finding[], sure: () => Promise<void>): void {
    const change = el("button", { type: "button", click: () => { this.withdraw(); this.back(); } }, "Change it");
    this.trouble.replaceChildren(el("div", { class: "told watch question" }, el("p", {}, el("strong", {}, "Not entered yet. "), "Is it so?"),
      el("ul", { class: "findings" }, ...odd.map((one) => findingItem(one, null, false))),
      el("div", { class: "row" }, change, el("button", { type: "button", click: () => void sure() }, "It is so: enter it"))));
    change.focus();
    this.trouble.scrollIntoView({ block: "nearest" });
  }
}

/** The entries of a lure, the newest first, each that stands with a way to correct it. */
export class Entries {
  readonly node: HTMLOListElement;
  private open: number | null = null;
  private list: LogEntry[] = [];

  constructor(private shop: () => Shop, private done: (entered: Entered) => void, called = "Entries, the newest first") {
    this.node = el("ol", { class: "entries", "aria-label": called });
  }

  show(list: LogEntry[]): void {
    this.list = list;
    if (!list.some((one) => one.number === this.open && one.open)) this.open = null;
    refresh(this.node, [list, this.open], () => list.map((one) => this.item(one)));
  }

  private item(entry: LogEntry): HTMLElement {
    const correct = el("button", { type: "button", "aria-label": `Correct entry ${entry.number}`, click: () => { this.open = entry.number; this.show(this.list); } }, "Correct");
    return el("li", { value: entry.number }, el("p", {}, el("b", {}, `${entry.number} `), entry.words),
      !entry.open ? null : this.open === entry.number ? this.form(entry) : correct);
  }

  private form(entry: LogEntry): HTMLElement {
    const close = (): void => {
      this.open = null;
      this.show(this.list);
      this.node.querySelector<HTMLElement>(`[aria-label="Correct entry ${entry.number}"]`)?.focus();
    };
    const door = new Door(this.shop, (entered) => { this.open = null; this.done(entered); }, () => form.querySelector("input")?.focus());
    const id = (name: string): string => `correct-${entry.number}-${name}`;
    const inputs = entry.fields.map((one) => el("div", { class: "field" }, el("label", { for: id(one.name) }, one.label),
      one.choices.length > 0 ? el("select", { id: id(one.name) }, one.choices.includes(one.now) ? null : el("option", { value: "", selected: true }, one.now ? `stays ${one.now}` : "not noted"), ...one.choices.map((choice) => el("option", { value: choice, selected: choice === one.now }, choice)))
        : el("input", { id: id(one.name), type: "text", autocomplete: "off", placeholder: one.now ? `stays ${one.now}` : "stays empty" })));
    const why = el("input", { id: id("why"), type: "text", autocomplete: "off", maxlength: 400 });
    const changed = (): Record<string, string> => Object.fromEntries(entry.fields.map((one): [string, string] => {
      const given = (form.querySelector(`[id="${id(one.name)}"]`) as HTMLInputElement | HTMLSelectElement).value.trim();
      return [one.name, one.choices.length > 0 && given === one.now ? "" : given];
    }).filter(([, words]) => words !== ""));
    const form = el("form", { class: "correcting", submit: (event) => {
      event.preventDefault();
      void door.send("correct", { entry: entry.number, fields: changed(), why: why.value });
    }, input: () => door.withdraw() },
      el("p", { class: "quiet" }, inputs.length > 0 ? "Write only what is to be another, with its unit. The old entry stays in the history."
        : "It can be struck out; it stays in the history."),
      el("div", { class: "fields" }, ...inputs, el("div", { class: "field wide" }, el("label", { for: id("why") }, "why"), why)),
      door.node,
      el("div", { class: "row" }, inputs.length > 0 ? el("button", { class: "main" }, "Enter the correction") : null,
        el("button", { type: "button", click: () => void door.send("correct", { entry: entry.number, why: why.value, void: true }) }, "It does not count at all"),
        el("button", { type: "button", click: close }, "Leave it")));
    window.setTimeout(() => form.querySelector<HTMLElement>("input, select")?.focus());
    return form;
  }
}
