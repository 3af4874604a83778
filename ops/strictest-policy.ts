import type { HeatPolicy } from '@musterbook/heat/policies'

/** Where several policies are in force, the one that holds earliest governs the site's readings. */
export function strictest(policies: readonly HeatPolicy[]): HeatPolicy | undefined {
  return [...policies].sort((one, other) => raiseCelsius(one) - raiseCelsius(other))[0]
}

const raiseCelsius = ({ raise, unit }: HeatPolicy): number => (unit === 'degF' ? ((raise.tenths - 320) * 5) / 9 : raise.tenths)
