/** Maps a stretch of values to a stretch of the drawing, straight. A stretch of nothing maps to its start. */
export function scale([from, to]: readonly [number, number], [start, end]: readonly [number, number]): (value: number) => number {
  const span = to - from
  return (value) => Math.round((span === 0 ? start : start + ((value - from) / span) * (end - start)) * 10) / 10
}

/** Round values that enclose a stretch, about `wanted` of them: steps of 1, 2 or 5 times a power of ten. */
export function ticks(from: number, to: number, wanted: number): number[] {
  const rough = Math.max((to - from) / wanted, 1e-9)
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = ([1, 2, 5].find((times) => times * power >= rough) ?? 10) * power
  const first = Math.floor(from / step)
  const count = Math.max(1, Math.ceil(to / step) - first)
  return Array.from({ length: count + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)))
}
