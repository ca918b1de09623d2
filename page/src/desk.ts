// A design on the desk: the drawing, and beside it what it comes to.

import { el, refresh, say } from "./build";
import { Before, Figures, withRows } from "./figures";
import { type Bench, Hand } from "./hand";
import { handles, type Handle, written } from "./handles";
import { Line } from "./line";
import type { View } from "./paper";
import { Sheet } from "./sheet";
import { Solid } from "./solid";
import { snapped, snaps } from "./sizes";
import { Taking } from "./taking";
import { Tow } from "./tow";
import type { Act, Answer, PlaceName, Refused, Shape, Shelf, Shop, Where, Weights } from "./told";
import { field, group, heldFields, tableFields } from "./typed";
import { Work } from "./work";

const PLACES: [PlaceName, string][] = [["drawing", "Drawing"], ["ledger", "Ledger"], ["water", "Water"], ["tow", "Tow"], ["bench", "Bench"],
  ["papers", "Papers"]];
const PUT: [string, string][] = [["pocket", "a bore for ballast"], ["hook", "a hook"], ["fitting", "a hook eye"], ["joint", "a cut"]];

export class Desk implements Bench {
  readonly node: HTMLElement;
  private shop: Shop;
  private place: PlaceName;
  private where: Where | null = null;
  private shape: Shape | null = null;
  private answer: Answer | null = null;
  private answered = ""; // stamp of what the answers beside the drawing are for
  private chosen: string | null = null;
  private opened: string | null = null; // whose fields were opened when it was taken in hand
  private before = new Before();
  private line: Line;
  private sheet: Sheet;
  private hand: Hand;
  private figures = new Figures();
  private work: Work;
  private tow: Tow;
  private solid: Solid;
  private taking: Taking;
  private name = el("h1", {}, "");
  private kept = el("p", { class: "kept", role: "status" }, "Being opened.");
  private saveButton = el("button", { type: "button", click: () => this.save() }, "Save");
  private told = el("div", { class: "tolds" });
  private panel = el("section", { id: "answers", class: "answers", role: "tabpanel", tabindex: -1, "aria-labelledby": "place-drawing" });
  private refusals = el("div", { class: "refusals" });
  private inHand = el("div", { class: "in-hand" });
  private saidNode = el("p", { class: "said", "aria-live": "polite" });
  private undoButton = el("button", { type: "button", click: () => this.step("undo") }, "Undo");
  private redoButton = el("button", { type: "button", click: () => this.step("redo") }, "Redo");
  private addButton = el("button", { type: "button", click: () => this.addPoint() }, "Add a point");
  private outButton = el("button", { type: "button", click: () => this.outChosen() }, "Take out");
  private putNode = el("select", { id: "put-in" }, ...PUT.map(([value, words]) => el("option", { value }, words)));
  private solidButton = el("button", { type: "button", class: "second", "aria-pressed": "false", click: () => this.switchSolid() }, "Solid");
  private mirror = el("input", { type: "checkbox", id: "mirror", change: () => this.setMirror() });
  private snapNode = el("select", { id: "snap", change: () => this.remember() });
  private foot = el("div", { class: "foot" });
  private moreButton = el("button", { type: "button", class: "more-tools", "aria-expanded": "false", click: () => this.showMore() }, "More");
  private scaleNode = el("dd", {}, "");
  private stampNode = el("dd", {}, "");
  private unitsButton = el("button", { type: "button", click: () => this.switchUnits() });
  private themeButton = el("button", { type: "button", click: () => this.switchTheme() });
  private tabs = new Map<PlaceName, HTMLButtonElement>();

