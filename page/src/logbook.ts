// The shop's log, to look into: its lures with how far each has come, one lure whole, whose a stamp is, what is taken away.

import { el, refresh, say } from "./build";
import { ask, purpose, Door, Entries, type FoundTold, type LuresTold, type LureTold, type NoLog, sentence, showSections, type SumsTold, take, type Wrong } from "./shoplog";
import { making } from "./making";
import { Photos } from "./photos";
import { runAddress, runName, runPage, runs } from "./runs";
import type { Shop } from "./told";

const toLure = (number: number): HTMLElement => el("a", { href: `/?log=${number}`, class: "number" }, `Lure ${number}`);
const NAME = "The shop's log";

/** The page of the log, or of one lure of it. */
export function logbook(asked: string, shop: Shop): HTMLElement {
  const main = el("main", { class: "start logbook", id: "answers" });
  const number = /^[1-9]\d{0,14}$/.test(asked) ? Number(asked) : null;
  document.title = `${asked === "made" ? "Boards and stock" : number === null ? NAME : `Lure ${number}`} - Gudgeon`;
  main.append(el("p", { class: "ways" }, el("a", { href: "/" }, "Designs"), number === null && asked !== "run" && asked !== "made" ? null : el("a", { href: "/?log" }, NAME)));
  if (asked === "run") void runPage(main, new URLSearchParams(location.search), shop, toLure);
  else if (asked === "made") void making(main, shop, refusal);
  else void (number === null ? lures(main, shop) : lure(main, number, shop));
  return main;
}

function refusal(told: Wrong | NoLog): string {
  return "refused" in told ? sentence(told.refused) : purpose(told.folder);
}

async function lures(main: HTMLElement, shop: Shop): Promise<void> {
  const told = await ask<LuresTold>("lures", { units: shop });
  main.append(el("h1", {}, NAME));
  if (!("there" in told) || !told.there) {
    const door = new Door(() => shop, () => location.reload(), () => undefined);
    main.append(el("p", { class: "sentence" }, "refused" in told ? "The log cannot be used now." : "There is no log yet."), el("p", {}, refusal(told)));
    if ("there" in told) main.append(el("button", { type: "button", class: "main", click: () => void door.send("start", {}) }, "Begin the log"), door.node);
    return;
  }
  const list = el("ol", { class: "lures", "aria-label": "Lures, the newest first" });
  const more = el("button", { type: "button", click: () => void older() }, "Older ones");
  const said = el("p", { class: "quiet", role: "status" });
  const fill = (one: LuresTold): void => {
    list.append(...one.lures.map((line) => el("li", {}, toLure(line.number), el("p", {}, line.words), el("p", { class: "quiet" }, `last: ${line.last}`))));
    more.hidden = !one.more;
  };
  let lowest = told.lures.at(-1)?.number ?? 0;
  const older = async (): Promise<void> => {
    const next = await ask<LuresTold>("lures", { units: shop, before: lowest });
    if (!("there" in next) || !next.there) return say(said, refusal(next));
    lowest = next.lures.at(-1)?.number ?? lowest;
    fill(next);
  };
  fill(told);
  const ofRuns = el("section", {});
  void runs(ofRuns, shop);
  main.append(el("p", { class: "sentence" }, told.headline),
    told.lures.length === 0 ? el("p", {}, "A lure is begun at the bench: open its design, go to Bench, and choose what to weigh.") : "",
    el("p", {}, el("a", { href: "/?log=made", class: "way" }, "Boards and stock that lures are made of")), find(shop), ofRuns, el("section", {}, el("h2", {}, "Lures"), list), more, said,
    el("section", {}, el("h2", {}, "Kept safe"), el("p", { class: "quiet" }, "The log and its pictures in one file. In the terminal, gudgeon log restore makes a shop of it again."),
      el("div", {}, el("button", { type: "button", click: () => void take("backup", {}, (words) => say(said, words)) }, "Save a backup (ZIP)"))));
}

function find(shop: Shop): HTMLElement {
  const stamp = el("input", { id: "stamp", type: "text", autocomplete: "off", spellcheck: "false", maxlength: 64, placeholder: "as at the foot of a sheet" });
  const found = el("div", { class: "found", role: "status" });
  const look = async (): Promise<void> => {
    const told = await ask<FoundTold>("find", { stamp: stamp.value.trim(), units: shop });
    if (!("there" in told) || !told.there) return found.replaceChildren(el("p", {}, refusal(told)));
    const said = el("p", { class: "quiet" });
    found.replaceChildren(el("p", {}, told.headline), ...told.found.map((one) => el("div", {}, el("p", {}, `${one.stamp}: ${one.words}`),
      el("p", { class: "links" }, ...one.lures.slice(0, 60).map(toLure)),
      el("button", { type: "button", click: () => void take("pattern", { stamp: one.stamp }, (words) => say(said, words)) }, `Save the design ${one.stamp}`))), said);
  };
  return el("form", { class: "find", submit: (event) => { event.preventDefault(); void look(); } },
    el("div", { class: "field" }, el("label", { for: "stamp" }, "Whose is a design's stamp?"), stamp), el("button", {}, "Find it"), found);
}

async function lure(main: HTMLElement, number: number, shop: Shop): Promise<void> {
  const said = el("p", { class: "entered", role: "status" });
  const head = el("p", { class: "sentence" });
  const run = el("p", {});
  const next = el("p", {}), trouble = el("p", { class: "quiet" }), sections = el("div", { class: "sections" });
  const entries = new Entries(() => shop, (entered) => { say(said, entered.words); void load(); });
  const photos = new Photos(() => shop, () => void load());
  let filled = false;
  const sums = el("div", { class: "sections" });
  const sum = async (): Promise<void> => {
    sums.hidden = true;
    const told = await ask<SumsTold>("sums", { number, units: shop });
    const known = "there" in told && told.there;
    say(trouble, known ? told.trouble : "refused" in told ? sentence(told.refused) : "");
    sums.hidden = !known;
    if (known) showSections(sums, told.sections);
  };
  const load = async (): Promise<void> => {
    const told = await ask<LureTold>("lure", { number, units: shop });
    if (!("there" in told) || !told.there) {
      say(head, `Lure ${number} cannot be shown.`);
      return say(trouble, refusal(told));
    }
    say(head, told.headline);
    say(next, told.next);
    refresh(run, [told.pattern, told.version, told.run], () => [el("a", { href: runAddress(told), class: "way" }, `How far ${runName(told)} has come`)]);
    showSections(sections, told.sections);
    void sum();
    for (const one of filled ? [] : sections.querySelectorAll("details")) one.open = true;
    filled = true;
    photos.show(number, told.photos);
    entries.show(told.entries);
  };
  const paper = el("select", { id: "card-paper" }, ...["A4", "Letter"].map((name) => el("option", { value: name }, name)));
  await load();
  main.append(el("h1", {}, `Lure ${number}`), head);
  if (!filled) return main.append(trouble);
  main.append(next, run, trouble, el("div", { class: "find" }, el("div", { class: "field" }, el("label", { for: "card-paper" }, "Paper"), paper),
    el("button", { type: "button", class: "main", click: () => void take("card", { number, units: shop, paper: paper.value }, (words) => say(said, words)) },
      "Save its record card (PDF)")), said, photos.node, sums, sections,
    el("section", {}, el("h2", {}, "Every entry, the newest first"), entries.node));
}
