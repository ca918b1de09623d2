// At the bench: what the scale shows, and what was seen, put into the shop's log with big keys.

import { el, refresh, say, together } from "./build";
import { ask, purpose, Door, Entries, type LureTold, type NoLog, type PatternTold, sentence, showSections, type SumsTold, type Wrong } from "./shoplog";
import { measured, typedIn } from "./measured";
import { Photos } from "./photos";
import { boardChoice, field, offerRuns, runAddress, runChoice, whole } from "./runs";
import type { Shop } from "./told";

const LOOK_EVERY = 4000; // ms between looks whether another window or the terminal entered something

/** A field of a form: of the log's own name, with units to choose from where it is a number. */
interface Asked { name: string; label: string; units?: string[]; choices?: "stages" | "pieces" | "holes" | "parts"; hint?: string; long?: boolean }
interface Form { kind: string; words: string; fields: Asked[]; button: string }

const STAGE: Asked = { name: "stage", label: "Stage", choices: "stages" };
const PIECE: Asked = { name: "piece", label: "Piece", choices: "pieces" };
const GRAMS = ["g", "oz"];

function forms(shop: Shop): Form[] {
  const [way, small, warm, fast] = shop === "inch" ? [["ft", "m"], ["in", "mm"], ["F", "C"], ["mph", "kn", "m/s"]]
    : [["m", "ft"], ["mm", "in"], ["C", "F"], ["kn", "m/s", "mph"]];
  const water: Asked = { name: "temperature", label: "Water, if known", units: warm };
  return [
    { kind: "weighing", words: "a weight", button: "Enter the weight", fields: [STAGE, PIECE, { name: "mass", label: "The scale shows", units: GRAMS }] },
    { kind: "jug", words: "a jug", button: "Enter the jug", fields: [STAGE, PIECE, { name: "displaced", label: "The jug shows", units: GRAMS }, water] },
    { kind: "ballast", words: "lead", button: "Enter the lead", fields: [{ name: "hole", label: "Hole", choices: "holes" },
      { name: "mass", label: "It weighs; 0 while the hole is empty", units: GRAMS }, { name: "depth", label: "Its hole is deep, if measured", units: small }] },
    { kind: "fitting", words: "a part", button: "Enter the part", fields: [{ name: "part", label: "Part", choices: "parts" },
      { name: "mass", label: "It weighs", units: GRAMS }] },
    { kind: "timed_drop", words: "timed drops", button: "Enter the drops", fields: [STAGE, { name: "distance", label: "It fell", units: way },
      { name: "times", label: "In, one after the other", units: ["s"], hint: "12.4, 12.1" }, water] },
    { kind: "attitude", words: "how it lay", button: "Enter how it lay", fields: [STAGE,
      { name: "pitch", label: "It lay", units: ["deg nose-down", "deg nose-up"] }, { name: "leans", label: "It leaned, if it did", units: ["deg right", "deg left"] }] },
    { kind: "tow_test", words: "a tow", button: "Enter the tow", fields: [{ name: "speed", label: "At", units: fast },
      { name: "beats", label: "It beat, if counted", units: ["beats/s", "beats/min"] }, { name: "seen", label: "What it did", long: true }] },
    { kind: "change", words: "a change", button: "Enter the change", fields: [{ name: "what", label: "What was changed", long: true },
      { name: "why", label: "Why", long: true }] },
    { kind: "note", words: "a note", button: "Enter the note", fields: [{ name: "words", label: "In your words", long: true }] },
  ];
}