  constructor(private file: string, private shelf: Shelf, shop: Shop) {
    this.shop = shop;
    this.place = (PLACES.find(([name]) => `#${name}` === location.hash)?.[0]) ?? "drawing";
    this.line = new Line(file, {
      where: (where, told) => this.hearWhere(where, told),
      shape: (shape) => this.hearShape(shape),
      weights: (weights) => this.hearWeights(weights),
      answer: (answer) => this.hearAnswer(answer),
      tow: (told) => this.tow.hearProgress(told),
      swum: (swum) => { if (swum.shop === this.shop) this.tow.hearSwum(swum); },
      opened: () => this.tow.opened(),
      refused: (refused) => this.hearRefused(refused),
      stale: () => this.tell("stale", "watch", "Another window drew on this design meanwhile. It is shown here now; draw that stroke again."),
      gone: () => this.hearGone(),
      closed: (refused) => this.tell("closed", "wrong", sentence(refused), [["To the folder's designs", () => location.assign("/")]]),
    });
    this.sheet = new Sheet((words) => say(this.scaleNode, words));
    this.sheet.shop = shop;
    this.hand = new Hand(this.sheet, this);
    this.work = new Work(file, shop);
    this.solid = new Solid(file, shop, (words) => say(this.scaleNode, words));
    this.tow = new Tow({ file, ask: (what) => this.line.tow(what) });
    this.taking = new Taking({
      file, shop: () => this.shop, refused: (refused) => this.hearRefused(refused), said: (words) => this.say(words),
      write: (text) => { this.begin(); this.stroke("", "the text, by hand", [{ act: "text", text }]); },
      length: () => String(this.shape?.written["length"] ?? ""), take: (words, acts) => this.type(words, acts),
    });
    this.node = this.build();
    this.showUnits();
    this.showTheme();
    this.open(this.place);
    document.addEventListener("keydown", (event) => this.key(event));
    this.line.open(shop);
  }

  // --- what the hand asks -----------------------------------------------------------------------------------------

  ready(): boolean { return this.line.alive && this.shape?.curves !== undefined; }

  snap(): number { return Number(this.snapNode.value); }

  begin(): void {
    this.before.note(this.answer);
    this.quiet("refused");
  }

  stroke(gesture: string, words: string, acts: Act[]): void {
    this.line.stroke({ gesture, words, acts });
    this.showKept();
  }

  choose(key: string | null): void {
    if (this.chosen === key) return;
    this.chosen = key;
    this.sheet.chosen = key;
    this.sheet.placeHandles();
    this.showHeld();
    this.showTyped();
  }

  say(words: string, quietly = false): void {
    say(this.saidNode, words);
    this.saidNode.classList.toggle("unseen", quietly);
  }

  letGo(): void {
    if (!this.line.settled || this.where?.stamp !== this.shape?.stamp) return; // the outline of the last stroke is yet to come
    this.sheet.held = null;
    this.sheet.placeHandles();
  }

  addAt(view: View, station: number, up: number): boolean {
    const curves = this.shape?.curves;
    if (!curves || !this.ready()) return false;
    const curve = view === "top" ? "side" : up < 0 && curves.belly !== null ? "belly" : "back";
    const points = curves[curve]!;
    const at = snapped(station, this.snap());
    const place = points.findIndex(([before]) => 1000 * before > at) + 1;
    if (place < 2 || points.some(([before]) => Math.abs(1000 * before - at) < 0.5)) return false;
    const [low, high] = this.sheet.outlineAt(view, at);
    const out = curve === "belly" ? -low : high;
    this.begin();
    this.chosen = this.sheet.chosen = `${curve}.${place}`;
    this.stroke("", `${curve}, one more point`, [{ act: "add point", curve, place, station: at / 1000, out: snapped(out, 0.1) / 1000 }]);
    return true;
  }

  takeOut(handle: Handle): void {
    if (!this.ready()) return;
    const last = (handle.curve && this.shape?.curves?.[handle.curve]?.length) || 0;
    if (handle.curve && (handle.place === 1 || handle.place === last)) {
      this.say("The first and the last point stay; they hold the ends of the body.");
      return;
    }
    if (handle.kind === "lip" || handle.kind === "fin") {
      this.say(`Take the ${handle.kind} out of the design's text, under Papers.`);
      return;
    }
    this.begin();
    const act: Act = handle.curve ? { act: "drop point", curve: handle.curve, place: handle.place }
      : { act: "take out", table: handle.kind, place: handle.place };
    this.stroke("", `${handle.name.split(",")[0]}, taken out`, [act]);
    const left = this.sheet.handles.filter((one) => one.kind === handle.kind && one.curve === handle.curve);
    const next = left[Math.max(0, left.indexOf(handle) - 1)];
    if (next && next !== handle) this.sheet.node(next.key)?.focus();
    else this.choose(null);
  }

  // --- what the workbench says ------------------------------------------------------------------------------------

