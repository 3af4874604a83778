import { createCipheriv, createDecipheriv, createHmac, hkdfSync, randomBytes } from 'node:crypto'
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, realpathSync, writeSync } from 'node:fs'
import { dirname, relative, resolve, sep } from 'node:path'
import { type KeyRing, openKeyRing } from './key-ring.ts'

/** One key file, from which each use has a key of its own. The file lies outside the data folder, so that a copied folder opens nothing. */
export interface Keys {
  /** AES-256-GCM. `place` is bound in: a sealed value moved to another place does not open. */
  seal(use: SealUse, place: string, text: string): Buffer
  /** Throws when the key is another one, or the value or its place was changed. */
  open(use: SealUse, place: string, sealed: Uint8Array): string
  /** The same under the owner’s own key, which `makeOwn` made: what is sealed for an owner opens no more once that key is discarded. */
  sealFor(owner: string, place: string, text: string): Buffer
  /** null: the owner’s key is gone. */
  openFor(owner: string, place: string, sealed: Uint8Array): string | null
  makeOwn(owners: readonly string[]): void
  hasOwn(owner: string): boolean
  discardOwn(owners: readonly string[]): void
  /** A keyed digest, lower-case hex: nobody without the key can find the value by trying. */
  mark(use: MarkUse, value: string): string
}
/** `medical` opens what an older folder holds; nothing is sealed under it any more. */
type SealUse = 'text' | 'medical'
type MarkUse = 'pin' | 'command' | 'secret' | 'medicalIndex' | 'check' | 'studentCode'

/** Reads the key file, or makes it where there is none yet. Throws with a sentence when it lies in the data folder or is no key. */
export function openKeys(keyFile: string, dataFolder: string): Keys {
  assertOutside(keyFile, dataFolder)
  if (!existsSync(keyFile)) makeKeyFile(keyFile)
  const text = readFileSync(keyFile, 'utf8').trim()
  if (!/^[0-9a-f]{64}$/.test(text)) throw new Error(`${keyFile} is not a key file: it should hold 64 hexadecimal digits and nothing else`)
  return keysFrom(Buffer.from(text, 'hex'), openKeyRing(`${keyFile}.ring`))
}

function assertOutside(keyFile: string, dataFolder: string): void {
  const folder = realpathSync(dataFolder)
  const file = resolve(realpathSync(dirname(resolve(keyFile))), resolve(keyFile).split(sep).at(-1) ?? '')
  const way = relative(folder, existsSync(file) ? realpathSync(file) : file)
  if (way !== '' && (way === '..' || way.startsWith(`..${sep}`) || resolve(way) === way)) return
  throw new Error(`the key file must lie outside the data folder: whoever copies ${folder} would have the key as well`)
}

function makeKeyFile(keyFile: string): void {
  const handle = openSync(keyFile, 'wx', 0o600)
  try {
    writeSync(handle, `${randomBytes(32).toString('hex')}\n`)
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}

function keysFrom(root: Buffer, ring: KeyRing): Keys {
  const derived = new Map<string, Buffer>()
  const keyFor = (use: string): Buffer => {
    const known = derived.get(use) ?? Buffer.from(hkdfSync('sha256', root, Buffer.alloc(0), `musterbook office ${use}`, 32))
    derived.set(use, known)
    return known
  }
  // Both files are needed: the ring alone opens nothing.
  const own = new Map<string, Buffer>()
  const ownKey = (owner: string): Buffer | undefined => {
    const ringKey = ring.find(owner)
    if (!ringKey) return undefined
    const known = own.get(owner) ?? Buffer.from(hkdfSync('sha256', ringKey, root, `musterbook office own ${owner}`, 32))
    own.set(owner, known)
    return known
  }
  return {
    seal: (use, place, text) => sealed(keyFor(`seal ${use}`), place, text),
    open: (use, place, bytes) => opened(keyFor(`seal ${use}`), place, bytes),
    sealFor: (owner, place, text) => {
      const key = ownKey(owner)
      if (!key) throw new Error(`there is no key for ${owner}: it was discarded, or never made`)
      return sealed(key, place, text)
    },
    openFor: (owner, place, bytes) => {
      const key = ownKey(owner)
      return key ? opened(key, place, bytes) : null
    },
    makeOwn: ring.make,
    hasOwn: (owner) => ring.find(owner) !== undefined,
    discardOwn: (owners) => {
      ring.discard(owners)
      for (const owner of owners) own.delete(owner)
    },
    mark: (use, value) =>
      createHmac('sha256', keyFor(`mark ${use}`))
        .update(value, 'utf8')
        .digest('hex'),
  }
}

function sealed(key: Buffer, place: string, text: string): Buffer {
  const nonce = randomBytes(12)
  const cipher = createCipheriv('aes-256-gcm', key, nonce).setAAD(Buffer.from(place, 'utf8'))
  return Buffer.concat([nonce, cipher.update(text, 'utf8'), cipher.final(), cipher.getAuthTag()])
}

function opened(key: Buffer, place: string, from: Uint8Array): string {
  const bytes = Buffer.from(from)
  const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, 12), { authTagLength: 16 })
  decipher.setAAD(Buffer.from(place, 'utf8')).setAuthTag(bytes.subarray(-16))
  return Buffer.concat([decipher.update(bytes.subarray(12, -16)), decipher.final()]).toString('utf8')
}
