// The lure in three dimensions on the sheet, in the drawing's place: turned by hand and by keys, folded at its joints.
// While a hand moves its wood alone is told with every stroke; when it rests, all that is cut and put in is asked for.

import { el, refresh, say } from "./build";
import type { Lure } from "./mesh";
import type { Render } from "./render";
import { INCH, scaleWords } from "./sizes";
import type { Refused, Shop } from "./told";

const REST = 250; // ms without a stroke before the whole is asked for
const LATE = 1500; // ms after which the whole is asked for where no wood was told
const TURN = 0.01; // rad to a pixel
const STEP = Math.PI / 36; // rad to a press of an arrow key
const VIEWS: [string, number, number][] = [["Corner", -0.6, 0.3], ["Side", 0, 0], ["Above", 0, Math.PI / 2], ["Ahead", -Math.PI / 2, 0]];

/** What it needs of the desk: where the scale is written, and the line to the workbench. */
interface Holder { scale(words: string): void; ask(what: "look" | "leave"): void }

export class Solid {
  readonly node = el("div", { class: "solid", hidden: true });
  private canvas = el("canvas", { tabindex: 0, role: "img", "aria-label": "The lure as solids, wood half clear", "aria-describedby": "how-to-turn" });
  private barWords = el("span", {});
  private bar = el("div", { class: "bar", "aria-hidden": "true" }, this.barWords, el("div", { class: "length" }));
  private words = el("p", { class: "solid-words", role: "status" });
  private folds = el("div", { class: "folds" });
  private render: Render | null = null;
  private mesh: typeof import("./mesh") | null = null;
  private stamp = "";
  private on = false;
  private turn = 0; // counts what was asked for; of what was overtaken nothing is shown
  private timer = 0;
  private angles: number[] = [];
  private pointers = new Map<number, [number, number]>();

