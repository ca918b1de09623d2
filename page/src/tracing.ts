// From a picture or a drawing: the maker marks a known length, nose and tail; the workbench traces what lies between.
// The picture goes to the workbench on this machine and nowhere else, and is not kept there.

import { draw, el, refresh, say, together } from "./build";
import { bareSections, Before, findingItem } from "./figures";
import type { Act, Finding, Form, Refused, Row, Shop } from "./told";

export interface TracingBench {
  shop(): Shop;
  forms: Form[];
  length?(): string; // of the design on the desk, as it is written
  take?(words: string, acts: Act[]): void;
  begun?(file: string): void;
}

interface Mark { key: string; name: string; short: string; x: number; y: number }
interface TracedTold { drawing: boolean; line: number[]; outline: Record<string, unknown>; headline: string; findings: Finding[]; rows: Row[] }

const LARGEST = 40_000_000; // bytes; the workbench takes no more
const SHOWN = 2000; // pixels of the picture on the screen, along its longer side
const NEAR = { mouse: 16, touch: 30, pen: 22 } as Record<string, number>; // screen px
const LOUPE = 144, CLOSER = 4; // screen px, and how much closer it shows the picture than the screen does

export class Tracing {
  readonly node = el("div", { class: "tracing" });
  private file: File | null = null;
  private bitmap: ImageBitmap | null = null;
  private size: [number, number] = [1, 1];
  private marks: Mark[] = [];
  private drag: { mark: Mark; grab: [number, number] } | null = null;
  private traced: TracedTold | null = null;
  private tried = false; // whether this file was traced once, so that it is traced anew by itself
  private busy = false;
  private again = false;
  private waiting = 0;

  private holder = el("div", { class: "trace-holder" });
  private canvas = el("canvas", { class: "trace-picture", "aria-hidden": "true" });
  private over = draw("svg", { class: "trace-over", role: "group", "aria-label": "Marks in the picture" });
  private loupe = el("canvas", { class: "loupe", width: LOUPE, height: LOUPE, "aria-hidden": "true" });
  private fields = el("div", { class: "fields" });
  private button = el("button", { class: "main", type: "button", click: () => void this.trace() }, "Trace it");
  private status = el("p", { class: "quiet", role: "status" }, "");
  private wrong = el("div", { role: "alert" });
  private sentence = el("p", { class: "sentence" });
  private findings = el("ul", { class: "findings", "aria-label": "What spoils it, worst first" });
  private rows = el("div", { class: "sections" });
  private taking = el("div", { class: "trace-taking" });

  constructor(private bench: TracingBench) {
    const input = el("input", { id: "trace-file", type: "file", accept: ".jpg,.jpeg,.png,.webp,.svg,.dxf",
      change: (event) => void this.chosen((event.target as HTMLInputElement).files?.[0] ?? null) });
    this.node.append(
      el("p", { class: "quiet" }, "A paper template, a carved blank or a fish, on a ground much lighter or darker than it is, with a rule beside it " +
        "as high as its outline; taken from straight above, lit from both sides. Or an SVG or DXF drawing at its own size."),
      el("div", { class: "field" }, el("label", { for: "trace-file" }, "A photo or scan (.jpg, .png, .webp), or a drawing (.svg, .dxf); it stays on this machine"), input),
      this.holder, this.fields, el("div", { class: "row" }, this.button), this.status, this.wrong, this.sentence, this.findings, this.taking, this.rows);
    this.holder.append(this.canvas, this.over as unknown as Node, this.loupe);
    this.over.addEventListener("pointerdown", (event) => this.down(event));
    this.over.addEventListener("pointermove", (event) => this.move(event));
    this.over.addEventListener("pointerup", () => this.letGo());
    this.over.addEventListener("pointercancel", () => this.letGo());
    this.over.addEventListener("focusout", () => this.closeLoupe());
    new ResizeObserver(() => this.place()).observe(this.holder);
    this.show();
  }

  // --- the file -----------------------------------------------------------------------------------------------------

