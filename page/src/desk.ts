// A design on the desk: the drawing, and beside it what it comes to.

import { mustStay, numberOfNew, roomForPoint, takenOut } from "./adding";
import { Banners, refusalNodes, sentence } from "./banners";
import { TitleBlock } from "./block";
import { el, refresh, say } from "./build";
import { Before, Figures } from "./figures";
import { keepingFocus } from "./focus";
import { type Bench, Hand, KEYS } from "./hand";
import { handles, type Handle } from "./handles";
import { Keeping } from "./keeping";
import { listen } from "./keys";
import { Line } from "./line";
import { Newest } from "./newest";
import type { View } from "./paper";
import { Pictures } from "./pictures";
import { placeNamed, Places } from "./places";
import { Sheet } from "./sheet";
import { Solid } from "./solid";
import { snapped } from "./sizes";
import { typedTables } from "./tables";
import { Taking } from "./taking";
import { Tools } from "./tools";
import { Tow } from "./tow";
import type { Act, Answer, PlaceName, Refused, Shape, Shelf, Shop, Where, Weights } from "./told";
import { heldFields } from "./typed";
import { Work } from "./work";

export class Desk implements Bench {
  readonly node: HTMLElement;
  private shop: Shop;
  private place: PlaceName;
  private where: Where | null = null;
  private shape: Shape | null = null;
  private newest = new Newest();
  private pictures = new Pictures();
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
  private kept = new Keeping(() => this.save());
  private banners = new Banners();
  private panel = el("section", { id: "answers", class: "answers", role: "tabpanel", tabindex: -1, "aria-labelledby": "place-drawing" });
  private refusals = el("div", { class: "refusals" });
  private inHand = el("div", { class: "in-hand" });
  private saidNode = el("p", { class: "said", "aria-live": "polite" });
  private addButton = el("button", { type: "button", click: () => this.addPoint() }, "Add a point");
  private outButton = el("button", { type: "button", click: () => this.outChosen() }, "Take out");
  private block: TitleBlock;
  private tools: Tools;
  private places = new Places((place) => this.open(place));

  constructor(private file: string, private shelf: Shelf, shop: Shop) {
    this.shop = shop;
    this.block = new TitleBlock(file, shop, () => this.switchUnits(), (on) => this.setMirror(on));
    this.tools = new Tools({
      step: (kind) => this.step(kind), zoom: (factor) => this.zoom(factor), whole: () => this.whole(), solid: () => this.switchSolid(),
      putIn: (table, words) => this.putIn(table, words),
    }, this.block.node);
    this.place = placeNamed();
    this.line = new Line(file, {
      where: (where, told) => this.hearWhere(where, told),
      shape: (shape) => this.pictures.after(() => this.hearShape(shape)),
      weights: (weights) => this.hearWeights(weights),
      answer: (answer) => this.pictures.after(() => this.hearAnswer(answer)),
      tow: (told) => this.tow.hearProgress(told),
      swum: (swum) => { if (swum.shop === this.shop) this.tow.hearSwum(swum); },
      wood: (bytes) => { this.solid.hearWood(bytes); this.pictures.figured(); },
      noSolid: ({ refused }) => this.solid.hearNone(refused),
      opened: () => { this.newest.opened(); this.tow.opened(); this.solid.opened(); },
      refused: (refused) => this.hearRefused(refused),
      stale: () => this.banners.tell("stale", "watch", "Another window drew on this design meanwhile. It is shown here now; draw that stroke again."),
      gone: () => this.hearGone(),
      closed: (refused) => this.banners.tell("closed", "wrong", sentence(refused), [["To the folder's designs", () => location.assign("/")]]),
    });
    this.sheet = new Sheet((words) => this.block.setScale(words));
    this.sheet.shop = shop;
    this.hand = new Hand(this.sheet, this);
    this.work = new Work(file, shop);
    this.solid = new Solid(file, shop, { scale: (words) => this.block.setScale(words), ask: (what) => this.line.solid(what) });
    this.tow = new Tow({ file, ask: (what) => this.line.tow(what) });
    this.taking = new Taking({
      file, shop: () => this.shop, refused: (refused) => this.hearRefused(refused), said: (words) => this.say(words),
      write: (text) => { this.begin(); this.stroke("", "the text, by hand", [{ act: "text", text }]); },
      length: () => String(this.shape?.written["length"] ?? ""), take: (words, acts) => this.type(words, acts),
    });
    this.node = this.build();
    this.open(this.place);
    listen({ save: () => this.save(), step: (kind) => this.step(kind), zoom: (factor) => this.zoom(factor), whole: () => this.whole() });
    this.line.open(shop);
  }

