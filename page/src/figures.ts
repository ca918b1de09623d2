// Answers as they stand beside the drawing: a sentence, what is wrong, figures under their titles, and what the hand
// has changed since it began.

import { el, refresh, say, together } from "./build";
import type { Answer, Finding, Mark, Place, PlaceName, Row, Section, Weights } from "./told";

const SIGNS: Record<Finding["gravity"], string> = { wrong: "✕", watch: "!", note: "–" };
const GLANCE = ["ballast.needed", "whole.excess", "whole.rate", "whole.reserve", "whole.attitude", "upright.lever", "whole.mass"];
const OPEN = new Set(["As drawn", "Ballast", "In the water", "In the water, ballast in", "What goes into it", "Bores for ballast",
  "What the scale should show", "From slow to fast", "As traced", "From the log"]);

/** What was answered when the hand began, by the rows' names. */
export class Before {
  private shown = new Map<string, string>();
  private words = new Set<string>();

  note(answer: Answer | null): void {
    this.shown.clear();
    this.words.clear();
    for (const place of Object.values(answer?.places ?? {})) {
      for (const section of place.sections) for (const row of section.rows) this.shown.set(row.name, row.shown);
    }
    for (const finding of answer?.findings ?? []) this.words.add(bare(finding.words));
  }

  /** What a row showed before, where it shows something else now. */
  was(row: Row): string | null {
    const before = this.shown.get(row.name);
    return before !== undefined && before !== row.shown ? before : null;
  }

  /** Whether a finding was not there before. */
  isNew(finding: Finding): boolean { return this.words.size > 0 && !this.words.has(bare(finding.words)); }
}

/** What a finding says, its figures left out: it is not new because one of them moved. */
function bare(words: string): string { return words.replace(/[-\d./°]+/g, "#"); }

const FIGURE = /^(-?\d+)((?:\.\d+)?)(.*)$/;

