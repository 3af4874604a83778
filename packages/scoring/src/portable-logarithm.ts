/**
 * The natural logarithm from + − × ÷ alone, which every engine computes to the same last bit, so that a score that needs
 * it is the same score on every machine. The number is halved or doubled into [0.7, 1.4), then summed as 2·artanh.
 *
 * @throws RangeError unless the number is positive and finite
 */
export function portableLog(value: number): number {
  if (!(value > 0 && value < Infinity)) throw new RangeError(`no logarithm of ${value}`)
  let rest = value
  let doublings = 0
  while (rest >= 1.4) {
    rest /= 2
    doublings += 1
  }
  while (rest < 0.7) {
    rest *= 2
    doublings -= 1
  }
  const ratio = (rest - 1) / (rest + 1)
  let term = ratio
  let sum = 0
  for (let odd = 1; odd < 40; odd += 2) {
    sum += term / odd
    term *= ratio * ratio
  }
  return 2 * sum + doublings * Math.LN2
}

export const portableLog10 = (value: number): number => portableLog(value) / Math.LN10
