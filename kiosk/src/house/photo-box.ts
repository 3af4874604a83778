import { signal, type ReadonlySignal } from '@preact/signals'
import { openDB } from 'idb'
import { digestOfBytes } from '@musterbook/evidence/canonical'

/** Longest side and most bytes of a picture that is kept as evidence: the digits of a display stay readable. */
const longestSide = 1_280
const mostBytes = 300_000
const again = 10_000

const waiting = signal(0)
const counted = signal(false)
/** Pictures that are on this tablet alone. */
export const unsentPhotos: ReadonlySignal<number> = waiting
/** They have been counted since this page opened. */
export const photosCounted: ReadonlySignal<boolean> = counted

// A browser may refuse by throwing at once: whoever asks hears of it, and the screen stands.
const openBox = async () => openDB('musterbook-photos', 1, { upgrade: (db) => void db.createObjectStore('photo') })
const database = openBox()

/** Keeps a picture here under the digest of its bytes, then sends it. The digest goes into the result at once. */
export async function keepPhoto(file: Blob): Promise<string> {
  const picture = await smaller(file)
  const bytes = new Uint8Array(await picture.arrayBuffer())
  const photoDigest = digestOfBytes(bytes)
  await (await database).put('photo', bytes, photoDigest)
  await count()
  void send()
  return photoDigest
}

async function count(): Promise<void> {
  waiting.value = await (await database).count('photo')
  counted.value = true
}

addEventListener('online', () => void send())

let sending = false
/** One after the other, until none is left; what the site has is kept here no longer. */
async function send(): Promise<void> {
  if (sending) return
  sending = true
  try {
    const db = await database
    for (const key of await db.getAllKeys('photo')) {
      await count()
      const kept = await fetch('/api/evidence', { method: 'POST', body: (await db.get('photo', key)) as Uint8Array<ArrayBuffer> })
      if (!kept.ok) throw new Error(`the site answered ${kept.status}`)
      await db.delete('photo', key)
    }
    await count()
  } catch {
    // Out of contact or signed off: it stays here and is sent again. A browser that keeps nothing has nothing to count.
    await count().catch(() => undefined)
    setTimeout(() => void send(), again)
  } finally {
    sending = false
  }
}
void send()

async function smaller(file: Blob): Promise<Blob> {
  const image = await createImageBitmap(file)
  const canvas = document.createElement('canvas')
  for (let side = longestSide; ; side *= 0.8) {
    const scale = Math.min(1, side / Math.max(image.width, image.height))
    canvas.width = Math.round(image.width * scale)
    canvas.height = Math.round(image.height * scale)
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height)
    const made = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.75))
    if (!made) throw new Error('the picture could not be made smaller')
    if (made.size <= mostBytes) return made
  }
}
