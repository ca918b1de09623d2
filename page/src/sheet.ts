// The drawing on the screen: grid, ruler, lines of both views, water, marks, and the handles over them.

import { draw, put } from "./build";
import type { At, Handle } from "./handles";
import { whereWords } from "./handles";
import { Over } from "./over";
import { type Box, type Layout, layout, Paper, type View } from "./paper";
import { INCH, scaleWords } from "./sizes";
import type { Answer, Point3, Scene, Shape, Shop, Stroke } from "./told";

const EDGE = { left: 34, top: 54, right: 48, bottom: 24 };
const NARROW = 500; // px: no room for words on the drawing below
const RULE = 24; // px high

export class Sheet {
  readonly paper = new Paper();
  readonly svg = draw("svg", { class: "paper", role: "group", "aria-label": "The drawing", tabindex: -1 });
  shop: Shop = "metric";
  at: Layout = { side: 0, top: 60, sections: 120, box: { left: 0, top: -30, right: 200, bottom: 90 } };
  chosen: string | null = null;
  hovered: string | null = null;
  held: { key: string; at: At } | null = null;
  private shape: Shape | null = null;
  private scene: Scene | null = null;
  private behind = false;
  private gridded = ""; // what the grid was drawn for
  private row: Row = { middles: [], deep: 0, line: 0, right: 0 };
  private rowShown = false;
  private grid = draw("g", { class: "grid", "aria-hidden": "true" });
  private world = draw("g", { class: "lines", "aria-hidden": "true" });
  private outline = draw("g", {});
  private detail = draw("g", {});
  private over = new Over();
  private hands = draw("g", { class: "hands" });
  private rule = draw("g", { class: "rule", "aria-hidden": "true" });
  private nodes = new Map<string, SVGGElement>();
  private list: Handle[] = [];
  private last = new Map<string, string>(); // of each sort the key that was last in hand

  constructor(private onScale: (words: string) => void) {
    this.world.append(this.outline, this.detail);
    this.svg.append(this.grid, this.world, this.over.below, this.hands, this.over.above, this.rule);
  }

  handle(key: string | null): Handle | undefined { return this.list.find((one) => one.key === key); }
  get handles(): Handle[] { return this.list; }
  node(key: string): SVGGElement | undefined { return this.nodes.get(key); }

  resize(width: number, height: number): void {
    const [wider, taller] = [width - this.paper.width, height - this.paper.height];
    this.paper.width = width;
    this.paper.height = height;
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.svg.classList.toggle("narrow", width < NARROW);
    if (this.paper.moved) this.paper.pan(wider / 2, taller / 2);
    else this.whole();
    this.place();
  }

  whole(): void {
    this.paper.fit(this.at.box, this.paper.width < NARROW ? { left: 12, top: 52, right: 14, bottom: 6 } : EDGE);
    this.place();
  }

  /** Closer or farther, the middle staying. */
  zoom(factor: number): void {
    this.paper.zoom(factor, this.paper.width / 2, this.paper.height / 2);
    this.place();
  }

  /** A new outline; the handles are made anew, the one in the hand staying there. */
  setShape(shape: Shape, list: Handle[]): void {
    const first = this.shape === null;
    this.shape = shape;
    this.list = list;
    this.behind = true;
    this.outline.replaceChildren(...this.bodies(shape));
    this.lay(first);
    this.remake();
    this.place();
  }

  setAnswer(answer: Answer): void {
    if (!answer.scene) return;
    this.scene = answer.scene;
    this.behind = this.shape?.stamp !== answer.stamp;
    this.detail.replaceChildren(...this.details(answer.scene));
    this.lay(false);
    this.place();
  }

  /** Where the water's line and the centres lie now; the rest of what is drawn is to come. */
  setWater(water: Partial<Scene>): void {
    if (!this.scene) return;
    this.scene = { ...this.scene, ...water };
    this.over.placeWater(this.scene, this.paper, this.at);
  }

  setShop(shop: Shop): void {
    this.shop = shop;
    this.lay(false);
    this.place();
  }

  /** Where a handle is now: in the hand, or where the design has it. */
  spot(handle: Handle): At { return this.held?.key === handle.key ? this.held.at : handle.at; }

  screen(handle: Handle): [number, number] {
    const at = this.spot(handle);
    const [px, py] = this.paper.place(handle.view, this.at, at.station, at.up);
    return handle.kind === "joint" ? [px, this.paper.place("side", this.at, 0, this.backAt(at.station))[1] - 16] : [px, py];
  }

  /** The highest of the body [mm] at a station. */
  backAt(station: number): number { return this.outlineAt("side", station)[1]; }