  private hearWhere(where: Where, told: string): void {
    this.where = where;
    this.tow.drawn(where.stamp);
    this.solid.drawn(where.stamp);
    this.quiet("gone");
    if (told) this.tell("told", "note", told);
    if (where.fileChanged) {
      this.tell("changed", "watch", `${where.file} was changed by another program. What is drawn here is kept.`,
        [["Show the file as it is now", () => { this.begin(); this.line.ask("take file"); }],
          ["Write what is drawn here over it", () => this.line.save(true)]]);
    } else this.quiet("changed");
    this.showKept();
  }

  private hearShape(shape: Shape): void {
    if (this.line.settled && !this.hand.dragging) this.sheet.held = null;
    this.shape = shape;
    if (shape.curves) {
      const list = handles(shape);
      if (this.chosen !== null && !list.some((one) => one.key === this.chosen)) this.choose(null);
      this.sheet.setShape(shape, list);
    }
    this.node.classList.toggle("undrawn", !shape.curves && this.sheet.handles.length === 0);
    this.mirror.checked = shape.curves?.belly === null;
    say(this.stampNode, shape.stamp);
    say(this.name, typeof shape.written["name"] === "string" ? shape.written["name"] : this.file);
    document.title = `${this.name.textContent} - Gudgeon`;
    this.showRefusals(shape.refused ?? null);
    this.showHeld();
    this.showTyped();
    this.taking.show(shape, this.answer);
  }

  /** Weights, float line and ballast of the last stroke; the rest of the answer is still that of an earlier one. */
  private hearWeights(weights: Weights): void {
    const { answer } = this;
    if (!answer?.places || !answer.scene || weights.shop !== this.shop || weights.shop !== answer.shop) return;
    this.answer = { ...answer, places: withRows(answer.places, weights), scene: { ...answer.scene, ...weights.scene } };
    this.sheet.setWater(weights.scene);
    this.showAnswer();
  }

  private hearAnswer(answer: Answer): void {
    if (answer.shop !== this.shop) return;
    this.answered = answer.stamp;
    this.showBusy();
    this.showRefusals(answer.refused ?? null);
    if (answer.refused) return;
    this.answer = answer;
    this.sheet.setAnswer(answer);
    this.showAnswer();
  }

  private hearRefused(refused: Refused): void {
    this.hand.drop();
    this.sheet.held = null;
    this.sheet.placeHandles();
    this.tell("refused", "wrong", sentence(refused));
    this.showHeld();
    this.showTyped();
  }

  private hearGone(): void {
    this.hand.drop();
    this.tell("gone", "watch", "The workbench does not answer. If it was stopped, start it again: every stroke that was kept is there.");
    this.showKept();
  }

  // --- what is shown ----------------------------------------------------------------------------------------------

  private showAnswer(): void {
    const { answer, place } = this;
    if (!answer?.places) return;
    if (place === "tow") return;
    if (place === "bench") this.work.show(answer, this.before);
    else if (place === "papers") this.taking.show(this.shape, answer);
    else this.figures.show(answer, place, this.before);
  }

  private showRefusals(refused: Refused | null): void {
    const isBlank = this.shape?.text.trim() === "";
    refresh(this.refusals, [refused, isBlank], () => refused === null ? [] : isBlank ? [
      el("p", { class: "sentence" }, `Nothing is written in ${this.file} yet.`),
      el("div", { class: "row" }, el("a", { class: "main", href: "/" }, "Choose a body to start from"),
        el("button", { type: "button", click: () => { this.open("papers"); this.taking.open(); } }, "Write its text"))] : [
      el("div", { class: "told wrong", role: "alert" },
        el("p", { class: "sentence" }, `As it is drawn now, ${refused.heading}.`),
        el("ul", {}, ...refused.faults.map((fault) => el("li", {}, el("strong", {}, fault.line ? `line ${fault.line}, ${fault.place}: ` : `${fault.place}: `),
          fault.words))),
        this.answer ? el("p", { class: "quiet" }, "The figures below are of an earlier stroke.") : null,
        el("button", { type: "button", click: () => { this.open("papers"); this.taking.open(); } }, "Change its text"))]);
    this.panel.classList.toggle("old", refused !== null);
  }