  constructor(private file: string, private shop: Shop, private holder: Holder) {
    const views = el("div", { class: "views", role: "group", "aria-label": "Seen from" },
      ...VIEWS.map(([words, azimuth, height]) => el("button", { type: "button", click: () => this.render?.look(azimuth, height) }, words)));
    this.node.append(el("div", { class: "solid-holder" }, this.canvas, this.bar, this.words), el("div", { class: "solid-tools" }, views, this.folds),
      el("p", { id: "how-to-turn", class: "unseen" }, "Arrow keys turn it; plus and minus bring it closer; 0 shows the whole."));
    new ResizeObserver(() => this.size()).observe(this.canvas.parentElement!);
    new MutationObserver(() => this.render?.paint()).observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.render?.paint());
    this.canvas.addEventListener("pointerdown", (event) => this.down(event));
    this.canvas.addEventListener("pointermove", (event) => this.move(event));
    for (const end of ["pointerup", "pointercancel"] as const) this.canvas.addEventListener(end, (event) => this.pointers.delete(event.pointerId));
    this.canvas.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    this.canvas.addEventListener("keydown", (event) => this.key(event));
  }

  get shown(): boolean { return this.on; }

  async show(on: boolean): Promise<void> {
    this.on = on;
    this.node.hidden = !on;
    if (!on) {
      window.clearTimeout(this.timer);
      this.turn += 1;
      this.holder.ask("leave");
    } else if (this.render !== null || (await this.begin())) {
      this.size();
      this.opened();
    }
  }

  /** The line is there, anew or because this is looked at now. */
  opened(): void {
    if (!this.on || this.render === null) return;
    this.holder.ask("look");
    this.wait(0);
  }

  /** The drawing is now another. */
  drawn(stamp: string): void {
    if (this.stamp === stamp) return;
    this.stamp = stamp;
    this.turn += 1;
    if (this.on && this.render !== null) this.wait(LATE);
  }

  /** The wood of a stroke. */
  hearWood(bytes: ArrayBuffer): void {
    if (!this.on || this.render === null || this.mesh === null) return;
    this.take(this.mesh.read(bytes));
    this.wait(REST);
  }

  setShop(shop: Shop): void {
    this.shop = shop;
    this.size();
  }

  zoom(factor: number): void { this.render?.zoom(factor); }

  whole(): void { this.render?.whole(); }

  /** Fetches what draws solids, and tries whether this browser can. */
  private async begin(): Promise<boolean> {
    const context = this.canvas.getContext("webgl2", { antialias: false });
    if (context === null) {
      say(this.words, "This browser shows nothing in three dimensions: it has no WebGL. The drawing by lines is all there.");
      return false;
    }
    say(this.words, "Being made.");
    const { Render: Made } = await import("./render");
    this.mesh = await import("./mesh");
    this.render ??= new Made(this.canvas, context, (pixels) => this.showBar(pixels));
    return true;
  }

  private size(): void {
    const holder = this.canvas.parentElement;
    if (this.on && holder && holder.clientWidth > 0) this.render?.resize(holder.clientWidth, holder.clientHeight);
  }

  // --- what is asked of the workbench -------------------------------------------------------------------------------

  private wait(milliseconds: number): void {
    window.clearTimeout(this.timer);
    this.node.setAttribute("aria-busy", "true");
    this.timer = window.setTimeout(() => void this.fetch(), milliseconds);
  }

  private async fetch(): Promise<void> {
    const turn = this.turn += 1;
    let show = (): void => say(this.words, "The workbench does not answer.");
    try {
      const answer = await fetch(`/api/solid?${new URLSearchParams({ file: this.file })}`);
      if (answer.ok) {
        const bytes = await answer.arrayBuffer();
        show = () => this.take(this.mesh!.read(bytes));
      } else {
        const { refused } = (await answer.json()) as { refused: Refused };
        show = () => this.refuse(refused);
      }
    } catch { /* it is told below */ }
    if (turn !== this.turn) return;
    show();
    this.node.setAttribute("aria-busy", "false");
  }

  /** A stroke's drawing makes no solid. */
  hearNone(refused: Refused): void {
    if (!this.on) return;
    window.clearTimeout(this.timer);
    this.refuse(refused);
    this.node.setAttribute("aria-busy", "false");
  }

  private refuse(refused: Refused): void {
    say(this.words, `As it is drawn now it makes no solid: ${refused.heading}.`);
    this.node.classList.add("old-solid");
  }

  private take(lure: Lure): void {
    say(this.words, "");
    this.node.classList.remove("old-solid");
    this.showFolds(lure);
    this.render?.take(lure);
    this.node.dataset["stamp"] = lure.head.stamp;
    this.node.dataset["whole"] = String(lure.head.whole);
  }

  // --- folding ------------------------------------------------------------------------------------------------------

  private showFolds({ head }: Lure): void {
    this.angles = head.folds.map((_, index) => this.angles[index] ?? 0);
    if (!head.whole) return;
    const most = head.folds.map((fold) => Math.floor(fold.swing ?? 0));
    this.angles = this.angles.map((angle, index) => Math.max(-most[index]!, Math.min(most[index]!, angle)));
    refresh(this.folds, most, () => most.map((turn, index) => this.foldField(index, turn)));
    this.render?.fold(this.angles);
  }

  private foldField(index: number, most: number): HTMLElement {
    const id = `fold-${index + 1}`, told = el("output", { for: id });
    const tell = (): void => {
      const angle = this.angles[index] ?? 0;
      say(told, angle === 0 ? "straight" : `${Math.abs(angle)}° ${angle > 0 ? "right" : "left"}`);
      slider.setAttribute("aria-valuetext", told.textContent ?? "");
    };
    const slider: HTMLInputElement = el("input", { type: "range", id, min: -most, max: most, step: 1, value: this.angles[index] ?? 0, input: () => {
      this.angles[index] = Number(slider.value);
      tell();
      this.render?.fold(this.angles);
    } });
    tell();
    return el("div", { class: "fold" }, el("label", { for: id }, `joint ${index + 1}`), slider, told);
  }

  // --- the scale ----------------------------------------------------------------------------------------------------

  private showBar(pixels: number): void {
    const unit = this.shop === "metric" ? 1 : INCH, steps = this.shop === "metric" ? [1, 2, 5, 10, 20, 50, 100, 200] : [0.125, 0.25, 0.5, 1, 2, 4, 8];
    const long = steps.find((one) => one * unit * pixels >= 56) ?? steps[steps.length - 1]!;
    this.bar.style.width = `${long * unit * pixels}px`;
    if (this.on) this.holder.scale(scaleWords(pixels));
    say(this.barWords, `${long} ${this.shop === "metric" ? "mm" : "in"}`);
  }

  // --- the hand -----------------------------------------------------------------------------------------------------

  private down(event: PointerEvent): void {
    this.canvas.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
  }

  private move(event: PointerEvent): void {
    const before = this.pointers.get(event.pointerId);
    if (before === undefined) return;
    const now: [number, number] = [event.clientX, event.clientY];
    const other = [...this.pointers.entries()].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const apart = ([x, y]: [number, number]): number => Math.max(8, Math.hypot(x - other[0], y - other[1]));
      this.render?.zoom(apart(now) / apart(before));
      this.render?.shift(0.5 * (now[0] - before[0]), 0.5 * (now[1] - before[1]));
    } else if (event.shiftKey || event.buttons === 4) this.render?.shift(now[0] - before[0], now[1] - before[1]);
    else this.render?.turn(-TURN * (now[0] - before[0]), TURN * (now[1] - before[1]));
    this.pointers.set(event.pointerId, now);
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    this.render?.zoom(Math.exp(-0.0016 * event.deltaY * (event.deltaMode === 1 ? 16 : 1)));
  }

  private key(event: KeyboardEvent): void {
    const ways: Record<string, [number, number]> = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, STEP], ArrowDown: [0, -STEP] };
    const way = ways[event.key];
    if (!way || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    this.render?.turn(...way);
  }
}
