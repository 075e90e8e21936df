// The job that is open, and what of it is looked at. One place, so that every part of the page sees the same.
import * as ask from "./ask";
import type { Changed, Frame, Held, Wish } from "./wire";

/** A number that was opened: typed in place, or unfolded to its reason. */
export interface Opened {
  held: Held;
  /** What to begin typing with. */
  typed: string;
  how: "typing" | "slip";
}

class Job {
  frame = $state<Frame | null>(null);
  page = $state("survey");
  views = $state<Record<string, string>>({});
  /** A moment of the history that is looked at, read-only. */
  past = $state<number | null>(null);
  opened = $state<Opened | null>(null);
  changed = $state<Changed | null>(null);
  /** What the server refused last, in its words. */
  refused = $state("");
  /** Said once to those who hear the page. */
  said = $state("");
  working = $state(false);

  get view(): string {
    return this.views[this.page] ?? "";
  }

  look(page: string, view?: string): void {
    this.opened = null;
    this.page = page;
    if (view !== undefined) this.views[page] = view;
    const address = `#${page}${this.view ? `/${this.view}` : ""}`;
    if (location.hash !== address) history.pushState(null, "", address);
  }

  /** What the address bar says. */
  follow(): void {
    const [page, ...view] = decodeURIComponent(location.hash.slice(1)).split("/");
    if (!page) return;
    this.opened = null;
    this.page = page;
    this.views[page] = view.join("/");
  }

  show(frame: Frame | null): void {
    this.frame = frame;
    this.past = null;
    this.opened = null;
    this.changed = null;
    this.refused = "";
  }

  /** Press a number: what was given is typed in place, what follows unfolds. */
  press(held: Held, typed?: string): void {
    const given = held.state !== "follows" && held.at !== null && this.past === null;
    if (!given && held.of === "") return;
    this.refused = "";
    this.opened = { held, typed: typed ?? held.typed, how: given ? "typing" : "slip" };
  }

  fold(): void {
    this.opened = null;
    this.refused = "";
  }

  /** Grants a wish; throws only what is about the typed text, everything else is said. */
  async wish(wish: Wish): Promise<boolean> {
    if (!this.frame || this.working) return false;
    this.working = true;
    this.refused = "";
    try {
      const done = await ask.grant(wish, this.frame.moment);
      this.frame = done.frame;
      this.changed = done.changed;
      this.said = done.changed.said;
      this.opened = null;
      return true;
    } catch (fault) {
      if (!(fault instanceof ask.Refused)) throw fault;
      if (fault.stale) this.frame = await ask.frame();
      this.refused = fault.says;
      this.said = fault.says;
      return false;
    } finally {
      this.working = false;
    }
  }

  async undo(): Promise<void> {
    if (this.frame?.undo != null) await this.wish("undo");
  }

  async redo(): Promise<void> {
    if (this.frame?.redo != null) await this.wish("redo");
  }
}

export const job = new Job();