  private showKept(): void {
    const { where } = this;
    const words = !this.line.alive ? "Nothing can be drawn now." : !this.line.settled ? "Being kept." : where === null ? "" :
      where.saved ? `All is in ${where.file}.` : `Every stroke is kept; ${where.file} is as it was.`;
    say(this.kept, words);
    this.saveButton.disabled = where === null || where.saved || !this.line.alive;
    this.undoButton.disabled = !where?.undo || !this.line.alive;
    this.redoButton.disabled = !where?.redo || !this.line.alive;
    this.undoButton.title = where?.undo ? `takes back: ${where.undo}` : "";
    this.redoButton.title = where?.redo ? `does again: ${where.redo}` : "";
    this.showBusy();
  }

  /** Whether the figures beside are still those of an earlier stroke. */
  private showBusy(): void {
    this.panel.setAttribute("aria-busy", String(!this.line.settled || this.where?.stamp !== this.answered));
  }

  private showHeld(): void {
    const handle = this.sheet.handle(this.chosen);
    this.addButton.disabled = handle?.curve === undefined;
    this.outButton.disabled = handle === undefined;
    const { shape } = this;
    const key = handle && shape ? [handle.key, shape.stamp, this.shop] : this.sheet.handles.length > 0;
    keepingFocus(this.inHand, key, () => handle && shape ? [el("p", { class: "held-name" }, handle.name),
      ...heldFields(handle, shape, this.shop, (words, acts) => this.type(words, acts))]
      : [el("p", { class: "quiet" }, this.sheet.handles.length > 0 ? "Nothing in hand: drag a point or a part, or Tab to it." : "Nothing to take in hand yet.")]);
  }

  private showTyped(): void {
    const { shape } = this;
    if (!shape) return;
    const node = this.place === "bench" ? this.work.typed : this.place === "tow" ? this.tow.typed : this.figures.typed;
    const made = this.typedFields(shape);
    keepingFocus(node, [this.place, this.chosen, this.shop, made.map(([, key]) => key)], () => made.map(([make]) => make()));
    const part = this.sheet.handle(this.chosen)?.part;
    const first = node.querySelector("details");
    if (first && ((part && this.opened !== this.chosen) || this.place === "bench")) first.open = true;
    this.opened = this.chosen;
  }

  /** The typed tables of a place, each with what it is made of. */
  private typedFields(shape: Shape): [() => HTMLElement, unknown][] {
    const write = (words: string, acts: Act[]): void => this.type(words, acts);
    const table = (title: string, where: string, kind: string, only?: string[]): [() => HTMLElement, unknown] => {
      const has = at(shape, where);
      return [() => tableFields(title, where, has, this.shelf.keys[kind] ?? [], write, only), [where, has]];
    };
    if (this.place === "ledger") return [table("The wood", "wood", "wood"), table("The sealer", "sealer", "sealer"), ...this.each(shape, "coat", "Coat", table)];
    if (this.place === "water") return [table("The water", "water", "water"), table("What it is to do", "aim", "aim")];
    if (this.place === "tow") return [table("Speeds it is meant for", "aim", "aim", ["speeds"]), table("The line", "tackle", "tackle")];
    if (this.place === "bench") return [table("As weighed: the blank, the board", "wood", "wood", ["blank_weight", "density"])];
    if (this.place !== "drawing") return [];
    const handle = this.sheet.handle(this.chosen);
    const found: [() => HTMLElement, unknown][] = [];
    if (handle?.part) {
      const { table: kind, place, name } = handle.part;
      const lone = kind === "lip" || kind === "fin";
      found.push(table(name, lone ? kind : `${kind}.${place}`, kind));
      if (kind === "joint") found.push(...this.hinges(shape, place, table));
    }
    const body = { name: shape.written["name"], length: shape.written["length"] };
    found.push([() => bodyFields(body, write), body], table("Its ends", "outline", "outline", ["nose", "tail", "drawn"]));
    return found;
  }

  private each(shape: Shape, kind: string, title: string, table: (title: string, where: string, kind: string) => [() => HTMLElement, unknown]):
    [() => HTMLElement, unknown][] {
    const list = shape.written[kind];
    return Array.isArray(list) ? list.map((one: { name?: string }, index) => table(`${title}: ${one.name ?? index + 1}`, `${kind}.${index + 1}`, kind)) : [];
  }