  private async chosen(file: File | null): Promise<void> {
    if (!file) return;
    this.forget();
    if (file.size > LARGEST) {
      this.refuse({ heading: "the picture was not taken", faults: [{ place: file.name, words: "it is larger than 40 MB; save it smaller", line: null }] });
      return;
    }
    this.file = file;
    if (/\.(svg|dxf)$/i.test(file.name)) {
      this.show();
      await this.trace();
      return;
    }
    try {
      this.bitmap = await createImageBitmap(file);
    } catch {
      this.file = null;
      this.refuse({ heading: "the picture cannot be shown", faults: [{ place: file.name, words: "JPEG, PNG and WebP are read; save it as one of them", line: null }] });
      return;
    }
    const { width, height } = this.bitmap;
    this.size = [width, height];
    const scale = Math.min(1, SHOWN / Math.max(width, height));
    this.canvas.width = Math.round(width * scale);
    this.canvas.height = Math.round(height * scale);
    this.canvas.getContext("2d")?.drawImage(this.bitmap, 0, 0, this.canvas.width, this.canvas.height);
    const at = (key: string, name: string, short: string, x: number, y: number): Mark => ({ key, name, short, x: Math.round(width * x), y: Math.round(height * y) });
    this.marks = [at("nose", "nose", "nose", 0.08, 0.45), at("tail", "tail end of the body", "tail", 0.92, 0.45),
      at("from", "from here on, the known length", "from", 0.2, 0.88), at("to", "to here, the known length", "to", 0.8, 0.88)];
    this.show();
    this.holder.scrollIntoView({ block: "nearest" });
    this.over.querySelector<SVGGElement>("[data-mark]")?.focus({ preventScroll: true });
  }

  private forget(): void {
    this.bitmap?.close();
    this.file = this.bitmap = this.traced = null;
    this.marks = [];
    this.tried = false;
    say(this.button, "Trace it");
    this.wrong.replaceChildren();
    this.show();
  }

  private get isDrawing(): boolean { return this.file !== null && this.bitmap === null; }

  // --- what is shown ------------------------------------------------------------------------------------------------

  private show(): void {
    const { file } = this;
    this.holder.hidden = file === null || (this.isDrawing && this.traced === null);
    this.canvas.hidden = this.isDrawing;
    this.button.hidden = file === null;
    refresh(this.fields, [file?.name, file?.size, this.isDrawing, this.bench.shop()], () => file === null ? [] : this.ask());
    this.place();
    this.showTraced();
  }

  private ask(): Node[] {
    const metric = this.bench.shop() === "metric", onDesk = this.bench.take !== undefined;
    const text = (id: string, label: string, placeholder: string, value = ""): HTMLElement => el("div", { class: "field" }, el("label", { for: `trace-${id}` }, label),
      el("input", { id: `trace-${id}`, type: "text", placeholder, value, autocomplete: "off", spellcheck: "false", change: () => this.changed() }));
    const tick = (id: string, label: string, told: () => void = () => this.changed()): HTMLElement => el("div", { class: "field tick" },
      el("label", { class: "inline", for: `trace-${id}` }, el("input", { id: `trace-${id}`, type: "checkbox", change: told }), label));
    const long = text("length", "Made so long", "as it is traced", this.bench.length?.() ?? "");
    const above = onDesk ? tick("above", "seen from above: half the width") : null;
    const found = this.isDrawing ? [long, text("line", "Which outline, by number", "the largest"), tick("nose_right", "the nose lies to the right"),
      tick("belly_up", "the belly is the upper side"), above]
      : [text("known", "The known length", metric ? "100 mm" : "4 in", metric ? "100 mm" : "4 in"), long, tick("belly_up", "the belly is the upper side"), above,
        tick("second", "a second length, square to the first", () => this.second()), this.secondField(metric)];
    return found.filter((node): node is HTMLElement => node !== null);
  }

  private secondField(metric: boolean): HTMLElement {
    const node = el("div", { class: "field", id: "trace-second-field" }, el("label", { for: "trace-across" }, "The second length"),
      el("input", { id: "trace-across", type: "text", placeholder: metric ? "50 mm" : "2 in", autocomplete: "off", change: () => this.changed() }));
    node.hidden = true;
    return node;
  }