  /** The lowest and the highest, or the left and the right, of the outline [mm] at a station. */
  outlineAt(view: View, station: number): [number, number] {
    const strokes = this.shape?.[view] ?? [];
    const points = strokes[strokes.length - 1]?.points ?? [];
    let low = Infinity, high = -Infinity;
    for (let index = 0; index < points.length; index += 2) {
      const x0 = points[index]!, y0 = points[index + 1]!;
      const x1 = points[(index + 2) % points.length]!, y1 = points[(index + 3) % points.length]!;
      if ((x0 <= station && station <= x1) || (x1 <= station && station <= x0)) {
        const out = x1 === x0 ? y0 : y0 + ((station - x0) / (x1 - x0)) * (y1 - y0);
        low = Math.min(low, out);
        high = Math.max(high, out);
      }
    }
    return low <= high ? [low, high] : [0, 0];
  }

  /** Puts everything where the paper has it now. */
  place(): void {
    const { paper } = this;
    this.world.setAttribute("transform", `translate(${paper.x} ${paper.y}) scale(${paper.scale})`);
    this.detail.setAttribute("class", this.behind ? "behind" : "");
    this.placeGrid();
    this.placeOver();
    this.placeHandles();
    this.onScale(scaleWords(paper.scale));
  }

  placeHandles(): void {
    const stops = this.stops();
    for (const handle of this.list) {
      const node = this.nodes.get(handle.key);
      if (!node) continue;
      const [px, py] = this.screen(handle);
      put(node, "transform", `translate(${px.toFixed(2)} ${py.toFixed(2)})`);
      put(node, "tabindex", stops.has(handle.key) ? "0" : "-1");
      const states = [handle.key === this.chosen && "chosen", handle.key === this.hovered && "near",
        this.held?.key === handle.key && "held"].filter(Boolean);
      put(node, "class", `handle ${handle.kind} ${handle.curve ?? ""} ${states.join(" ")}`);
      put(node, "aria-label", `${handle.name}: ${whereWords(handle, this.spot(handle), this.shop)}`);
      const drop = node.querySelector(".drop");
      if (drop) this.placeDrop(drop, handle, py);
    }
  }

  /** Tab goes from sort to sort: to the one that was last in hand, or the first. */
  private stops(): Set<string> {
    const chosen = this.handle(this.chosen), found = new Map<string, string>();
    if (chosen) this.last.set(sortOf(chosen), chosen.key);
    for (const one of this.list) {
      const sort = sortOf(one);
      if (!found.has(sort) || this.last.get(sort) === one.key) found.set(sort, one.key);
    }
    return new Set(found.values());
  }

  /** A cut's line runs down through the body from its handle. */
  private placeDrop(drop: Element, handle: Handle, py: number): void {
    const [low] = this.outlineAt("side", this.spot(handle).station);
    put(drop, "y2", String(this.paper.place("side", this.at, 0, low)[1] + 8 - py));
  }

  private lay(first: boolean): void {
    if (!this.shape?.side) return;
    const side = this.withHooks(bounds([...this.shape.side, ...(this.scene?.side ?? [])]));
    const top = bounds([...(this.shape.top ?? []), ...(this.scene?.top ?? [])]);
    const roomy = this.paper.height > 420 && this.scene !== null && this.scene.sections.length > 0;
    const drawn = roomy && this.scene ? sectionRow(this.scene, side.left, side.right) : null;
    const reach = drawn?.right ?? 0;
    const was = JSON.stringify(this.at);
    this.at = layout({ ...side, right: Math.max(side.right, reach) }, top, drawn, this.shop === "metric" ? 10 : INCH / 2);
    if ((first || (JSON.stringify(this.at) !== was && !this.paper.moved)) && this.held === null) this.whole();
    for (const [name, line] of [["side", this.at.side], ["top", this.at.top]] as [string, number][]) {
      this.world.querySelectorAll(`[data-view="${name}"]`).forEach((node) =>
        node.setAttribute("transform", `translate(0 ${line}) scale(1 -1)`));
    }
    const row = this.detail.querySelector('[data-view="sections"]');
    row?.setAttribute("transform", `translate(0 ${this.at.sections})`);
    row?.setAttribute("visibility", drawn ? "visible" : "hidden");
    this.rowShown = drawn !== null;
  }

  /** The room the side view takes with its hooks hanging. */
  private withHooks(box: Box): Box {
    const low = (this.shape?.handles ?? []).filter((part) => part.shank && part.gape)
      .map((part) => 1000 * (part.at[2] - (part.shank ?? 0)));
    return { ...box, bottom: Math.min(box.bottom, ...low) };
  }