  private hinges(shape: Shape, joint: number, table: (title: string, where: string, kind: string) => [() => HTMLElement, unknown]):
    [() => HTMLElement, unknown][] {
    const list = shape.written["hinge"];
    if (!Array.isArray(list)) return [];
    return list.flatMap((hinge: { joint?: number }, index) => hinge.joint === joint ? [table(`hinge ${index + 1}`, `hinge.${index + 1}`, "hinge")] : []);
  }

  private type(words: string, acts: Act[]): void {
    if (!this.line.alive) return;
    this.begin();
    this.stroke("", words, acts);
  }

  // --- places, units, theme ---------------------------------------------------------------------------------------

  private open(place: PlaceName): void {
    this.place = place;
    history.replaceState(null, "", `${location.pathname}${location.search}#${place}`);
    for (const [name, tab] of this.tabs) {
      tab.setAttribute("aria-selected", String(name === place));
      tab.tabIndex = name === place ? 0 : -1;
    }
    this.panel.setAttribute("aria-labelledby", `place-${place}`);
    this.panel.dataset["place"] = place;
    const node = place === "bench" ? this.work.node : place === "papers" ? this.taking.node : place === "tow" ? this.tow.node : this.figures.node;
    this.panel.replaceChildren(this.refusals, node);
    this.panel.scrollTop = 0;
    this.tow.show(place === "tow");
    this.work.look(place === "bench");
    this.showTyped();
    this.showAnswer();
  }

  private switchUnits(): void {
    this.shop = this.shop === "metric" ? "inch" : "metric";
    localStorage.setItem("gudgeon units", this.shop);
    this.before.note(null);
    this.sheet.setShop(this.shop);
    this.solid.setShop(this.shop);
    this.showUnits();
    this.showHeld();
    this.showTyped();
    this.answered = "";
    this.showBusy();
    this.line.units(this.shop);
  }

  private showUnits(): void {
    say(this.unitsButton, this.shop === "metric" ? "mm" : "in");
    this.unitsButton.setAttribute("aria-label", this.shop === "metric" ? "Units: mm. Change to inches" : "Units: in. Change to millimetres");
    const list = snaps(this.shop);
    this.snapNode.replaceChildren(...list.map((one, index) => el("option", { value: one.step, selected: index === this.remembered(list.length) }, one.words)));
  }

  private remembered(count: number): number { return Math.min(count - 1, Number(localStorage.getItem("gudgeon snap") ?? "0") || 0); }

  private remember(): void { localStorage.setItem("gudgeon snap", String(this.snapNode.selectedIndex)); }

  private switchTheme(): void {
    const order = ["", "light", "dark"];
    const now = localStorage.getItem("gudgeon paper") ?? "";
    localStorage.setItem("gudgeon paper", order[(order.indexOf(now) + 1) % order.length] ?? "");
    this.showTheme();
  }

  private showTheme(): void {
    const now = localStorage.getItem("gudgeon paper") ?? "";
    if (now) document.documentElement.dataset["theme"] = now;
    else delete document.documentElement.dataset["theme"];
    say(this.themeButton, now === "" ? "as the system" : now);
    this.themeButton.setAttribute("aria-label", `Paper: ${now === "" ? "as the system" : now}. Change`);
  }

  // --- buttons ----------------------------------------------------------------------------------------------------

  private step(kind: "undo" | "redo"): void {
    if (!this.line.alive) return;
    this.begin();
    this.hand.drop();
    this.line.ask(kind);
    this.showKept();
  }

  private save(): void { this.line.save(false); }

  private addPoint(): void {
    const handle = this.sheet.handle(this.chosen);
    if (!handle?.curve) return;
    const points = this.shape?.curves?.[handle.curve] ?? [];
    const first = Math.min(handle.place, points.length - 1);
    const [from, to] = [points[first - 1]?.[0] ?? 0, points[first]?.[0] ?? 0];
    const middle = 500 * (from + to);
    if (!this.addAt(handle.view, middle, handle.curve === "belly" ? -1 : 1)) this.say("There is no room for a point between these two.");
  }

  private outChosen(): void {
    const handle = this.sheet.handle(this.chosen);
    if (handle) this.takeOut(handle);
  }

