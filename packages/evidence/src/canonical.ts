import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import serialize from 'canonicalize'

const loneSurrogate = /\p{Surrogate}/u

/**
 * The one text of a JSON value (RFC 8785): keys sorted, no spaces, numbers as ECMAScript writes them. A property that is `undefined` is
 * absent. Throws on what JSON cannot say back: NaN, infinities, functions, big integers, lone surrogates, maps, dates, holes in arrays.
 */
export function canonical(value: unknown): string {
  assertJson(value, '$')
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

function assertJson(value: unknown, path: string): void {
  switch (typeof value) {
    case 'string':
      if (loneSurrogate.test(value)) throw new TypeError(`${path} has half of a character pair, which has no canonical form`)
      return
    case 'number':
      if (!Number.isFinite(value)) throw new TypeError(`${path} is ${value}, which JSON cannot say`)
      return
    case 'boolean':
      return
    case 'object':
      if (value !== null) assertJsonObject(value, path)
      return
    default:
      throw new TypeError(`${path} is a ${typeof value}, which JSON cannot say`)
  }
}

function assertJsonObject(value: object, path: string): void {
  if (Array.isArray(value)) {
    for (let index = 0; index < value.length; index++) assertJson(value[index], `${path}[${index}]`)
    return
  }
  if (Object.prototype.toString.call(value) !== '[object Object]' || 'toJSON' in value) {
    throw new TypeError(`${path} is ${Object.prototype.toString.call(value)}, which JSON would not give back`)
  }
  for (const key in value) {
    assertJson(key, `a key of ${path}`)
    const child = (value as Record<string, unknown>)[key]
    if (child !== undefined) assertJson(child, `${path}.${key}`)
  }
}
