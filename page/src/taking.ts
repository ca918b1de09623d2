// What is taken away: papers, files for machines, the design; and the design's own text to change by hand.

import { el } from "./build";
import { field } from "./typed";
import type { Act, Answer, Refused, Shape, Shop } from "./told";

export interface TakingBench {
  file: string;
  shop(): Shop;
  refused(refused: Refused): void;
  said(words: string): void;
  write(text: string): void;
  length(): string; // of the body, as it is written
  take(words: string, acts: Act[]): void;
}

async function take(bench: TakingBench, what: string, asked: Record<string, string>): Promise<void> {
  const query = new URLSearchParams({ ...asked, file: bench.file, units: bench.shop() });
  bench.said("Being made.");
  const answer = await fetch(`/api/take/${what}?${query}`);
  if (!answer.ok) {
    bench.said("");
    bench.refused(((await answer.json()) as { refused: Refused }).refused);
    return;
  }
  const name = decodeURIComponent(/filename\*=UTF-8''(.+)$/.exec(answer.headers.get("content-disposition") ?? "")?.[1] ?? "lure");
  const address = URL.createObjectURL(await answer.blob());
  const link = el("a", { href: address, download: name });
  link.click();
  window.setTimeout(() => URL.revokeObjectURL(address), 60_000);
  bench.said(`${name} is made.`);
}

const value = (id: string): string => (document.getElementById(id) as HTMLInputElement | HTMLSelectElement | null)?.value ?? "";

export class Taking {
  readonly node = el("div", { class: "taking" });
  private text = el("textarea", { id: "design-text", spellcheck: "false", rows: 24, "aria-label": "The design file's text" });
  private shown = "";
  private pieces = "";
  private files = el("div", {});
  private picture = el("div", {}, el("button", { type: "button", click: () => void this.fromPicture() }, "Trace a photo or a drawing"));

  constructor(private bench: TakingBench) {
    this.node.append(
      el("p", { class: "sentence" }, "Print at 100 %, then measure the 100 mm bar before anything is cut."),
      el("h3", {}, "Papers at true size"),
      el("div", { class: "fields" }, field("paper", "A4", { choices: ["A4", "Letter"], id: "paper" }, () => undefined),
        field("the 100 mm bar, as printed", "", { hint: "if not 100 mm", id: "bar" }, () => undefined)),
      el("button", { class: "main", type: "button", click: () => void take(bench, "sheets", { paper: value("paper") || "A4", bar: value("bar") }) },
        "Save the papers (PDF)"),
      this.files,
      el("h3", {}, "An outline from a picture"), this.picture,
      el("h3", {}, "The design"),
      el("p", { class: "quiet" }, "The file holds every key there is; what the drawing does not offer is changed here."),
      el("button", { type: "button", click: () => void take(bench, "design", {}) }, "Save a copy of the design"),
      el("details", { class: "text" }, el("summary", {}, el("h3", {}, "Its text, to change by hand")), this.text,
        el("button", { type: "button", click: () => bench.write(this.text.value) }, "Put this text on the desk")),
    );
  }

  show(shape: Shape | null, answer: Answer | null): void {
    if (shape && shape.text !== this.shown && document.activeElement !== this.text) {
      this.text.value = shape.text;
      this.shown = shape.text;
    }
    const names = (answer?.places?.water.sections ?? []).length > 0 ? pieceNames(shape) : [];
    if (names.join() === this.pieces && this.files.childElementCount > 0) return;
    this.pieces = names.join();
    this.files.replaceChildren(
      el("h3", {}, "For machines"),
      el("div", { class: "fields" },
        field("kind of file", "svg", { choices: ["svg", "dxf", "stl", "3mf", "step"], id: "kind" }, () => undefined),
        field("piece (solids)", "", { choices: names, id: "piece" }, () => undefined),
        field("with the coats on (solids)", "no", { choices: ["no", "yes"], id: "finished" }, () => undefined)),
      el("button", { type: "button", click: () => void take(this.bench, "export",
        { kind: value("kind") || "svg", piece: value("piece"), finished: value("finished") }) }, "Save the file"));
  }

  private async fromPicture(): Promise<void> {
    const { Tracing } = await import("./tracing");
    const { bench } = this;
    this.picture.replaceChildren(new Tracing({ forms: [], shop: () => bench.shop(), length: () => bench.length(), take: (words, acts) => bench.take(words, acts) }).node);
    this.picture.querySelector("input")?.focus();
  }

  open(): void { this.node.querySelector("details.text")?.setAttribute("open", ""); }
}

function pieceNames(shape: Shape | null): string[] {
  const named = shape?.written["segments"];
  if (Array.isArray(named)) return named.map(String);
  const joints = shape?.written["joint"];
  const count = (Array.isArray(joints) ? joints.length : 0) + 1;
  if (count === 1) return ["body"];
  return ["head", ...Array.from({ length: count - 2 }, (_, index) => `middle ${index + 1}`), "tail"];
}
