// Going from finding to finding by the keyboard.

/** Puts the focus on the next finding of the page, or on the one before. */
export function nextFinding(backwards: boolean): void {
  const all = [...document.querySelectorAll<HTMLElement>("[data-finding]")];
  if (all.length === 0) return;
  const here = all.findIndex((one) => one.contains(document.activeElement));
  const step = backwards ? -1 : 1;
  const next = here < 0 ? (backwards ? all.length - 1 : 0) : (here + step + all.length) % all.length;
  all[next]?.focus();
}
