import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'

/**
 * The one text of a JSON value (RFC 8785): keys sorted by their UTF-16 units, no spaces, numbers as ECMAScript writes them. A property that is
 * `undefined` is absent. Throws on what JSON cannot say back: NaN, infinities, functions, big integers, lone surrogates, maps, dates, holes in
 * arrays. Code of our own because every append, every command and every check asks for it: one pass looks and writes.
 */
export function canonical(value: unknown): string {
  try {
    return textOf(value)
  } catch (error) {
    throw error instanceof Unsayable ? new TypeError(`the value${error.message}`) : error
  }
}

/** SHA-256 of the canonical form, in lower-case hex. */
export function digest(value: unknown): string {
  return digestOfText(canonical(value))
}

/** SHA-256 of a text in UTF-8, in lower-case hex: the digest of a value whose canonical form is already at hand. */
export function digestOfText(text: string): string {
  return digestOfBytes(utf8ToBytes(text))
}

/** SHA-256 of bytes as they are, in lower-case hex. */
export const digestOfBytes = (bytes: Uint8Array): string => bytesToHex(sha256(bytes))

/** What JSON cannot say, and where. The path is put together only on the way out: nearly every value is sound. */
class Unsayable extends Error {}

function textOf(value: unknown): string {
  switch (typeof value) {
    case 'string':
      return textOfString(value)
    case 'number':
      if (!Number.isFinite(value)) throw new Unsayable(` is ${value}, which JSON cannot say`)
      return String(value)
    case 'boolean':
      return value ? 'true' : 'false'
    case 'object':
      return value === null ? 'null' : Array.isArray(value) ? textOfList(value) : textOfObject(value)
    default:
      throw new Unsayable(` is a ${typeof value}, which JSON cannot say`)
  }
}

/** What JSON writes otherwise than it stands. */
const written = /["\\\u0000-\u001f\ud800-\udfff]/
const loneSurrogate = /\p{Surrogate}/u

function textOfString(text: string): string {
  if (!written.test(text)) return `"${text}"`
  if (loneSurrogate.test(text)) throw new Unsayable(' has half of a character pair, which has no canonical form')
  return JSON.stringify(text)
}

function textOfList(list: readonly unknown[]): string {
  let text = ''
  let index = 0
  try {
    // By number: a hole is a fault too.
    for (; index < list.length; index++) text += `${index === 0 ? '' : ','}${textOf(list[index])}`
  } catch (error) {
    throw within(error, `[${index}]`)
  }
  return `[${text}]`
}

function textOfObject(object: object): string {
  if (!isPlain(object)) throw new Unsayable(` is ${Object.prototype.toString.call(object)}, which JSON would not give back`)
  let text = ''
  let key = ''
  try {
    for (key of sorted(Object.keys(object))) {
      const name = textOfString(key)
      const child = (object as Record<string, unknown>)[key]
      if (child !== undefined) text += `${text === '' ? '' : ','}${name}:${textOf(child)}`
    }
  } catch (error) {
    throw within(error, `.${key}`)
  }
  return `{${text}}`
}

function isPlain(object: object): boolean {
  if ('toJSON' in object) return false
  const isSimple = Object.getPrototypeOf(object) === Object.prototype && !(Symbol.toStringTag in object)
  return isSimple || Object.prototype.toString.call(object) === '[object Object]'
}

/** In place, by UTF-16 units as `<` compares them: the few keys of an event stand in order sooner so than by the general sort. */
function sorted(keys: string[]): string[] {
  if (keys.length > 16) return keys.sort()
  for (let from = 1; from < keys.length; from++) {
    const key = keys[from]!
    let to = from
    for (; to > 0 && keys[to - 1]! > key; to--) keys[to] = keys[to - 1]!
    keys[to] = key
  }
  return keys
}

const within = (error: unknown, where: string): unknown => (error instanceof Unsayable ? new Unsayable(`${where}${error.message}`) : error)
