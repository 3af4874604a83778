import type { StreamName } from './ledger.ts'

/**
 * How a stream of ours is called in JetStream. A stream's name there may hold few characters, and a subject is split at its dots, so everything but
 * letters, digits and hyphens is written as `_` and two hex digits. The kind (what stands before the first slash) is a part of the subject of its
 * own: permissions can name it, as in "only testday publishes to musterbook.entry.day.>".
 */
export class Names {
  readonly #space: string

  /** `space` keeps ledgers that share a cluster apart. */
  constructor(space: string) {
    if (!/^[A-Za-z0-9-]+$/.test(space)) throw new RangeError(`a space is letters, digits and hyphens, not "${space}"`)
    this.#space = space
  }

  stream(stream: StreamName): string {
    const name = `${this.#space}_${encode(stream)}`
    if (name.length > 200) throw new RangeError(`the stream name ${stream} is too long for JetStream`)
    return name
  }

  /** The one exact subject that entries of this stream are published on. */
  entries(stream: StreamName): string {
    return `${this.#space}.entry.${encode(kindOf(stream))}.${encode(stream)}`
  }

  /** Where the server repeats each stored entry for those who follow. */
  live(stream: StreamName): string {
    return `${this.#space}.live.${encode(kindOf(stream))}.${encode(stream)}`
  }

  /** The subjects of all streams that may stand under a prefix; the caller still compares names. */
  entriesUnder(prefix: string): string {
    return prefix.includes('/') ? `${this.#space}.entry.${encode(kindOf(prefix))}.*` : `${this.#space}.entry.*.*`
  }

  get allLive(): string {
    return `${this.#space}.live.*.*`
  }

  get probe(): { name: string; subject: string; live: string } {
    return { name: `${this.#space}-probe`, subject: `${this.#space}.probe`, live: `${this.#space}.probed` }
  }

  /** The stream that a JetStream name stands for; undefined when it is none of ours. */
  parse(name: string): StreamName | undefined {
    return name.startsWith(`${this.#space}_`) ? decode(name.slice(this.#space.length + 1)) : undefined
  }

  parseSubject(subject: string): StreamName {
    return decode(subject.slice(subject.lastIndexOf('.') + 1))
  }
}

function kindOf(stream: string): string {
  return stream.split('/', 1)[0]!
}

function encode(text: string): string {
  return text.replace(/[^A-Za-z0-9-]/gu, (character) =>
    [...new TextEncoder().encode(character)].map((byte) => `_${byte.toString(16).padStart(2, '0')}`).join(''),
  )
}

function decode(text: string): string {
  return decodeURIComponent(text.replaceAll('_', '%'))
}
