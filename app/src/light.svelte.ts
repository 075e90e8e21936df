// Light or dark: as the system has it, until the builder says otherwise.

const KEPT = "dryfit-light";

class Light {
  wanted = $state<"light" | "dark" | null>(null);

  constructor() {
    try {
      const kept = localStorage.getItem(KEPT);
      if (kept === "light" || kept === "dark") this.set(kept);
    } catch {
      // a browser that keeps nothing still shows everything
    }
  }

  get dark(): boolean {
    return this.wanted ? this.wanted === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
  }

  get says(): string {
    return this.dark ? "Light" : "Dark";
  }

  turn(): void {
    this.set(this.dark ? "light" : "dark");
    try {
      localStorage.setItem(KEPT, this.wanted ?? "");
    } catch {
      // as above
    }
  }

  private set(wanted: "light" | "dark"): void {
    this.wanted = wanted;
    document.documentElement.dataset["light"] = wanted;
  }
}

export const light = new Light();