  private putIn(): void {
    const table = this.putNode.value;
    if (!this.ready()) return;
    const long = this.shape?.length ?? 200;
    const handle = this.sheet.handle(this.chosen);
    const middle = this.sheet.paper.lure("side", this.sheet.at, this.sheet.paper.width / 2, 0)[0];
    const wanted = handle ? handle.at.station + 0.06 * long : middle;
    const at = snapped(Math.min(0.94 * long, Math.max(0.06 * long, wanted)), Math.max(this.snap(), 0.5));
    this.begin();
    const list = this.shape?.handles ?? [];
    const number = table === "joint" ? list.filter((part) => part.table === "joint" && 1000 * part.at[0] < at).length + 1
      : list.filter((part) => part.table === table).length + 1;
    this.chosen = this.sheet.chosen = `${table}.${number}`;
    this.stroke("", `${PUT.find(([name]) => name === table)?.[1] ?? table}, put in`, [{ act: "put in", table, at: at / 1000 }]);
  }

  /** On a small screen: the rest of the tools, or fewer again. */
  private showMore(): void {
    const all = this.foot.classList.toggle("all");
    this.moreButton.setAttribute("aria-expanded", String(all));
    say(this.moreButton, all ? "Less" : "More");
  }

  private setMirror(): void {
    if (!this.ready()) return;
    this.begin();
    this.stroke("", this.mirror.checked ? "the belly mirrors the back" : "the belly drawn by itself", [{ act: "mirror", on: this.mirror.checked }]);
  }

  private switchSolid(): void {
    const on = !this.solid.shown;
    this.solidButton.setAttribute("aria-pressed", String(on));
    this.node.classList.toggle("in-solid", on);
    void this.solid.show(on);
    if (!on) this.sheet.place();
  }

  private whole(): void {
    if (this.solid.shown) this.solid.whole();
    else this.sheet.whole();
  }

  private zoom(factor: number): void {
    if (this.solid.shown) {
      this.solid.zoom(factor);
      return;
    }
    this.sheet.paper.zoom(factor, this.sheet.paper.width / 2, this.sheet.paper.height / 2);
    this.sheet.place();
  }

  private key(event: KeyboardEvent): void {
    const into = event.target as HTMLElement;
    const writes = into.matches("input:not([type=checkbox]):not([type=radio]), textarea");
    if (event.ctrlKey || event.metaKey) {
      const key = event.key.toLowerCase();
      if (key === "s") { event.preventDefault(); this.save(); }
      if (writes) return;
      if (key === "z") { event.preventDefault(); this.step(event.shiftKey ? "redo" : "undo"); }
      if (key === "y") { event.preventDefault(); this.step("redo"); }
    } else if (!writes && !into.matches("select")) {
      if (event.key === "+" || event.key === "=") this.zoom(1.25);
      if (event.key === "-") this.zoom(0.8);
      if (event.key === "0") this.whole();
    }
  }

  // --- banners ----------------------------------------------------------------------------------------------------

  private tell(key: string, gravity: string, words: string, ways: [string, () => void][] = []): void {
    const node = this.told.querySelector(`[data-told="${key}"]`) ?? el("div", { "data-told": key, role: "alert" });
    node.className = `told ${gravity}`;
    refresh(node, [gravity, words], () => [el("p", {}, el("strong", {}, `${gravity}: `), words),
      ...ways.map(([label, go]) => el("button", { type: "button", click: () => go() }, label)),
      ...(ways.length === 0 ? [el("button", { type: "button", click: () => this.quiet(key) }, "Understood")] : [])]);
    if (!node.isConnected) this.told.append(node);
  }

  private quiet(key: string): void { this.told.querySelector(`[data-told="${key}"]`)?.remove(); }

  // --- the page ---------------------------------------------------------------------------------------------------

  private build(): HTMLElement {
    const holder = el("div", { class: "paper-holder" }, this.sheet.svg as unknown as Node, this.saidNode,
      el("p", { class: "undrawn-words" }, "Nothing can be drawn from this text yet."), this.solid.node);
    new ResizeObserver(() => this.sheet.resize(holder.clientWidth, holder.clientHeight)).observe(holder);
    this.foot.append(this.buildTray(), this.buildBlock());
    return el("div", { class: "desk" },
      el("header", {}, el("div", { class: "title" }, this.name, el("a", { href: "/", class: "quiet" }, "other designs")),
        el("div", { class: "saving" }, this.kept, this.saveButton)),
      el("main", {},
        el("section", { class: "sheet", "aria-label": "Drawing" }, holder, this.buildHeld(), this.foot,
          el("p", { id: "how-to-move", class: "unseen" }, "Arrow keys move it, with Shift ten times as far, with Alt a tenth of a millimetre; Delete takes it out; " +
            "Page Down goes to the next, Tab to the next sort.")),
        el("div", { class: "beside" }, this.buildPlaces(), this.told, this.panel)));
  }

