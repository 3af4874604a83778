/**
 * Why what was got is not what was expected, or nothing when it is.
 *
 * A number may be off by the tolerance and by no more than the last bits of a binary double beside it, so that 9.144
 * and 30 times 0.3048 are the same number. Text, booleans and null must be the same; spaces in a label do not decide.
 * Where both sides carry a unit it must be the same.
 */
export function miss(expected: unknown, got: unknown, tolerance: number | 'exact'): string | undefined {
  if (isQuantity(expected)) {
    if (!isQuantity(got)) return miss(expected.value, got, tolerance)
    if (got.unit !== expected.unit) return `unit ${got.unit} is not ${expected.unit}`
    return miss(expected.value, got.value, tolerance)
  }
  if (isQuantity(got)) return miss(expected, got.value, tolerance)
  if (typeof expected === 'number') return missNumber(expected, got, tolerance === 'exact' ? 0 : tolerance)
  if (typeof expected === 'string') return typeof got === 'string' && squeezed(got) === squeezed(expected) ? undefined : 'other text'
  if (Array.isArray(expected)) {
    if (!Array.isArray(got) || got.length !== expected.length) return 'not a list of that length'
    return expected.map((value, index) => miss(value, got[index], tolerance)).find((why) => why !== undefined)
  }
  if (isRecord(expected)) {
    if (!isRecord(got)) return 'not a record'
    return Object.keys({ ...expected, ...got })
      .map((name) => miss(expected[name], got[name], tolerance) && `${name}: ${miss(expected[name], got[name], tolerance)}`)
      .find((why) => why !== undefined)
  }
  return Object.is(expected, got) ? undefined : 'not the same'
}

function missNumber(expected: number, got: unknown, tolerance: number): string | undefined {
  if (typeof got !== 'number' || !Number.isFinite(got)) return 'not a number'
  const lastBits = 4 * Number.EPSILON * Math.max(Math.abs(expected), Math.abs(got))
  return Math.abs(got - expected) <= tolerance + lastBits ? undefined : `off by ${Math.abs(got - expected)}`
}

const squeezed = (label: string) => label.replaceAll(/\s+/g, '')

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function isQuantity(value: unknown): value is { value: unknown; unit: string } {
  return isRecord(value) && 'value' in value && typeof value['unit'] === 'string'
}