  private bodies(shape: Shape): SVGElement[] {
    return (["side", "top"] as View[]).map((view) => {
      const strokes = shape[view] ?? [];
      const wood = strokes[strokes.length - 1];
      return draw("g", { "data-view": view }, wood ? draw("polygon", { class: "wood", points: wood.points.join(" ") }) : null,
        ...lines(strokes));
    });
  }

  private details(scene: Scene): SVGElement[] {
    const bodies = this.shape?.side?.length ?? 1;
    const side = draw("g", { "data-view": "side" },
      ...scene.ballastSide.map((points) => draw("polygon", { class: "ballast", points: points.join(" ") })),
      ...lines(scene.side.slice(bodies)), ...this.hooks());
    const top = draw("g", { "data-view": "top" },
      ...scene.ballastTop.map((points) => draw("polygon", { class: "ballast", points: points.join(" ") })),
      ...lines(scene.top.slice(bodies)));
    return [side, top, this.sections(scene)];
  }

  /** Hooks hang below their hangers: ring, shank and bend, as their sizes are written. */
  private hooks(): SVGElement[] {
    return (this.shape?.handles ?? []).filter((part) => part.table === "hook" && part.shank && part.gape).map((part) => {
      const [x, , z] = part.at.map((metres) => 1000 * metres) as Point3;
      const long = 1000 * (part.shank ?? 0), half = 500 * (part.gape ?? 0);
      const path = `M${x} ${z}V${z - long + half}A${half} ${half} 0 0 0 ${x + 2 * half} ${z - long + half}v${0.8 * half}` +
        `M${x} ${z - long + half}A${half} ${half} 0 0 1 ${x - 2 * half} ${z - long + half}v${0.8 * half}`;
      return draw("path", { class: "hook", d: path });
    });
  }

  private sections(scene: Scene): SVGElement {
    const node = draw("g", { "data-view": "sections" });
    const side = bounds([...(this.shape?.side ?? []), ...scene.side]);
    const row = sectionRow(scene, side.left, side.right);
    this.row = row;
    scene.sections.forEach((one, index) => {
      const x = row.middles[index] ?? 0;
      node.append(draw("g", { transform: `translate(${x} ${row.line}) scale(1 -1)` }, ...lines(one.strokes)));
    });
    return node;
  }

  private placeGrid(): void {
    const { paper } = this;
    const key = [paper.x, paper.y, paper.scale, paper.width, paper.height, this.shop].join();
    if (key === this.gridded) return;
    this.gridded = key;
    const steps = this.shop === "metric" ? [1, 5, 10] : [INCH / 8, INCH / 4, INCH];
    const lines: SVGElement[] = [];
    steps.forEach((step, weight) => {
      const apart = step * paper.scale;
      if (apart < (weight === 2 ? 4 : 6)) return;
      let path = "";
      for (let x = paper.x % apart; x < paper.width; x += apart) path += `M${x.toFixed(1)} ${RULE}V${paper.height}`;
      for (let y = paper.y % apart; y < paper.height; y += apart) if (y > RULE) path += `M0 ${y.toFixed(1)}H${paper.width}`;
      lines.push(draw("path", { class: `grid-${weight}`, d: path }));
    });
    this.grid.replaceChildren(...lines);
    this.placeRule(steps);
  }

  /** A rule lies along the upper edge: distances from the nose. */
  private placeRule(steps: number[]): void {
    const { paper } = this;
    const unit = this.shop === "metric" ? 1 : INCH;
    const every = [1, 2, 5, 10, 20, 50, 100].map((count) => count * (this.shop === "metric" ? 10 : 1))
      .find((count) => count * unit * paper.scale >= 46) ?? 100;
    let ticks = "";
    for (const [index, step] of steps.entries()) {
      if (step * paper.scale < 3.2) continue;
      const first = Math.ceil(-paper.x / paper.scale / step), last = (paper.width - paper.x) / paper.scale / step;
      for (let count = first; count <= last; count += 1) {
        ticks += `M${(paper.x + count * step * paper.scale).toFixed(1)} ${RULE}v${-[4, 6, 9][index]!}`;
      }
    }
    const words: SVGElement[] = [];
    const first = Math.ceil(-paper.x / paper.scale / unit / every) * every;
    for (let at = first; at <= (paper.width - paper.x) / paper.scale / unit; at += every) {
      if (paper.x + at * unit * paper.scale > paper.width - 40) break;
      words.push(draw("text", { x: paper.x + at * unit * paper.scale, y: 11, "text-anchor": "middle" }, String(at)));
    }
    this.rule.replaceChildren(draw("rect", { x: 0, y: 0, width: paper.width, height: RULE }), draw("path", { d: ticks }), ...words,
      draw("text", { class: "unit", x: paper.width - 5, y: 11, "text-anchor": "end" }, this.shop === "metric" ? "mm" : "in"));
  }