  // --- what the hand asks -----------------------------------------------------------------------------------------

  private get answer(): Answer | null { return this.newest.answer; }

  ready(): boolean { return this.line.alive && this.shape?.curves !== undefined; }

  snap(): number { return this.block.snap(); }

  begin(): void {
    this.before.note(this.answer);
    this.banners.quiet("refused");
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
    const at = snapped(station, this.snap());
    const room = roomForPoint(curves, view, at, up);
    if (!room) return false;
    const { curve, place } = room;
    const [low, high] = this.sheet.outlineAt(view, at);
    const out = curve === "belly" ? -low : high;
    this.begin();
    this.chosen = this.sheet.chosen = `${curve}.${place}`;
    this.stroke("", `${curve}, one more point`, [{ act: "add point", curve, place, station: at / 1000, out: snapped(out, 0.1) / 1000 }]);
    return true;
  }

  takeOut(handle: Handle): void {
    if (!this.ready()) return;
    const why = mustStay(handle, this.shape);
    if (why) return this.say(why);
    this.begin();
    this.stroke("", `${handle.name.split(",")[0]}, taken out`, [takenOut(handle)]);
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
    this.banners.quiet("gone");
    if (told) this.banners.tell("told", "note", told);
    if (where.fileChanged) {
      this.banners.tell("changed", "watch", `${where.file} was changed by another program. What is drawn here is kept.`,
        [["Show the file as it is now", () => { this.begin(); this.line.ask("take file"); }],
          ["Write what is drawn here over it", () => this.line.save(true)]]);
    } else this.banners.quiet("changed");
    this.showKept();
  }

  private hearShape(shape: Shape): void {
    if (this.line.settled && !this.hand.dragging) this.sheet.held = null;
    this.shape = shape;
    if (shape.curves) {
      const list = handles(shape);
      const isLatest = this.line.settled && this.where?.stamp === shape.stamp; // what was put in since is not in an older one
      if (this.chosen !== null && isLatest && !list.some((one) => one.key === this.chosen)) this.choose(null);
      this.sheet.setShape(shape, list);
    }
    this.node.classList.toggle("undrawn", !shape.curves && this.sheet.handles.length === 0);
    this.block.setDesign(shape.stamp, shape.curves?.belly === null);
    say(this.name, typeof shape.written["name"] === "string" ? shape.written["name"] : this.file);
    document.title = `${this.name.textContent} - Gudgeon`;
    this.showRefusals(shape.refused ?? null);
    this.showHeld();
    this.showTyped();
    this.taking.show(shape, this.answer);
  }

  /** Weights, float line and ballast of the last stroke; the rest of the answer is still that of an earlier one. */
  private hearWeights(weights: Weights): void {
    this.kept.now();
    if (weights.shop !== this.shop || !this.newest.hearWeights(weights)) return;
    this.sheet.setWater(weights.scene);
    if (this.place === "drawing") this.figures.glanceAt(this.answer!, this.before);
    void this.panel.offsetHeight; // laid out before the next picture, not in it
    this.pictures.figured();
    this.pictures.after(() => this.showAnswer());
  }

  private hearAnswer(answer: Answer): void {
    if (answer.shop !== this.shop) return;
    this.answered = answer.stamp;
    this.kept.now();
    this.showBusy();
    this.showRefusals(answer.refused ?? null);
    if (answer.refused) return;
    this.sheet.setAnswer(this.newest.hearAnswer(answer));
    this.showAnswer();
  }

  private hearRefused(refused: Refused): void {
    this.hand.drop();
    this.sheet.held = null;
    this.sheet.placeHandles();
    this.banners.tell("refused", "wrong", sentence(refused));
    this.showHeld();
    this.showTyped();
  }

  private hearGone(): void {
    this.hand.drop();
    this.banners.tell("gone", "watch", "The workbench does not answer. If it was stopped, start it again: every stroke that was kept is there.");
    this.showKept();
  }

