import { digest } from '@musterbook/evidence/canonical'

/** Everything that one device keeps, as it is carried: each item the very text that the device itself would send. */
export interface Bundle {
  kind: 'musterbook-carried'
  fromDeviceId: string
  deviceName: string
  items: readonly string[]
  sha256: string
}

export const bundleOf = (fromDeviceId: string, deviceName: string, items: readonly object[]): Bundle => {
  const texts = items.map((item) => JSON.stringify(item))
  return { kind: 'musterbook-carried', fromDeviceId, deviceName, items: texts, sha256: digest({ fromDeviceId, items: texts }) }
}

/** Null: it is no such file, or was changed on its way. */
export function readBundle(text: string): Bundle | null {
  try {
    const { kind, fromDeviceId, deviceName, items, sha256 } = JSON.parse(text) as Bundle
    const isOne = kind === 'musterbook-carried' && typeof fromDeviceId === 'string' && Array.isArray(items)
    return isOne && digest({ fromDeviceId, items }) === sha256
      ? { kind, fromDeviceId, deviceName: String(deviceName), items, sha256 }
      : null
  } catch {
    return null
  }
}

/** What one code holds is read from a screen at arm's length. */
const letters = 350
const mark = 'MBC1'

/** The same as a sequence of codes: `MBC1 <of what> <n> <of> <part>`. */
export function codesOf(bundle: Bundle): string[] {
  const text = JSON.stringify(bundle)
  const of = Math.ceil(text.length / letters)
  const name = bundle.sha256.slice(0, 8)
  return Array.from(
    { length: of },
    (_, index) => `${mark} ${name} ${index + 1} ${of} ${text.slice(index * letters, (index + 1) * letters)}`,
  )
}

/** Codes seen so far, in whatever order. Those of another bundle begin anew. */
export interface Seen {
  name: string
  of: number
  parts: ReadonlyMap<number, string>
}

export function withCode(seen: Seen | null, code: string): Seen | null {
  const [, name, n, of, part] = /^MBC1 ([0-9a-f]{8}) (\d{1,4}) (\d{1,4}) ([\s\S]+)$/.exec(code) ?? []
  if (!name || !part) return seen
  const before = seen?.name === name && seen.of === Number(of) ? seen.parts : new Map<number, string>()
  return { name, of: Number(of), parts: new Map(before).set(Number(n), part) }
}

/** Numbers of the codes that were not seen yet. */
export const missingCodes = ({ of, parts }: Seen): number[] =>
  Array.from({ length: of }, (_, index) => index + 1).filter((n) => !parts.has(n))

export const bundleIn = (seen: Seen): Bundle | null =>
  missingCodes(seen).length > 0 ? null : readBundle(Array.from({ length: seen.of }, (_, index) => seen.parts.get(index + 1)).join(''))
