// Nothing on the desk yet: the designs of the folder, the body forms to start from, or a file from elsewhere.

import { draw, el } from "./build";
import { said } from "./sizes";
import type { Form, Refused, Shelf, Shop } from "./told";

function goTo(file: string): void { location.assign(`/?file=${encodeURIComponent(file)}`); }

function outline(form: Form, longest: number): SVGElement {
  const heights = form.side.filter((_, index) => index % 2 === 1);
  const top = Math.max(...heights), bottom = Math.min(...heights);
  return draw("svg", { viewBox: `-4 ${-top - 6} ${longest + 8} ${top - bottom + 12}`, class: "form-outline", "aria-hidden": "true" },
    draw("g", { transform: "scale(1 -1)" }, draw("polygon", { class: "wood", points: form.side.join(" ") }),
      draw("polygon", { class: "l-visible", points: form.side.join(" ") })));
}

export function start(shelf: Shelf, shop: Shop): HTMLElement {
  const wrong = el("p", { class: "told wrong", role: "alert" });
  const tell = (refused: Refused): void => {
    wrong.textContent = `${refused.heading}: ${refused.faults.map((fault) => `${fault.place}: ${fault.words}`).join("; ")}`;
    wrong.scrollIntoView({ block: "nearest" });
  };
  const longest = Math.max(...shelf.forms.map((form) => form.length));
  return el("main", { class: "start", id: "answers" },
    el("h1", {}, "Gudgeon"),
    el("p", { class: "sentence" }, shelf.designs.length > 0 ? "Take a design from the folder, or begin one." : "Begin a lure: choose a body to start from."),
    wrong,
    shelf.designs.length > 0 ? el("section", {}, el("h2", {}, `In the folder ${shelf.folder}`), el("ul", { class: "designs" },
      ...shelf.designs.map((name) => el("li", {}, el("a", { href: `/?file=${encodeURIComponent(name)}` }, name))))) : null,
    el("section", {}, el("h2", {}, "Bodies to start from"), begin(shelf, shop, longest, tell)),
    el("section", {}, el("h2", {}, "An outline from a picture"), fromPicture(shelf, shop)),
    el("section", {}, el("h2", {}, "A design from elsewhere"), bring(tell)),
    el("section", {}, el("h2", {}, "The shop's log"), el("p", {}, el("a", { href: "/?log", class: "way" }, "Every lure, what it weighed and what it did"))));
}

function begin(shelf: Shelf, shop: Shop, longest: number, tell: (refused: Refused) => void): HTMLElement {
  const forms = shelf.forms.map((form, index) => el("label", { class: "form" },
    el("input", { type: "radio", name: "form", value: form.name, checked: index === 0 }), outline(form, longest),
    el("span", {}, el("strong", {}, form.name), ` ${form.words}. ${said(form.length, shop)} as drawn.`)));
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const given = new FormData(event.target as HTMLFormElement);
    const asked = { file: given.get("file"), form: given.get("form"), length: given.get("length"), units: shop };
    const answer = await fetch("/api/begin", { method: "POST", body: JSON.stringify(asked), headers: { "content-type": "application/json" } });
    const told = (await answer.json()) as { file?: string; refused?: Refused };
    if (told.file) goTo(told.file);
    else if (told.refused) tell(told.refused);
  };
  const example = shop === "metric" ? "240 mm" : "9 1/2 in";
  return el("form", { submit: (event) => void send(event) },
    el("fieldset", { class: "forms" }, el("legend", {}, "Body"), ...forms),
    el("div", { class: "fields" },
      el("div", { class: "field" }, el("label", { for: "new-file" }, "Name of its file"),
        el("input", { id: "new-file", name: "file", required: true, value: "my lure", autocomplete: "off", maxlength: 60 })),
      el("div", { class: "field" }, el("label", { for: "new-length" }, "Length of the body"),
        el("input", { id: "new-length", name: "length", placeholder: `as drawn, or ${example}`, autocomplete: "off" }))),
    el("button", { class: "main" }, "Begin this lure"));
}

function fromPicture(shelf: Shelf, shop: Shop): HTMLElement {
  const open = async (): Promise<void> => {
    const { Tracing } = await import("./tracing");
    node.replaceChildren(new Tracing({ forms: shelf.forms, shop: () => shop, begun: goTo }).node);
    node.querySelector("input")?.focus();
  };
  const node = el("div", {}, el("button", { type: "button", click: () => void open() }, "Trace a photo or a drawing"));
  return node;
}

function bring(tell: (refused: Refused) => void): HTMLElement {
  const chosen = async (event: Event): Promise<void> => {
    const file = (event.target as HTMLInputElement).files?.[0];
    if (!file) return;
    const answer = await fetch(`/api/bring?file=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
    const told = (await answer.json()) as { file?: string; refused?: Refused };
    if (told.file) goTo(told.file);
    else if (told.refused) tell(told.refused);
  };
  return el("div", { class: "field" }, el("label", { for: "bring" }, "A design file (.toml); it is copied into the folder"),
    el("input", { id: "bring", type: "file", accept: ".toml", change: (event) => void chosen(event) }));
}