  // --- what is shown ----------------------------------------------------------------------------------------------

  private showAnswer(): void {
    const { answer, place } = this;
    if (!answer?.places || place === "tow") return;
    if (place === "bench") this.work.show(answer, this.before);
    else if (place === "papers") this.taking.show(this.shape, answer);
    else this.figures.show(answer, place, this.before);
  }

  private showRefusals(refused: Refused | null): void {
    const isBlank = this.shape?.text.trim() === "";
    refresh(this.refusals, [refused, isBlank], () => refused === null ? [] : refusalNodes(refused, this.answer !== null,
      isBlank ? this.file : "", () => { this.open("papers"); this.taking.open(); }));
    this.panel.classList.toggle("old", refused !== null);
  }

  private showKept(): void {
    const { where, line } = this;
    this.kept.show(where, line.alive, line.settled, () => this.tools.show(where, line.alive));
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
    const made = typedTables(this.place, shape, this.sheet.handle(this.chosen), this.shelf.keys, (words, acts) => this.type(words, acts));
    keepingFocus(node, [this.place, this.chosen, this.shop, made.map(([, key]) => key)], () => made.map(([make]) => make()));
    const part = this.sheet.handle(this.chosen)?.part;
    const first = node.querySelector("details");
    if (first && ((part && this.opened !== this.chosen) || this.place === "bench")) first.open = true;
    this.opened = this.chosen;
  }

  private type(words: string, acts: Act[]): void {
    if (!this.line.alive) return;
    this.begin();
    this.stroke("", words, acts);
  }

  // --- places, units, theme ---------------------------------------------------------------------------------------

  private open(place: PlaceName): void {
    this.place = place;
    this.places.show(place);
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
    this.block.setShop(this.shop);
    this.showHeld();
    this.showTyped();
    this.answered = "";
    this.showBusy();
    this.line.units(this.shop);
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

  private putIn(table: string, words: string): void {
    if (!this.ready()) return;
    const long = this.shape?.length ?? 200;
    const handle = this.sheet.handle(this.chosen);
    const middle = this.sheet.paper.lure("side", this.sheet.at, this.sheet.paper.width / 2, 0)[0];
    const wanted = handle ? handle.at.station + 0.06 * long : middle;
    const at = snapped(Math.min(0.94 * long, Math.max(0.06 * long, wanted)), Math.max(this.snap(), 0.5));
    this.begin();
    const number = numberOfNew(this.shape?.handles ?? [], table, at);
    this.chosen = this.sheet.chosen = `${table}.${number}`;
    this.stroke("", `${words}, put in`, [{ act: "put in", table, at: at / 1000 }]);
  }

  private setMirror(on: boolean): void {
    if (!this.ready()) return;
    this.begin();
    this.stroke("", on ? "the belly mirrors the back" : "the belly drawn by itself", [{ act: "mirror", on }]);
  }

  private switchSolid(): boolean {
    const on = !this.solid.shown;
    this.node.classList.toggle("in-solid", on);
    void this.solid.show(on);
    if (!on) this.sheet.place();
    return on;
  }

  private whole(): void { (this.solid.shown ? this.solid : this.sheet).whole(); }

  private zoom(factor: number): void { (this.solid.shown ? this.solid : this.sheet).zoom(factor); }

  // --- the page ---------------------------------------------------------------------------------------------------

  private build(): HTMLElement {
    const holder = el("div", { class: "paper-holder" }, this.sheet.svg as unknown as Node, this.saidNode,
      el("p", { class: "undrawn-words" }, "Nothing can be drawn from this text yet."), this.solid.node);
    new ResizeObserver(() => this.sheet.resize(holder.clientWidth, holder.clientHeight)).observe(holder);
    return el("div", { class: "desk" },
      el("header", {}, el("div", { class: "title" }, this.name, el("a", { href: "/", class: "quiet" }, "other designs")),
        this.kept.node),
      el("main", {},
        el("section", { class: "sheet", "aria-label": "Drawing" }, holder,
          el("div", { class: "held-strip" }, this.inHand, this.addButton, this.outButton), this.tools.node,
          el("p", { id: "how-to-move", class: "unseen" }, KEYS)),
        el("div", { class: "beside" }, this.places.node, this.banners.node, this.panel)));
  }
}