  /** A second known length comes in or goes out. */
  private second(): void {
    const on = this.ticked("second"), [width, height] = this.size;
    document.getElementById("trace-second-field")!.hidden = !on;
    this.marks = this.marks.filter((mark) => !mark.key.startsWith("across"));
    if (on) {
      this.marks.push({ key: "across_from", name: "from here on, the second length", short: "from", x: Math.round(0.06 * width), y: Math.round(0.6 * height) },
        { key: "across_to", name: "to here, the second length", short: "to", x: Math.round(0.06 * width), y: Math.round(0.9 * height) });
    }
    this.place();
    if (!on) this.changed();
  }

  private typed(id: string): string { return (document.getElementById(`trace-${id}`) as HTMLInputElement | null)?.value.trim() ?? ""; }

  private ticked(id: string): boolean { return (document.getElementById(`trace-${id}`) as HTMLInputElement | null)?.checked ?? false; }

  /** Pixels of the picture along one of the screen. */
  private get scale(): number { return this.size[0] / Math.max(1, this.over.clientWidth); }

  /** Puts lines and marks where they belong on the screen. */
  private place(): void {
    if (this.isDrawing) { this.placeDrawing(); return; }
    const [width, height] = this.size, scale = this.scale;
    this.over.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.holder.style.setProperty("--ratio", String(width / height));
    const spot = (key: string): Mark | undefined => this.marks.find((mark) => mark.key === key);
    const join = (one: string, other: string, kind: string): SVGElement | null => {
      const [a, b] = [spot(one), spot(other)];
      return a && b ? draw("g", { class: kind }, ...["under", "line"].map((part) => draw("line", { class: part, x1: a.x, y1: a.y, x2: b.x, y2: b.y }))) : null;
    };
    refresh(this.over, [this.marks.map((mark) => mark.key), this.traced?.line.length, this.traced?.line[0]], () => [
      this.traced ? draw("g", { class: "trace-line" }, draw("polygon", { class: "under", points: this.traced.line.join(" ") }),
        draw("polygon", { class: "line", points: this.traced.line.join(" ") })) : draw("g"),
      draw("g", { class: "joins" }), ...this.marks.map((mark) => this.marker(mark))]);
    this.over.querySelector(".joins")?.replaceChildren(...[join("nose", "tail", "axis"), join("from", "to", "known"), join("across_from", "across_to", "known")]
      .filter((one): one is SVGElement => one !== null));
    for (const mark of this.marks) {
      const node = this.nodeOf(mark);
      node?.setAttribute("transform", `translate(${mark.x} ${mark.y}) scale(${scale})`);
      node?.setAttribute("aria-label", `${mark.name}: ${mark.x} to the right, ${mark.y} down, in pixels`);
    }
  }

  private placeDrawing(): void {
    const line = this.traced?.line ?? [];
    if (line.length === 0) return;
    const xs = line.filter((_, index) => index % 2 === 0), ys = line.filter((_, index) => index % 2 === 1);
    const width = Math.max(...xs), height = Math.max(...ys);
    this.over.setAttribute("viewBox", `${-0.03 * width} ${-0.03 * width} ${1.06 * width} ${height + 0.06 * width}`);
    this.holder.style.setProperty("--ratio", String((1.06 * width) / (height + 0.06 * width)));
    this.over.replaceChildren(draw("polygon", { class: "wood", points: line.join(" ") }), draw("polygon", { class: "l-visible", points: line.join(" ") }));
    (this.over as Element & { made?: string }).made = "";
  }

  private nodeOf(mark: Mark): SVGGElement | null { return this.over.querySelector(`[data-mark="${mark.key}"]`); }

  private marker(mark: Mark): SVGGElement {
    const cross = "M-13 0H-4M4 0H13M0 -13V-4M0 4V13";
    return draw("g", { class: "trace-mark", role: "button", tabindex: 0, "data-mark": mark.key, 
      keydown: (event) => this.key(event as KeyboardEvent, mark), focus: () => this.showLoupe(mark) },
      draw("circle", { class: "reach", r: 22 }), draw("path", { class: "under", d: cross }), draw("path", { class: "line", d: cross }),
      draw("text", { "aria-hidden": "true", y: -18, "text-anchor": "middle" }, mark.short));
  }