/** What stood there before, without its spread and unit where the figure alone tells the two apart. */
function brief(earlier: string, row: Row): string {
  const figure = (words: string): string => words.split(/ [±(]| [a-z]/)[0] ?? words;
  return typeof row.value !== "string" && figure(earlier) !== figure(row.shown) ? figure(earlier) : earlier;
}

function shown(row: Row): (Node | string)[] {
  const parts = typeof row.value === "string" || row.shown.includes("/") ? null : FIGURE.exec(row.shown);
  if (!parts) return [row.shown];
  return [el("span", { class: "whole" }, parts[1] ?? ""), el("span", {}, `${parts[2]}${parts[3]}`)];
}

function line(row: Row): HTMLTableRowElement {
  const sub = row.label.startsWith(" ");
  const words = typeof row.value === "string";
  return el("tr", { "data-row": row.name, class: [sub && "sub", words && "words"].filter(Boolean).join(" ") || null },
    el("th", { scope: "row" }, row.label.trim()), el("td", { class: "now" }), el("td", { class: "was" }));
}

function fillLine(node: Element, row: Row, before: Before): void {
  const [, now, was] = node.children as unknown as [Element, Element, Element];
  refresh(now, row.shown, () => {
    const parts = shown(row).map((part) => (typeof part === "string" ? document.createTextNode(part) : part));
    return parts;
  });
  const earlier = before.was(row);
  node.classList.toggle("changed", earlier !== null);
  say(was, earlier === null ? "" : `was ${brief(earlier, row)}`);
}

/** Rows kept in their table; only what has changed is touched. */
function fillTable(table: Element, rows: Row[], before: Before): void {
  const names = rows.map((row) => `${row.name}${row.label}${typeof row.value === "string"}`).join();
  if (table.getAttribute("data-names") !== names) {
    table.setAttribute("data-names", names);
    table.replaceChildren(el("tbody", {}, ...rows.map(line)));
  }
  [...table.querySelectorAll("tr")].forEach((node, index) => fillLine(node, rows[index]!, before));
}

function fillSections(node: Element, sections: Section[], before: Before, place: PlaceName): void {
  refresh(node, [place, sections.map((section) => section.title)], () => sections.map((section) =>
    el("details", { open: OPEN.has(section.title) }, el("summary", {}, el("h3", {}, section.title)), el("table", {}))));
  [...node.querySelectorAll("table")].forEach((table, index) => fillTable(table, sections[index]?.rows ?? [], before));
}

export function findingItem(finding: Finding, number: number | null, isNew: boolean): HTMLLIElement {
  return el("li", { class: `finding ${finding.gravity}` }, el("span", { class: "sign", "aria-hidden": "true" }, SIGNS[finding.gravity]),
    el("p", {}, el("strong", {}, `${finding.gravity}: `), number === null ? null : el("b", { class: "number" }, `mark ${number}. `),
      isNew ? el("em", {}, "new: ") : null, finding.words));
}

function numberOf(finding: Finding, marks: Mark[]): number | null {
  const index = marks.findIndex((mark) => mark.words === finding.words);
  return index < 0 ? null : index + 1;
}

export class Figures {
  readonly node = el("div", { class: "figures" });
  private sentence = el("p", { class: "sentence" });
  private counts = el("p", { class: "counts" });
  private glance = el("table", { class: "glance", "aria-label": "At a glance" });
  private findings = el("ul", { class: "findings", "aria-label": "What is wrong, worst first" });
  private also = el("div", { class: "also" });
  readonly typed = el("div", { class: "typed" });
  private sections = el("div", { class: "sections" });

  constructor() {
    this.node.append(this.sentence, this.counts, this.glance, this.findings, this.typed, this.also, this.sections);
  }

  /** What the hand waits for: the sentence above and the figures below it, nothing else. */
  glanceAt(answer: Answer, before: Before): void {
    say(this.sentence, together(answer.places?.drawing.headline ?? ""));
    fillTable(this.glance, glanceRows(answer), before);
  }

  show(answer: Answer, place: Exclude<PlaceName, "papers" | "bench" | "tow">, before: Before): void {
    const told = answer.places?.[place];
    if (!told) return;
    if (place === "drawing") this.glanceAt(answer, before);
    else say(this.sentence, together(told.headline));
    say(this.counts, place === "drawing" ? counted(answer.findings ?? []) : "");
    this.glance.hidden = place !== "drawing";
    const marks = answer.scene?.marks ?? [];
    const findings = place === "ledger" ? [] : answer.findings ?? [];
    refresh(this.findings, findings.map((one) => [one.words, numberOf(one, marks), before.isNew(one)]), () =>
      findings.map((one) => findingItem(one, numberOf(one, marks), before.isNew(one))));
    refresh(this.also, told.also, () => told.also.map((words) => el("p", {}, words)));
    fillSections(this.sections, told.sections, before, place);
  }
}

/** How much is wrong, where something is: on a small screen the list itself lies further down. */
function counted(findings: Finding[]): string {
  const [wrong, watch] = (["wrong", "watch"] as const).map((gravity) => findings.filter((one) => one.gravity === gravity).length) as [number, number];
  return wrong === 0 ? "" : `${SIGNS.wrong} ${wrong} wrong${watch > 0 ? `, ${watch} to watch` : ""}`;
}

/** Places with the newer of their rows. */
export function withRows(places: NonNullable<Answer["places"]>, { headlines, rows }: Weights): NonNullable<Answer["places"]> {
  const newer = new Map(rows.map((row) => [row.name, row]));
  const renewed = (place: Place, headline: string): Place => ({ ...place, headline, sections: place.sections.map((section) =>
    ({ ...section, rows: section.rows.map((row) => newer.get(row.name) ?? row) })) });
  return { ...places, drawing: renewed(places.drawing, headlines.drawing), ledger: renewed(places.ledger, places.ledger.headline),
    water: renewed(places.water, headlines.water) };
}

function glanceRows(answer: Answer): Row[] {
  const rows = Object.values(answer.places ?? {}).flatMap((place: Place) => place.sections.flatMap((section) => section.rows));
  return GLANCE.map((name) => rows.find((row) => row.name === name)).filter((row): row is Row => row !== undefined)
    .map((row) => ({ ...row, label: row.label.trim() }));
}

export function bareSections(node: Element, place: Place, before: Before, name: PlaceName): void {
  fillSections(node, place.sections, before, name);
}
