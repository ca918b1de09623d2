// The pictures of a lure in the log: shown small, and taken in from a file or the camera.

import { el, refresh, say } from "./build";
import { Door, take, type Entered, type PhotoTold } from "./shoplog";
import type { Shop } from "./told";

const LARGEST = 40_000_000; // bytes; the workbench takes no more
const KINDS = ".jpg,.jpeg,.png,.webp,image/jpeg,image/png,image/webp";

/** Pictures are made anew for the page by the workbench; what a file is called stands as words. */
export class Photos {
  readonly node = el("section", { class: "photos" });
  private list = el("ul", { class: "pictures", "aria-label": "Photos, the newest first" });
  private said = el("p", { class: "quiet", role: "status" });
  private file = el("input", { id: "photo-file", type: "file", accept: KINDS, change: () => this.door.withdraw() });
  private shows = el("input", { id: "photo-shows", type: "text", autocomplete: "off", maxlength: 400, placeholder: "left side, rigged" });
  private door: Door;
  private lure = 0;

  constructor(shop: () => Shop, done: (entered: Entered) => void) {
    this.door = new Door(shop, (entered) => {
      this.file.value = this.shows.value = "";
      done(entered);
    }, () => this.file.focus());
    const form = el("form", { submit: (event) => { event.preventDefault(); this.enter(); } },
      el("div", { class: "fields" },
        el("div", { class: "field wide" }, el("label", { for: "photo-file" }, "A photo (.jpg, .png, .webp); a copy is kept beside the log"), this.file),
        el("div", { class: "field wide" }, el("label", { for: "photo-shows" }, "What is on it"), this.shows)),
      el("button", { class: "main" }, "Enter the photo"), this.door.node);
    this.node.append(el("details", { class: "group" }, el("summary", {}, el("h3", {}, "Add a photo")), form), this.list, this.said);
  }

  show(lure: number, photos: PhotoTold[]): void {
    if (lure !== this.lure) {
      this.door.withdraw();
      say(this.said, "");
    }
    this.lure = lure;
    refresh(this.list, [lure, photos], () => photos.map((one) => this.item(one)));
  }

  private item(one: PhotoTold): HTMLElement {
    const words = one.shows || one.name;
    const address = `/api/log/picture?entry=${one.number}`;
    const save = el("button", { type: "button", "aria-label": `Save the photo of entry ${one.number}`, click: () => void take("photo", { entry: one.number }, (told) => say(this.said, told)) }, "Save");
    return el("li", {}, one.shown
      ? el("a", { href: address, "aria-label": `Look at ${words}, entry ${one.number}` }, el("img", { src: address, alt: words, loading: "lazy" }))
      : el("p", { class: "no-picture quiet" }, one.there ? "This kind of picture is not shown here." : "The file is gone; a backup may have it."),
      el("p", {}, el("b", {}, `${one.number} `), `${words}, `, el("span", { class: "day quiet" }, one.done)), one.there ? save : null);
  }

  private enter(): void {
    const file = this.file.files?.[0];
    const refuse = (place: string, words: string): void => this.door.refuse({ heading: "nothing was entered", faults: [{ place, words, line: null }] });
    if (!file) return refuse("the photo", "choose a file first");
    if (file.size > LARGEST) return refuse(file.name, "it is larger than 40 MB; save it smaller");
    void this.door.bring("photo", { lure: this.lure, name: file.name, shows: this.shows.value }, file);
  }
}