  // --- the hand -----------------------------------------------------------------------------------------------------

  private spot(event: PointerEvent): [number, number] {
    const box = this.over.getBoundingClientRect();
    return [(event.clientX - box.left) * this.scale, (event.clientY - box.top) * this.scale];
  }

  private down(event: PointerEvent): void {
    if (event.button > 0 || this.isDrawing) return;
    const [x, y] = this.spot(event), reach = (NEAR[event.pointerType] ?? 16) * this.scale;
    const apart = (mark: Mark): number => Math.hypot(mark.x - x, mark.y - y);
    const mark = [...this.marks].sort((one, other) => apart(one) - apart(other))[0];
    if (!mark || apart(mark) > reach) return;
    event.preventDefault();
    this.over.setPointerCapture(event.pointerId);
    this.nodeOf(mark)?.focus({ preventScroll: true });
    this.drag = { mark, grab: [mark.x - x, mark.y - y] };
  }

  private move(event: PointerEvent): void {
    if (!this.drag) return;
    const [x, y] = this.spot(event), { mark, grab } = this.drag;
    this.to(mark, x + grab[0], y + grab[1]);
  }

  private letGo(): void {
    if (!this.drag) return;
    this.drag = null;
    this.changed();
  }

  private key(event: KeyboardEvent, mark: Mark): void {
    const way = ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] } as Record<string, [number, number]>)[event.key];
    if (!way || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const step = event.shiftKey ? Math.max(10, Math.round(10 * this.scale)) : 1;
    this.to(mark, mark.x + step * way[0], mark.y + step * way[1]);
    this.changed();
  }

  private to(mark: Mark, x: number, y: number): void {
    mark.x = Math.round(Math.min(this.size[0], Math.max(0, x)));
    mark.y = Math.round(Math.min(this.size[1], Math.max(0, y)));
    this.place();
    this.showLoupe(mark);
  }

  /** The picture near a mark, closer, in the corner that is furthest from it. */
  private showLoupe(mark: Mark): void {
    const context = this.loupe.getContext("2d");
    if (!this.bitmap || !context) return;
    const span = (LOUPE * this.scale) / CLOSER;
    context.fillStyle = "#808080";
    context.fillRect(0, 0, LOUPE, LOUPE);
    context.drawImage(this.bitmap, mark.x - span / 2, mark.y - span / 2, span, span, 0, 0, LOUPE, LOUPE);
    const middle = LOUPE / 2;
    for (const [width, colour] of [[4, "#faf8f4"], [1.5, "#7a3e9d"]] as [number, string][]) {
      context.lineWidth = width;
      context.strokeStyle = colour;
      context.beginPath();
      for (const [from, to] of [[0, middle - 6], [middle + 6, LOUPE]] as [number, number][]) {
        context.moveTo(from, middle);
        context.lineTo(to, middle);
        context.moveTo(middle, from);
        context.lineTo(middle, to);
      }
      context.stroke();
    }
    this.loupe.classList.add("shown");
    this.loupe.classList.toggle("right", mark.x < this.size[0] / 2);
    this.loupe.classList.toggle("low", mark.y < this.size[1] / 2);
  }

  private closeLoupe(): void { if (!this.drag) this.loupe.classList.remove("shown"); }

  // --- tracing ------------------------------------------------------------------------------------------------------

  /** Something was moved or typed: what was traced before is traced anew. */
  private changed(): void {
    if (!this.tried) return;
    window.clearTimeout(this.waiting);
    this.waiting = window.setTimeout(() => void this.trace(), 350);
  }

  private async trace(): Promise<void> {
    if (!this.file) return;
    if (this.busy) { this.again = true; return; }
    this.busy = this.tried = true;
    const { file } = this;
    say(this.status, "Being traced.");
    const told = await this.asked(file);
    this.busy = false;
    if (this.file !== file || this.again) {
      this.again = false;
      await this.trace();
      return;
    }
    say(this.status, "");
    this.wrong.replaceChildren();
    if ("refused" in told) {
      this.traced = null;
      this.refuse(told.refused);
    } else this.traced = told;
    say(this.button, "Trace it again");
    this.show();
  }

  private async asked(file: File): Promise<TracedTold | { refused: Refused }> {
    const yes = (id: string): string => (this.ticked(id) ? "yes" : "");
    const asked: Record<string, string> = { units: this.bench.shop(), length: this.typed("length"), above: yes("above"), belly_up: yes("belly_up") };
    if (this.isDrawing) Object.assign(asked, { line: this.typed("line"), nose_right: yes("nose_right") });
    else {
      asked["known"] = this.typed("known");
      for (const mark of this.marks) asked[mark.key] = `${mark.x},${mark.y}`;
      if (this.ticked("second")) asked["across"] = this.typed("across");
    }
    try {
      const answer = await fetch(`/api/trace?${new URLSearchParams(asked)}`, { method: "POST", body: file });
      return (await answer.json()) as TracedTold | { refused: Refused };
    } catch {
      return { refused: { heading: "the picture was not traced", faults: [{ place: "the workbench", words: "does not answer", line: null }] } };
    }
  }

  private refuse(refused: Refused): void {
    const heading = refused.heading.charAt(0).toUpperCase() + refused.heading.slice(1);
    this.wrong.replaceChildren(el("div", { class: "told wrong" }, el("p", { class: "sentence" }, `${heading}.`),
      el("ul", {}, ...refused.faults.map((fault) => el("li", {}, el("strong", {}, `${fault.place}: `), fault.words)))));
  }

  // --- what was traced ----------------------------------------------------------------------------------------------

  private showTraced(): void {
    const { traced } = this;
    say(this.sentence, traced ? together(traced.headline) : "");
    this.sentence.hidden = this.findings.hidden = this.rows.hidden = this.taking.hidden = traced === null;
    refresh(this.findings, traced?.findings, () => (traced?.findings ?? []).map((one) => findingItem(one, null, false)));
    if (traced) {
      bareSections(this.rows, { headline: "", also: [], sections: [{ title: "As traced", rows: traced.rows }] }, new Before(), "drawing");
      refresh(this.taking, [this.bench.take !== undefined], () => this.ways());
    }
  }

  private ways(): Node[] {
    if (this.bench.take) {
      return [el("button", { class: "main", type: "button", click: () => this.intoDrawing() }, "Take it into the drawing"),
        el("p", { class: "quiet" }, "One stroke, taken back with Undo. Made as long as the design is, its cuts and hooks keep their places.")];
    }
    const forms = this.bench.forms.map((form) => el("option", { value: form.name }, `${form.name}: ${form.words.charAt(0).toLowerCase()}${form.words.slice(1)}`));
    return [el("div", { class: "fields" },
      el("div", { class: "field" }, el("label", { for: "trace-new" }, "Name of its file"), el("input", { id: "trace-new", value: "traced lure", autocomplete: "off", maxlength: 60 })),
      el("div", { class: "field" }, el("label", { for: "trace-form" }, "Cuts and hardware"),
        el("select", { id: "trace-form" }, el("option", { value: "" }, "none: the body alone"), ...forms)),
      el("div", { class: "field" }, el("label", { for: "trace-width" }, "Widest place, from above"), el("input", { id: "trace-width", placeholder: "70 % of the depth", autocomplete: "off" }))),
      el("button", { class: "main", type: "button", click: () => void this.begin() }, "Begin a lure with this outline")];
  }

  private intoDrawing(): void {
    if (!this.traced) return;
    const above = this.ticked("above");
    this.bench.take?.(above ? "half the width, traced" : "the outline, traced", [{ act: above ? "half-widths" : "outline", outline: this.traced.outline }]);
    say(this.status, "It is on the drawing; Undo takes it back.");
  }

  private async begin(): Promise<void> {
    if (!this.traced) return;
    const asked = { file: this.typed("new"), form: this.typed("form"), width: this.typed("width"), units: this.bench.shop(),
      source: this.file?.name ?? "", outline: this.traced.outline };
    const answer = await fetch("/api/trace/begin", { method: "POST", body: JSON.stringify(asked), headers: { "content-type": "application/json" } });
    const told = (await answer.json()) as { file?: string; refused?: Refused };
    if (told.refused) this.refuse(told.refused);
    else if (told.file) this.bench.begun?.(told.file);
  }
}
