// Beat and sweep against speed, with the range of each, as lines on paper.

import { draw } from "./build";
import type { Row } from "./told";

export interface Mark { speed: number; row: Row | undefined; words: string } // row: none where it does not swim
export interface Curve { title: string; marks: Mark[] }

const WIDE = 480, TALL = 132, LEFT = 44, RIGHT = 12, TOP = 26, BOTTOM = 26;
const STEPS = [1, 2, 2.5, 5, 10];

/** A step for an axis that shows some five figures up to a greatest. */
function step(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most / 4));
  return (STEPS.find((one) => one * power * 5 >= most) ?? 10) * power;
}

function figures(most: number): number[] {
  const every = step(most);
  return Array.from({ length: Math.floor(most / every + 1e-9) + 1 }, (_, index) => Number((index * every).toPrecision(6)));
}

/** One curve over the speeds [in the shop's unit]; the chosen speed stands out. */
export function curve({ title, marks }: Curve, unit: string, chosen: number, blows: number | null): SVGElement {
  const swims = marks.filter((mark) => typeof mark.row?.value === "number");
  const far = Math.max(...marks.map((mark) => mark.speed), 1e-9) * 1.04;
  const high = Math.max(...swims.map((mark) => mark.row!.high ?? Number(mark.row!.value)), 1e-9) * 1.05;
  const x = (speed: number): number => LEFT + (speed / far) * (WIDE - LEFT - RIGHT);
  const y = (value: number): number => TALL - BOTTOM - (value / high) * (TALL - TOP - BOTTOM);
  const said = marks.map((mark) => `at ${mark.words}: ${mark.row ? mark.row.shown : "does not swim"}`).join("; ");
  const node = draw("svg", { class: "curve", viewBox: `0 0 ${WIDE} ${TALL}`, role: "img", "aria-label": `${title}, against speed. ${said}` });
  node.append(draw("path", { class: "axis", d: `M${LEFT} ${TOP}V${TALL - BOTTOM}H${WIDE - RIGHT}` }),
    draw("text", { x: 0, y: 14 }, title), draw("text", { x: WIDE - RIGHT, y: TALL - 2, "text-anchor": "end" }, unit));
  for (const figure of figures(far)) {
    if (x(figure) < WIDE - 60 || figure === 0) node.append(draw("text", { class: "figure", x: x(figure), y: TALL - BOTTOM + 16, "text-anchor": "middle" }, String(figure)));
    node.append(draw("path", { class: "axis", d: `M${x(figure)} ${TALL - BOTTOM}v4` }));
  }
  for (const figure of swims.length > 0 ? figures(high) : []) {
    node.append(draw("text", { class: "figure", x: LEFT - 8, y: y(figure) + 4, "text-anchor": "end" }, String(figure)),
      draw("path", { class: "axis", d: `M${LEFT} ${y(figure)}h-4` }));
  }
  if (blows !== null && blows < far) {
    node.append(draw("path", { class: "blows", d: `M${x(blows)} ${TOP - 2}V${TALL - BOTTOM}` }),
      draw("text", { class: "blows", x: x(blows) + (x(blows) > WIDE - 90 ? -5 : 5), y: TOP + 8, "text-anchor": x(blows) > WIDE - 90 ? "end" : "start" }, "blows out"));
  }
  let path = "", joined = false;
  for (const mark of marks) {
    const value = mark.row?.value;
    if (typeof value === "number") path += `${joined ? "L" : "M"}${x(mark.speed).toFixed(1)} ${y(value).toFixed(1)}`;
    joined = typeof value === "number";
  }
  node.append(draw("path", { class: "run", d: path }));
  marks.forEach((mark, index) => node.append(...point(mark, x(mark.speed), y, index === chosen)));
  return node;
}

function point(mark: Mark, x: number, y: (value: number) => number, chosen: boolean): SVGElement[] {
  const value = mark.row?.value, low = y(0);
  if (typeof value !== "number") {
    const cross = `M${x - 4} ${low - 12}l8 8M${x + 4} ${low - 12}l-8 8`;
    return [draw("path", { class: `still ${chosen ? "chosen" : ""}`, d: cross })];
  }
  const range = mark.row?.low !== null && mark.row?.high !== null ? `M${x} ${y(mark.row!.low!)}V${y(mark.row!.high!)}m-3 0h6M${x - 3} ${y(mark.row!.low!)}h6` : "";
  const spot = y(value);
  return [draw("path", { class: "range", d: range }),
    draw("path", { class: `dot ${chosen ? "chosen" : ""}`, d: chosen ? `M${x} ${spot - 7}l7 7l-7 7l-7 -7z` : `M${x} ${spot - 4}l4 4l-4 4l-4 -4z` })];
}