export class Weighing {
  readonly node = el("div", { class: "weighing" });
  private lureNode = el("select", { id: "log-lure", change: () => this.choose(Number(this.lureNode.value)) });
  private kindNode = el("select", { id: "log-kind", change: () => { this.kind = this.kindNode.value; this.door.withdraw(); this.showForm(); } });
  private what = el("div", { class: "fields" }, el("div", { class: "field" }, el("label", { for: "log-lure" }, "Lure"), this.lureNode),
    el("div", { class: "field" }, el("label", { for: "log-kind" }, "Enter"), this.kindNode));
  private beginning = el("details", { class: "group beginning" });
  private words = el("p", { class: "sentence", "aria-live": "polite" });
  private form = el("form", { class: "entering", submit: (event) => { event.preventDefault(); this.enter(); }, input: () => this.door.withdraw() });
  private keys = el("div", { class: "keys", role: "group", "aria-label": "Number keys" });
  private door: Door;
  private beginDoor: Door;
  private sums = el("div", { class: "sections" });
  private card = el("div", { class: "sections" });
  private trouble = el("p", { class: "quiet" });
  private drawn = el("p", { class: "quiet" }); // that the drawing is another than the log has
  private photos: Photos;
  private entries: Entries;
  private entriesHead = el("h3", {}, "Entries");
  private all = el("a", { href: "/?log" }, "The whole log");
  private run = el("a", { href: "/?log" });
  private lure: LureTold | null = null;
  private pattern: PatternTold | null = null;
  private kind = "weighing";
  private stage: string | null = null; // as chosen by hand
  private into: HTMLInputElement | null = null; // the number that the keys write
  private active = false;
  private asked = 0;
  private newest = -1; // the log's last entry, while no lure is shown
  private timer = 0;

  constructor(private file: string, private shop: Shop) {
    const shopNow = (): Shop => this.shop;
    this.door = new Door(shopNow, () => this.entered(), () => this.into?.focus());
    this.beginDoor = new Door(shopNow, (begun) => { if (begun.lure) localStorage.setItem(this.key, String(begun.lure)); this.beginning.open = false; void this.load(); }, () => undefined);
    this.entries = new Entries(shopNow, (entered) => { this.door.say(entered.words); void this.load(); });
    this.photos = new Photos(shopNow, () => void this.load());
    this.buildKeys();
    this.node.append(this.what, this.words, this.door.node, this.form, this.drawn, this.trouble, this.beginning, this.photos.node, this.sums, this.card,
      this.entriesHead, this.entries.node, this.run, this.all);
    document.addEventListener("visibilitychange", () => { if (this.active && !document.hidden) void this.look(); });
  }

  private get key(): string { return `gudgeon lure ${this.file}`; }

  /** Whether it is looked at, in whose units. */
  show(active: boolean, shop: Shop): void {
    const other = shop !== this.shop;
    this.shop = shop;
    if (active && (!this.active || other)) {
      this.active = active;
      void this.load();
      window.clearInterval(this.timer);
      this.timer = window.setInterval(() => { if (!document.hidden) void this.look(); }, LOOK_EVERY);
    } else if (!active) window.clearInterval(this.timer);
    this.active = active;
  }

  // --- what the log says ------------------------------------------------------------------------------------------

  private async load(): Promise<void> {
    const number = ++this.asked;
    const pattern = await ask<PatternTold>("of", { file: this.file });
    if (number !== this.asked) return;
    if (!("there" in pattern) || !pattern.there) return this.showNone(pattern);
    this.pattern = pattern;
    const wanted = Number(localStorage.getItem(this.key) ?? "0");
    const one = pattern.lures.find((lure) => lure.number === wanted) ?? pattern.lures[0];
    const lure = one ? await ask<LureTold>("lure", { number: one.number, units: this.shop }) : null;
    if (number !== this.asked) return;
    if (lure && (!("there" in lure) || !lure.there)) return this.showNone(lure);
    this.lure = lure;
    this.showAll();
    if (one) await this.sum(one.number, number);
  }

  /** What is still missing, which takes longer; until it is known nothing of it is shown. */
  private async sum(lure: number, asked: number): Promise<void> {
    this.sums.hidden = true;
    const told = await ask<SumsTold>("sums", { number: lure, units: this.shop });
    if (asked !== this.asked) return;
    const known = "there" in told && told.there;
    say(this.trouble, known ? told.trouble : "refused" in told ? sentence(told.refused) : "");
    this.sums.hidden = !known;
    if (known) showSections(this.sums, told.sections);
  }

  /** Whether another window or the terminal entered something; then all is shown anew. */
  private async look(): Promise<void> {
    const told = await ask<{ there: true; newest: number }>("newest", {});
    if (!("there" in told) || !told.there || !this.active || told.newest === (this.lure?.newest ?? this.newest)) return;
    this.newest = told.newest;
    await this.load();
  }

