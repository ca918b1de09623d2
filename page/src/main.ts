// Begins with what the address asks for: a design on the desk, or the folder to choose from.

import { el } from "./build";
import { Desk } from "./desk";
import { logbook } from "./logbook";
import { start } from "./start";
import type { Shelf, Shop } from "./told";

async function begin(): Promise<void> {
  const page = document.getElementById("page")!;
  const theme = localStorage.getItem("gudgeon paper");
  if (theme) document.documentElement.dataset["theme"] = theme;
  const shop: Shop = localStorage.getItem("gudgeon units") === "inch" ? "inch" : "metric";
  const asked = new URLSearchParams(location.search);
  const log = asked.get("log");
  if (log !== null) {
    page.replaceChildren(logbook(log, shop));
    return;
  }
  const answer = await fetch("/api/shelf");
  const shelf = (await answer.json()) as Shelf;
  const file = asked.get("file");
  page.replaceChildren(file ? new Desk(file, shelf, shop).node : start(shelf, shop));
}

begin().catch((error: unknown) => {
  document.getElementById("page")!.replaceChildren(el("main", { class: "start" },
    el("p", { class: "told wrong", role: "alert" }, `The page could not be opened: ${String(error)}. Is the workbench still running?`)));
});
