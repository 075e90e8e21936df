// Which of several things on a drawing lies nearest in a direction: what arrow keys go to. Screen places only.

/** A place on a drawing, pixels. */
export interface Spot {
  x: number
  y: number
}

const WAYS: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }

/** The index of the nearest that lies ahead, what is aside counted threefold; -1 where nothing does. */
export function nearest(from: Spot, all: readonly Spot[], key: string): number {
  const way = WAYS[key]
  if (!way) return -1
  let best = -1
  let least = Infinity
  all.forEach((to, index) => {
    const [dx, dy] = [to.x - from.x, to.y - from.y]
    const ahead = dx * way[0] + dy * way[1]
    const aside = Math.abs(dx * way[1]) + Math.abs(dy * way[0])
    const far = ahead + 3 * aside
    if (ahead > 1 && far < least) {
      least = far
      best = index
    }
  })
  return best
}