  private choose(number: number): void {
    localStorage.setItem(this.key, String(number));
    this.stage = null;
    this.door.withdraw();
    void this.load();
  }

  private entered(): void {
    this.stage = null;
    for (const input of this.form.querySelectorAll<HTMLInputElement>("input, textarea")) input.value = "";
    this.into?.focus({ preventScroll: true });
    void this.load();
  }

  // --- what is shown ----------------------------------------------------------------------------------------------

  private showNone(told: NoLog | Wrong): void {
    this.lure = this.pattern = null;
    this.showParts(false);
    this.beginning.hidden = true;
    say(this.drawn, "");
    if ("refused" in told) {
      say(this.words, "The log cannot be used now.");
      this.door.refuse(told.refused);
      say(this.trouble, "");
      return;
    }
    this.door.withdraw();
    say(this.words, "There is no log yet.");
    this.trouble.replaceChildren(purpose(told.folder),
      el("button", { class: "main", type: "button", click: () => void this.beginDoor.send("start", {}) }, "Begin the log"));
  }

  private showParts(there: boolean): void {
    for (const node of [this.what, this.form, this.photos.node, this.sums, this.card, this.entriesHead, this.entries.node, this.run]) node.hidden = !there;
  }

  private showAll(): void {
    const { lure, pattern } = this;
    if (!pattern) return;
    this.showParts(lure !== null);
    say(this.drawn, pattern.known ? "" : pattern.words);
    this.showBegin(pattern);
    say(this.words, lure ? together(lure.next) : "No lure of it is begun yet.");
    refresh(this.lureNode, [pattern.lures, lure?.number], () => pattern.lures.map((one) =>
      el("option", { value: one.number, selected: one.number === lure?.number }, `${one.number}: ${one.words}`)));
    this.all.setAttribute("href", lure ? `/?log=${lure.number}` : "/?log");
    say(this.all, lure ? `All of lure ${lure.number}, its record card and the whole log` : "The whole log");
    if (!lure) return;
    this.run.setAttribute("href", runAddress(lure));
    say(this.run, `How far run ${lure.run} has come, and its lead`);
    this.showForm();
    showSections(this.card, lure.sections);
    this.photos.show(lure.number, lure.photos);
    this.entries.show(lure.entries);
  }

  private showBegin(pattern: PatternTold): void {
    this.beginning.hidden = false;
    if (pattern.lures.length === 0) this.beginning.open = true;
    refresh(this.beginning, pattern, () => {
      const count = el("input", { id: "log-count", type: "text", inputmode: "numeric", value: "1", autocomplete: "off" });
      const board = boardChoice("log-board", pattern.boards), run = runChoice("log-run");
      offerRuns(run, pattern.runs);
      const begin = (): void => void this.beginDoor.send("begin", { file: this.file, count: whole(count.value), board: board.value, run: whole(run.value) });
      return [el("summary", {}, el("h3", {}, "Begin a lure, or a run of them")),
        el("p", { class: "quiet" }, pattern.known ? "They are made of this drawing as it stands in the log."
          : "This drawing's text goes into the log with them."),
        el("form", { submit: (event) => { event.preventDefault(); begin(); } }, el("div", { class: "fields" },
          field("How many", count), field("Out of the board", board), pattern.runs.length > 0 ? field("Run", run) : null),
        el("button", { class: "main" }, "Begin")), el("p", {}, el("a", { class: "way", href: "/?log=made" }, "Add a board")), this.beginDoor.node];
    });
  }

