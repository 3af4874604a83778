import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import serialize from 'canonicalize'

const loneSurrogate = /\p{Surrogate}/u

/**
 * The one text of a JSON value (RFC 8785): keys sorted, no spaces, numbers as ECMAScript writes them. A property that is `undefined` is
 * absent. Throws on what JSON cannot say back: NaN, infinities, functions, big integers, lone surrogates, maps, dates, holes in arrays.
 */
export function canonical(value: unknown): string {
  const fault = faultIn(value)
  if (fault !== undefined) throw new TypeError(`the value${fault}`)
  return serialize(value) as string
}

/** SHA-256 of the canonical form, in lower-case hex. */
export function digest(value: unknown): string {
  return digestOfText(canonical(value))
}

/** SHA-256 of a text in UTF-8, in lower-case hex: the digest of a value whose canonical form is already at hand. */
export function digestOfText(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(text)))
}

/** What JSON cannot say in `value`, and where. The path is put together only on the way out: nearly every value is sound. */
function faultIn(value: unknown): string | undefined {
  switch (typeof value) {
    case 'string':
      return loneSurrogate.test(value) ? ' has half of a character pair, which has no canonical form' : undefined
    case 'number':
      return Number.isFinite(value) ? undefined : ` is ${value}, which JSON cannot say`
    case 'boolean':
      return undefined
    case 'object':
      return value === null ? undefined : Array.isArray(value) ? faultInList(value) : faultInObject(value)
    default:
      return ` is a ${typeof value}, which JSON cannot say`
  }
}

function faultInList(list: readonly unknown[]): string | undefined {
  for (let index = 0; index < list.length; index++) {
    const fault = faultIn(list[index])
    if (fault !== undefined) return `[${index}]${fault}`
  }
  return undefined
}

function faultInObject(value: object): string | undefined {
  const kind = Object.prototype.toString.call(value)
  if (kind !== '[object Object]' || 'toJSON' in value) return ` is ${kind}, which JSON would not give back`
  for (const key of Object.keys(value)) {
    const child = (value as Record<string, unknown>)[key]
    const fault = faultIn(key) ?? (child === undefined ? undefined : faultIn(child))
    if (fault !== undefined) return `.${key}${fault}`
  }
  return undefined
}
