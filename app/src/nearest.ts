// Which of the things on a drawing lies nearest in the direction of an arrow key. Pixels only.

export interface Spot {
  x: number;
  y: number;
}

export type Arrow = "ArrowLeft" | "ArrowRight" | "ArrowUp" | "ArrowDown";

/** Straying to the side counts so many times as much as going on. */
const ASIDE = 2.5;

/** The index of the spot to go to from `from`; none where nothing lies that way. */
export function nearest(spots: readonly Spot[], from: number, arrow: Arrow): number | null {
  const here = spots[from];
  if (!here) return spots.length > 0 ? 0 : null;
  const across = arrow === "ArrowLeft" || arrow === "ArrowRight";
  const sign = arrow === "ArrowRight" || arrow === "ArrowDown" ? 1 : -1;
  let best: number | null = null;
  let least = Infinity;
  spots.forEach((spot, index) => {
    const on = sign * (across ? spot.x - here.x : spot.y - here.y);
    const aside = Math.abs(across ? spot.y - here.y : spot.x - here.x);
    const far = on + ASIDE * aside;
    if (index !== from && on > 1 && far < least) [best, least] = [index, far];
  });
  return best;
}