  private showForm(): void {
    const { lure } = this;
    if (!lure) return;
    const all = forms(this.shop);
    const form = all.find((one) => one.kind === this.kind) ?? all[0]!;
    const offered = { stages: lure.stages, pieces: lure.pieces, holes: lure.holes, parts: lure.parts };
    const shown = form.fields.filter((one) => !one.choices || offered[one.choices].length > 0 || one.choices === "holes");
    const kept = new Map([...this.form.querySelectorAll<HTMLInputElement>("input, textarea")].map((one) => [one.id, one.value]));
    const hadFocus = this.form.contains(document.activeElement) ? document.activeElement?.id : undefined;
    refresh(this.form, [form, this.shop, lure.number, offered], () => {
      const fields = shown.map((one) => this.field(one, one.choices ? offered[one.choices] : []));
      const remark = this.field({ name: "remark", label: "In a few words" }, []);
      remark.classList.add("wide");
      this.keys.querySelector(".main")?.remove();
      this.into = fields.map((one) => one.querySelector<HTMLInputElement>("input.number")).find((one) => one !== null) ?? null;
      const enter = el("button", { class: "main" }, form.button);
      if (this.into) this.keys.append(enter);
      return [el("div", { class: "fields" }, ...fields), this.into ? this.keys : enter,
        ...(form.kind === "note" ? [] : [el("details", { class: "remark" }, el("summary", {}, "A remark with it"), remark)])];
    });
    for (const [id, value] of kept) {
      const again = this.form.querySelector<HTMLInputElement>(`[id="${id}"]`);
      if (again && !again.value && form.kind !== "note") again.value = value;
    }
    if (hadFocus && !this.form.contains(document.activeElement)) document.getElementById(hadFocus)?.focus({ preventScroll: true });
    refresh(this.kindNode, all, () => all.map((one) => el("option", { value: one.kind, selected: one.kind === form.kind }, one.words)));
    const stage = this.form.querySelector<HTMLSelectElement>("#log-stage");
    if (stage) stage.value = this.stage ?? (form.kind === "weighing" || form.kind === "jug" ? lure.stage : lure.stages.at(-1)!);
    const piece = this.form.querySelector<HTMLSelectElement>("#log-piece");
    if (piece && this.stage === null) piece.value = lure.piece;
    this.mark();
  }

  private field(one: Asked, choices: string[]): HTMLDivElement {
    const id = `log-${one.name}`;
    const label = el("label", { for: id }, one.label);
    if (one.choices && !(one.choices === "holes" && choices.length === 0)) {
      return el("div", { class: "field" }, label, el("select", { id, change: () => { if (one.name === "stage") this.stage = (document.getElementById(id) as HTMLSelectElement).value; this.door.withdraw(); } },
        ...choices.map((choice) => el("option", { value: choice }, choice))));
    }
    if (one.units) return this.numberField(one, id);
    return el("div", { class: one.long ? "field wide" : "field" }, label, one.long ? el("textarea", { id, rows: 3, maxlength: 4000 })
      : el("input", { id, type: "text", autocomplete: "off", maxlength: 400 }));
  }

  /** A number, written by the keys on the page: no other keyboard comes up over them. */
  private numberField(one: Asked, id: string): HTMLDivElement {
    const { node, input } = measured(id, one.label, one.units!, one.hint ?? "", () => this.door.withdraw());
    input.inputMode = "none";
    input.addEventListener("focus", () => { this.into = input; this.mark(); });
    return node;
  }

  /** Shows which number the keys write. */
  private mark(): void {
    const numbers = [...this.form.querySelectorAll("input.number")];
    for (const one of numbers) one.classList.toggle("into", one === this.into && numbers.length > 1);
  }

  private buildKeys(): void {
    const press = (key: string) => (): void => {
      const { into } = this;
      if (!into) return;
      into.value = key === "" ? into.value.slice(0, -1) : `${into.value}${key}`;
      this.door.withdraw();
    };
    const names: Record<string, string> = { ".": "point", "": "Back, takes the last one out", ", ": "next, after a comma" };
    for (const key of ["7", "8", "9", "", "4", "5", "6", "1", "2", "3", ".", "0", ", "]) {
      this.keys.append(el("button", { type: "button", tabindex: -1, "aria-label": names[key] ?? null, class: key === ", " ? "next" : null,
        click: press(key) }, { "": "Back", ", ": "next" }[key] ?? key));
    }
  }

  private enter(): void {
    const { lure } = this;
    if (!lure) return;
    const form = forms(this.shop).find((one) => one.kind === this.kind)!;
    const fields: Record<string, string> = {};
    for (const one of form.fields) {
      const node = this.form.querySelector<HTMLInputElement>(`#log-${one.name}`);
      if (node) fields[one.name] = typedIn(node);
    }
    const remark = this.form.querySelector<HTMLInputElement>("#log-remark")?.value ?? "";
    void this.door.send("enter", { lure: lure.number, kind: form.kind, fields, remark });
  }
}