  private buildPlaces(): HTMLElement {
    for (const [name, words] of PLACES) {
      this.tabs.set(name, el("button", { type: "button", role: "tab", id: `place-${name}`, "aria-controls": "answers", click: () => this.open(name),
        keydown: (event) => this.tabKey(event as KeyboardEvent, name) }, words));
    }
    return el("div", { class: "places", role: "tablist", "aria-label": "Places" }, ...this.tabs.values());
  }

  private tabKey(event: KeyboardEvent, name: PlaceName): void {
    const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    const names = PLACES.map(([one]) => one);
    const next = names[(names.indexOf(name) + way + names.length) % names.length] ?? name;
    this.open(next);
    this.tabs.get(next)?.focus();
  }

  private buildHeld(): HTMLElement { return el("div", { class: "held-strip" }, this.inHand, this.addButton, this.outButton); }

  private buildTray(): HTMLElement {
    const more = el("div", { class: "more" }, el("button", { type: "button", click: () => this.putIn() }, "Put in"),
      el("label", { class: "unseen", for: "put-in" }, "What to put in"), this.putNode);
    return el("div", { class: "tray", role: "toolbar", "aria-label": "Tools" },
      el("div", { class: "main-tools" }, this.undoButton, this.redoButton,
        el("button", { type: "button", class: "second", click: () => this.zoom(1.4) }, "Closer"),
        el("button", { type: "button", class: "second", click: () => this.zoom(1 / 1.4) }, "Farther"),
        el("button", { type: "button", click: () => this.whole() }, "Whole lure"), this.solidButton, this.moreButton), more);
  }

  private buildBlock(): HTMLElement {
    const cell = (words: string, node: HTMLElement): HTMLElement => el("div", {}, el("dt", {}, words), node.tagName === "DD" ? node : el("dd", {}, node));
    return el("dl", { class: "title-block" }, cell("design", this.stampNode), cell("scale", this.scaleNode),
      el("div", { class: "units" }, el("dt", {}, "units"), el("dd", {}, this.unitsButton)), el("div", {}, el("dt", {}, el("label", { for: "snap" }, "the hand snaps")), el("dd", {}, this.snapNode)),
      el("div", { class: "belly" }, el("dt", {}, "belly"), el("dd", {}, el("label", { class: "inline", for: "mirror" }, this.mirror, "mirrors the back"))),
      cell("paper", this.themeButton), cell("file", el("dd", { class: "file" }, this.file)));
  }
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

function sentence(refused: Refused): string {
  const faults = refused.faults.map((fault) => `${fault.line ? `line ${fault.line}, ` : ""}${fault.place}: ${fault.words}`);
  return faults.length > 0 ? `${refused.heading}. ${faults.join(". ")}.` : `${refused.heading}.`;
}

/** Makes fields anew; the one that is being typed in keeps its words and its place. */
function keepingFocus(node: Element, key: unknown, make: () => Node[]): void {
  const active = document.activeElement;
  const typing = active instanceof HTMLInputElement && node.contains(active) && active.type === "text" ? active : null;
  const kept = typing && { id: typing.id, value: typing.value, dirty: typing.value !== typing.defaultValue, at: typing.selectionStart };
  const id = node.contains(active) ? active?.id : undefined;
  const open = new Set([...node.querySelectorAll("details[open]")].map((one) => one.getAttribute("data-group")));
  refresh(node, key, make);
  for (const one of node.querySelectorAll("details")) if (open.has(one.getAttribute("data-group"))) one.open = true;
  if (!id || node.contains(active)) return;
  const again = document.getElementById(id);
  again?.focus({ preventScroll: true });
  if (kept && again instanceof HTMLInputElement) {
    if (kept.dirty) again.value = kept.value;
    again.setSelectionRange(kept.at, kept.at);
  }
}
