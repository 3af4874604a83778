import { randomBytes } from 'node:crypto'
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, renameSync, writeSync } from 'node:fs'
import { dirname } from 'node:path'

/** A key for each owner, in a file beside the key file and outside the data folder. Without its key nothing that was sealed for an owner opens again, in no backup of the data either. */
export interface KeyRing {
  find(owner: string): Buffer | undefined
  /** Durable before it returns: nothing is sealed under a key that a power cut could take. */
  make(owners: readonly string[]): void
  discard(owners: readonly string[]): void
}

export function openKeyRing(file: string): KeyRing {
  if (!existsSync(file)) written(file, 'wx', '')
  const kept = new Map<string, Buffer>(
    readFileSync(file, 'utf8')
      .split('\n')
      .flatMap((line) => {
        const [, owner, key] = /^(\S+) ([0-9a-f]{64})$/.exec(line) ?? []
        return owner && key ? [[owner, Buffer.from(key, 'hex') as Buffer] as const] : []
      }),
  )
  return {
    find: (owner) => kept.get(owner),
    make: (owners) => {
      const fresh = [...new Set(owners)].filter((owner) => !kept.has(owner)).map((owner) => [owner, randomBytes(32) as Buffer] as const)
      if (fresh.length === 0) return
      // A line that a power cut left half written is closed first, so that it spoils no key after it.
      written(file, 'a', `\n${fresh.map(lineOf).join('')}`)
      for (const [owner, key] of fresh) kept.set(owner, key)
    },
    discard: (owners) => {
      for (const owner of owners) kept.delete(owner)
      const beside = `${file}.new`
      written(beside, 'w', [...kept].map(lineOf).join(''))
      renameSync(beside, file)
      const folder = openSync(dirname(file), 'r')
      fsyncSync(folder)
      closeSync(folder)
    },
  }
}

const lineOf = ([owner, key]: readonly [string, Buffer]): string => `${owner} ${key.toString('hex')}\n`

function written(file: string, how: 'a' | 'w' | 'wx', text: string): void {
  const handle = openSync(file, how, 0o600)
  try {
    writeSync(handle, text)
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}
