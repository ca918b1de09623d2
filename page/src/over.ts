// What lies over the lines of the drawing and keeps its size on the screen: water, centres, letters, captions, and the
// numbered marks where something is wrong. Its nodes stay; only what has moved is touched, for words are slow to lay out.

import { draw, put, say } from "./build";
import type { Layout, Paper, View } from "./paper";
import type { Point3, Scene } from "./told";

const LEVEL = 40; // px that the water's line goes on beyond the lure, for its sign and its word
const APART = 15; // px that letters keep from each other
const SET = 18; // px that marks keep from each other

/** What it lies over [mm]: how far right the side view reaches, how low both views, where the sections stand in their row. */
export interface Under {
  at: Layout; right: number; low: Record<View, number>; lowAt(station: number): number;
  row: { middles: number[]; deep: number } | null; isNarrow: boolean;
}

export class Over {
  readonly below = draw("g", { class: "over", "aria-hidden": "true" });
  readonly above = draw("g", { class: "over", "aria-hidden": "true" });
  private line = draw("line", {});
  private sign = draw("g", {}, draw("path", { d: "M-14 -11h14l-7 10z" }));
  private level = draw("text", { y: -15, "text-anchor": "end" });
  private water = draw("g", { class: "water" }, this.line, this.sign);
  private weight = draw("g", { class: "weight" }, draw("circle", { r: 6 }), draw("path", { d: "M0 0V-6A6 6 0 0 1 6 0zM0 0V6A6 6 0 0 1 -6 0z" }),
    draw("text", { x: 0, y: 19, "text-anchor": "middle" }, "weight"));
  private buoyancy = draw("g", { class: "buoyancy" }, draw("circle", { r: 6 }), draw("path", { d: "M-6 0H6M0 -6V6" }),
    draw("text", { x: 0, y: -10, "text-anchor": "middle" }, "buoyancy"));
  private letters = draw("g", {});
  private captions = draw("g", {}, draw("text", { class: "caption" }, "from the side"), draw("text", { class: "caption" }, "from above"));
  private stems = draw("g", {});
  private end = 0; // of the water's line [mm]
  private marks = draw("g", {});

  constructor() {
    this.sign.append(this.level);
    this.above.append(this.stems, this.marks);
  }

  place(scene: Scene, paper: Paper, under: Under): void {
    if (!this.water.isConnected) this.below.append(this.water, this.weight, this.buoyancy, this.letters, this.captions);
    this.end = under.right + (under.isNarrow ? 10 : LEVEL) / paper.scale;
    this.placeWater(scene, paper, under.at);
    this.placeLetters(scene, paper, under);
    this.placeMarks(scene, paper, under);
    (["side", "top"] as View[]).forEach((view, index) => {
      const [, py] = paper.place(view, under.at, 0, under.low[view]);
      move(this.captions.children[index]!, Math.max(paper.x, 8), py + 18);
    });
  }

  /** The water's line goes on as far as it was last placed. */
  placeWater(scene: Scene, paper: Paper, at: Layout): void {
    const [x0, z0, xl, zl] = scene.water as [number, number, number, number];
    const x1 = Math.max(xl, this.end);
    const z1 = z0 + ((zl - z0) / (xl - x0)) * (x1 - x0);
    const [ax, ay] = paper.place("side", at, x0, z0), [bx, by] = paper.place("side", at, x1, z1);
    put(this.water, "class", `water ${scene.afloat ? "afloat" : "under"}`);
    Object.entries({ x1: ax, y1: ay, x2: bx, y2: by }).forEach(([name, value]) => put(this.line, name, value.toFixed(2)));
    move(this.sign, bx, by);
    say(this.level, scene.afloat ? "water" : "level");
    for (const [node, [x, , z]] of [[this.weight, scene.weight], [this.buoyancy, scene.buoyancy]] as [Element, Point3][]) {
      move(node, ...paper.place("side", at, x, z));
    }
  }

  private placeLetters(scene: Scene, paper: Paper, { at, lowAt, row }: Under): void {
    const spots: [string, number, number][] = [];
    let before = -Infinity, down = 0;
    for (const { letter, station } of scene.sections) {
      const [px, py] = paper.place("side", at, station, lowAt(station) - 6.5);
      down = px - before < APART ? down + APART : 0;
      before = px;
      spots.push([letter, px, py + 12 + down]);
    }
    if (row) {
      scene.sections.forEach(({ letter }, index) => spots.push([`${letter}–${letter}`, paper.x + paper.scale * (row.middles[index] ?? 0),
        paper.y + paper.scale * (at.sections + 0.5 * row.deep) + 16]));
    }
    of(this.letters, spots.length, () => draw("text", { class: "letter", "text-anchor": "middle" })).forEach((node, index) => {
      const [words, x, y] = spots[index]!;
      say(node, words);
      move(node, x, y);
    });
  }

  /** Over everything else; the findings beside carry the numbers. */
  private placeMarks(scene: Scene, paper: Paper, { at }: Under): void {
    const set: [number, number][] = []; // where marks were set: one that would lie over another stands higher, on a stem
    const spots = scene.marks.flatMap(({ gravity, at: [x, y, z] }, index) => ([["side", z], ["top", y]] as [View, number][]).map(([view, up]) => {
      const [px, py] = paper.place(view, at, x, up);
      let high = 0;
      while (set.some(([x0, y0]) => Math.abs(x0 - px) < SET && Math.abs(y0 - (py - high)) < SET)) high += 3;
      set.push([px, py - high]);
      return { gravity, number: String(index + 1), px, py, high };
    }));
    of(this.marks, spots.length, () => draw("g", {}, draw("path", { d: "M0 0l-9 -17h18z" }), draw("text", { x: 0, y: -6.5, "text-anchor": "middle" })))
      .forEach((node, index) => {
        const { gravity, number, px, py, high } = spots[index]!;
        put(node, "class", `mark ${gravity}`);
        move(node, px, py - high);
        say(node.children[1]!, number);
      });
    const raised = spots.filter(({ high }) => high > 0);
    of(this.stems, raised.length, () => draw("line", { class: "stem", x1: 0, y1: 0, x2: 0 })).forEach((node, index) => {
      const { px, py, high } = raised[index]!;
      move(node, px, py);
      put(node, "y2", String(-high));
    });
  }
}

function move(node: Element, x: number, y: number): void { put(node, "transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`); }

/** So many children of a group, those there are already first. */
function of(group: SVGElement, count: number, make: () => SVGElement): Element[] {
  while (group.children.length > count) group.lastElementChild!.remove();
  while (group.children.length < count) group.append(make());
  return [...group.children];
}
