// The towed motion, played: from above, from the side and from behind, at one scale. Nothing runs while it stands still.

import { el, say } from "./build";
import { Motion, type Placed, type Recording } from "./motion";
import { INCH } from "./sizes";
import type { Shop } from "./told";

type Point3 = [number, number, number];
type Flat = (point: Point3) => [number, number];

const GAP = 14; // px between the views
const LABEL = 20; // px over each view
const FOOT = 26; // px for the scale
const LINE = 0.03; // m of the line that is shown ahead of the lure
const PACES: [string, string][] = [["1", "as fast as it swims"], ["0.5", "half as fast"], ["0.25", "a quarter as fast"]];

interface Colours { ink: string; quiet: string; water: string; wood: string }

export class Playing {
  readonly node = el("div", { class: "playing" });
  private canvas = el("canvas", { role: "img" });
  private play = el("button", { type: "button", click: () => this.toggle() }, "Play");
  private pace = el("select", { id: "pace" }, ...PACES.map(([value, words]) => el("option", { value }, words)));
  private words = el("p", { class: "quiet" });
  private motion: Motion | null = null;
  private box: [Point3, Point3] = [[0, 0, 0], [1, 1, 1]];
  private time = 0;
  private last = 0;
  private frame = 0;
  private wanted: boolean;
  private visible = false;
  private live = true;
  private shop: Shop = "metric";
  private tall = 0;

  constructor() {
    this.wanted = !window.matchMedia("(prefers-reduced-motion: reduce)").matches;
    this.node.append(this.canvas, this.words, el("div", { class: "row" }, this.play,
      el("label", { class: "unseen", for: "pace" }, "How fast it is played"), this.pace));
    new ResizeObserver(() => this.size()).observe(this.node);
    new MutationObserver(() => this.paint()).observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.paint());
    this.showPlay();
  }

  /** Another recording; beat [1/s] is what it swings with, 0 where it does not. */
  take(told: Recording | null, beat: number, label: string, shop: Shop): void {
    const beats = told && beat > 0 ? Math.floor(((told.count - 1) / told.frames_per_second) * beat) / beat : 0;
    this.motion = told && told.count > 1 ? new Motion(told, beats) : null;
    this.shop = shop;
    this.time = 0;
    if (this.motion) this.box = this.motion.reach();
    this.canvas.setAttribute("aria-label", label);
    this.canvas.hidden = this.motion === null;
    say(this.words, told && !this.motion ? "It tumbles before there is a motion to play." : "");
    this.size();
    this.run();
  }

  /** Whether it is in sight. */
  show(visible: boolean): void {
    this.visible = visible;
    this.run();
  }

  /** Whether what it shows is of the drawing as it is now; an old one stands still. */
  fresh(live: boolean): void {
    if (this.live === live) return;
    this.live = live;
    this.run();
    this.paint();
  }

  private toggle(): void {
    this.wanted = !this.wanted;
    this.run();
  }

  private get plays(): boolean { return this.wanted && this.visible && this.live && this.motion !== null; }

  private showPlay(): void {
    say(this.play, this.wanted ? "Stop the motion" : "Play the motion");
    this.play.disabled = this.motion === null || !this.live;
    this.pace.disabled = this.play.disabled;
  }

  private run(): void {
    this.showPlay();
    if (this.plays === (this.frame !== 0)) return;
    if (this.plays) {
      this.last = performance.now();
      this.frame = requestAnimationFrame((now) => this.step(now));
    } else {
      cancelAnimationFrame(this.frame);
      this.frame = 0;
    }
  }

  private step(now: number): void {
    const round = this.motion?.round ?? 0;
    this.time += (Math.min(now - this.last, 100) / 1000) * Number(this.pace.value);
    this.last = now;
    if (round > 0) this.time %= round;
    this.paint();
    this.frame = this.plays ? requestAnimationFrame((next) => this.step(next)) : 0;
  }

  /** Sizes the canvas to the width it has and to the height that the three views take at one scale. */
  private size(): void {
    const wide = this.node.clientWidth;
    if (wide < 50 || !this.motion) return;
    this.tall = Math.ceil(this.scale(wide) * (this.extent(1) + this.extent(2)) + 2 * LABEL + GAP + FOOT);
    const fine = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(wide * fine);
    this.canvas.height = Math.round(this.tall * fine);
    this.canvas.style.height = `${this.tall}px`;
    this.paint();
  }

  private extent(axis: 0 | 1 | 2): number { return 1.06 * (this.box[1][axis] - this.box[0][axis]) + (axis === 0 ? LINE : 0); }

  /** px to a metre: the long views stand left, the one from behind right of them. */
  private scale(wide: number): number { return (wide - GAP) / (this.extent(0) + this.extent(1)); }

  private paint(): void {
    const pen = this.canvas.getContext("2d");
    if (!pen || !this.motion || this.canvas.width === 0) return;
    const fine = window.devicePixelRatio || 1, wide = this.canvas.width / fine;
    const colours = coloursOf(this.node, this.live);
    pen.setTransform(fine, 0, 0, fine, 0, 0);
    pen.clearRect(0, 0, wide, this.tall);
    const scale = this.scale(wide);
    const [low, high] = this.box;
    const eye = this.motion.follow(this.time);
    const middle = [0, 1, 2].map((axis) => eye[axis]! + 0.5 * (low[axis]! + high[axis]!)) as Point3;
    const long = scale * this.extent(0), deep = scale * this.extent(2), broad = scale * this.extent(1);
    const left = 0.5 * (long + scale * LINE), top = LABEL + 0.5 * broad, under = 2 * LABEL + broad + GAP + 0.5 * deep;
    const right = long + GAP + 0.5 * broad;
    const views: [string, Flat, number, number, number][] = [
      ["from above", ([x, y]) => [left - scale * (x - middle[0]), top - scale * (y - middle[1])], 0, top - 0.5 * broad, long],
      ["from the side", ([x, , z]) => [left - scale * (x - middle[0]), under + scale * (z - middle[2])], 0, under - 0.5 * deep, long],
      ["from behind", ([, y, z]) => [right + scale * (y - middle[1]), under + scale * (z - middle[2])], long + GAP, under - 0.5 * deep, broad],
    ];
    const placed = this.motion.at(this.time);
    for (const [words, flat, x, y, width] of views) {
      pen.save();
      pen.beginPath();
      pen.rect(x, y - 2, width, this.tall);
      pen.clip();
      this.view(pen, placed, flat, colours);
      pen.restore();
      pen.fillStyle = colours.quiet;
      pen.font = "13px system-ui, sans-serif";
      pen.textAlign = "left";
      pen.fillText(words, x, y - 6);
    }
    this.bar(pen, scale, colours);
  }

  private view(pen: CanvasRenderingContext2D, placed: Placed[], flat: Flat, colours: Colours): void {
    const motion = this.motion!;
    const [ex, ey] = flat(motion.eye(placed[0]!)), [ox, oy] = flat([0, 0, 0]);
    pen.strokeStyle = colours.water;
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.moveTo(ex, ey);
    pen.lineTo(ox, oy);
    pen.stroke();
    placed.forEach((one, piece) => {
      const rings = motion.sections(piece, one).map((ring) => ring.map(flat));
      const parts = rings.slice(1).map((ring, index) => hull([...rings[index]!, ...ring]));
      pen.lineJoin = "round";
      pen.strokeStyle = colours.ink;
      pen.lineWidth = 3;
      pen.beginPath();
      parts.forEach((part) => trace(pen, part));
      pen.stroke();
      pen.fillStyle = pen.strokeStyle = colours.wood;
      pen.lineWidth = 1;
      for (const part of parts) {
        pen.beginPath();
        trace(pen, part);
        pen.fill();
        pen.stroke();
      }
    });
  }

  private bar(pen: CanvasRenderingContext2D, scale: number, colours: Colours): void {
    const long = this.shop === "metric" ? 0.05 : (2 * INCH) / 1000, y = this.tall - 9;
    pen.strokeStyle = pen.fillStyle = colours.ink;
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.moveTo(1, y - 4);
    pen.lineTo(1, y);
    pen.lineTo(1 + scale * long, y);
    pen.lineTo(1 + scale * long, y - 4);
    pen.stroke();
    pen.fillText(this.shop === "metric" ? "50 mm" : "2 in", 8 + scale * long, y + 2);
  }
}

