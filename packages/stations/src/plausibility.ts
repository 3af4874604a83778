import type { Protocol } from './protocol.ts'

/** What the screen asks before it keeps a value. Keeping is always possible, and nothing is ever clipped. */
export type Question =
  | { kind: 'outsideUsualRange'; min: number; max: number }
  | { kind: 'jumpFromHistory'; nearest: number; by: number }
  /** The digits in another order would be usual: 61.0 for 16.0. */
  | { kind: 'digitsSwapped'; maybe: number }
  /** Between two steps of what can be read or loaded: 45.3 kg on plates of a quarter kilogram. */
  | { kind: 'betweenSteps'; resolution: number }

/**
 * Is this what was meant? All amounts are in the protocol's unit.
 *
 * @param history the student's own earlier amounts at this station
 */
export function plausibility(
  amount: number,
  protocol: Pick<Protocol, 'plausible' | 'askJump' | 'resolution'>,
  history: readonly number[],
): Question[] {
  const { min, max } = protocol.plausible
  const nearest = nearestOf(amount, history)
  const jumps = nearest !== undefined && Math.abs(amount - nearest) > protocol.askJump
  const isOutside = amount < min || amount > max
  const maybe = isOutside || jumps ? swapped(amount).find((other) => isUsual(other, protocol, history)) : undefined
  return [
    ...(isOutside ? [{ kind: 'outsideUsualRange' as const, min, max }] : []),
    ...(jumps ? [{ kind: 'jumpFromHistory' as const, nearest, by: Math.abs(amount - nearest) }] : []),
    ...(maybe === undefined ? [] : [{ kind: 'digitsSwapped' as const, maybe }]),
    ...(amount % protocol.resolution === 0 ? [] : [{ kind: 'betweenSteps' as const, resolution: protocol.resolution }]),
  ]
}

function isUsual(amount: number, protocol: Pick<Protocol, 'plausible' | 'askJump'>, history: readonly number[]): boolean {
  const nearest = nearestOf(amount, history)
  const isNear = nearest === undefined || Math.abs(amount - nearest) <= protocol.askJump
  return amount >= protocol.plausible.min && amount <= protocol.plausible.max && isNear
}

function nearestOf(amount: number, history: readonly number[]): number | undefined {
  const [first, ...rest] = history
  if (first === undefined) return undefined
  return rest.reduce((kept, next) => (Math.abs(next - amount) < Math.abs(kept - amount) ? next : kept), first)
}

/** Every value with two neighbouring digits the other way round. */
function swapped(amount: number): number[] {
  const digits = [...String(Math.abs(amount))]
  return digits.slice(1).flatMap((digit, index) => {
    const before = digits[index]
    if (before === undefined || before === digit) return []
    const other = [...digits.slice(0, index), digit, before, ...digits.slice(index + 2)].join('')
    return [Math.sign(amount) * Number(other)]
  })
}