  private placeOver(): void {
    const { scene, shape, paper } = this;
    if (!scene) return;
    this.over.place(scene, paper, {
      at: this.at, right: bounds([...(shape?.side ?? []), ...scene.side]).right, isNarrow: paper.width < NARROW,
      low: { side: bounds(shape?.side ?? []).bottom - 9, top: bounds(shape?.top ?? []).bottom },
      lowAt: (station) => this.outlineAt("side", station)[0], row: this.rowShown ? this.row : null,
    });
  }

  private remake(): void {
    const keys = this.list.map((handle) => handle.key);
    if (keys.join() === [...this.nodes.keys()].join()) return;
    const focused = document.activeElement?.getAttribute("data-key");
    this.nodes = new Map(this.list.map((handle) => [handle.key, this.nodes.get(handle.key) ?? marker(handle)]));
    this.hands.replaceChildren(...this.nodes.values());
    if (focused) this.nodes.get(focused)?.focus();
  }
}

function sortOf(handle: Handle): string { return handle.curve ?? handle.kind; }

function marker(handle: Handle): SVGGElement {
  const shapes: Record<string, SVGElement[]> = {
    point: [draw("path", { d: "M0 -6L6 0L0 6L-6 0z" })],
    joint: [draw("line", { class: "drop", x1: 0, y1: 0, x2: 0, y2: 0 }), draw("path", { d: "M-7 -9h14l-7 12z" })],
    fitting: [draw("circle", { r: 5.5 })],
    hook: [draw("path", { d: "M0 -6V3A4 4 0 0 0 8 3", class: "open" }), draw("circle", { r: 3, cy: -7 })],
    pocket: [draw("rect", { x: -6, y: -4, width: 12, height: 8 })],
    lip: [draw("path", { d: "M-7 5L5 -6L7 -2L-5 8z" })],
    fin: [draw("path", { d: "M-6 0L6 -7V7z" })],
  };
  return draw("g", { role: "button", "data-key": handle.key, "aria-describedby": "how-to-move" },
    draw("circle", { class: "reach", r: 14 }), ...(shapes[handle.kind] ?? []),
    draw("text", { class: "name", "aria-hidden": "true", y: handle.curve === "belly" ? 24 : -14, "text-anchor": "middle" }, handle.short));
}

/** One path for all strokes of a kind: many small ones are slow to draw. */
function lines(strokes: Stroke[]): SVGElement[] {
  const paths = new Map<string, string>();
  for (const { line, closed, points } of strokes) {
    paths.set(line, `${paths.get(line) ?? ""}M${points.join(" ")}${closed ? "Z" : ""}`);
  }
  return [...paths].map(([line, path]) => draw("path", { class: `l-${line}`, d: path }));
}

/** What strokes cover [mm]; top is the largest. */
function bounds(strokes: Stroke[]): Box {
  const box = { left: Infinity, top: -Infinity, right: -Infinity, bottom: Infinity };
  for (const { points } of strokes) {
    for (let index = 0; index < points.length; index += 2) {
      box.left = Math.min(box.left, points[index]!);
      box.right = Math.max(box.right, points[index]!);
      box.bottom = Math.min(box.bottom, points[index + 1]!);
      box.top = Math.max(box.top, points[index + 1]!);
    }
  }
  return box.left <= box.right ? box : { left: 0, top: 20, right: 200, bottom: -20 };
}

/** How sections stand in their row [mm]: each one's middle, how deep the row is, how far its centre lines lie below its
 * middle, and where it ends. */
interface Row { middles: number[]; deep: number; line: number; right: number }

function sectionRow(scene: Scene, left: number, right: number): Row {
  const boxes = scene.sections.map((one) => bounds(one.strokes));
  const wide = boxes.map((box) => box.right - box.left);
  const spare = Math.max(2, (right - left - wide.reduce((sum, one) => sum + one, 0)) / Math.max(1, boxes.length - 1));
  const middles: number[] = [];
  let at = left;
  wide.forEach((one, index) => {
    middles.push(at - (boxes[index]?.left ?? 0));
    at += one + spare;
  });
  const top = Math.max(...boxes.map((box) => box.top)), bottom = Math.min(...boxes.map((box) => box.bottom));
  return { middles, deep: top - bottom, line: 0.5 * (top + bottom), right: at - spare };
}