function coloursOf(node: Element, live: boolean): Colours {
  const style = getComputedStyle(node);
  const of = (name: string): string => style.getPropertyValue(name).trim();
  return { ink: live ? of("--ink") : of("--quiet"), quiet: of("--quiet"), water: of("--water"), wood: mixed(of("--wood"), of("--paper"), live ? 0.3 : 0.1) };
}

/** A colour thinned with another; both as #rrggbb. */
function mixed(colour: string, into: string, share: number): string {
  const part = (of: string, at: number): number => parseInt(of.slice(at, at + 2), 16);
  return `rgb(${[1, 3, 5].map((at) => Math.round(share * part(colour, at) + (1 - share) * part(into, at))).join(" ")})`;
}

function trace(pen: CanvasRenderingContext2D, points: [number, number][]): void {
  points.forEach(([x, y], index) => { if (index === 0) pen.moveTo(x, y); else pen.lineTo(x, y); });
  pen.closePath();
}

/** The outermost of points, in order round about. */
function hull(points: [number, number][]): [number, number][] {
  const sorted = [...points].sort(([ax, ay], [bx, by]) => ax - bx || ay - by);
  const half = (order: [number, number][]): [number, number][] => {
    const found: [number, number][] = [];
    for (const point of order) {
      while (found.length > 1 && cross(found[found.length - 2]!, found[found.length - 1]!, point) <= 0) found.pop();
      found.push(point);
    }
    found.pop();
    return found;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function cross([ax, ay]: [number, number], [bx, by]: [number, number], [cx, cy]: [number, number]): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}
