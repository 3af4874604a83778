import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import type { Desk } from './desk.ts'

interface Hashed {
  pinHash: Buffer
  pinSalt: Buffer
  pinCost: number
}

/** A slow hash with a salt of its own, over the PIN under a key from the key file: a copied data folder cannot even be tried. */
export async function hashPin(desk: Desk, pin: string): Promise<Hashed> {
  const pinSalt = randomBytes(16)
  return { pinHash: await slowHash(desk, pin, pinSalt, desk.pinCost), pinSalt, pinCost: desk.pinCost }
}

export async function pinFits(desk: Desk, pin: string, kept: Hashed): Promise<boolean> {
  return timingSafeEqual(await slowHash(desk, pin, kept.pinSalt, kept.pinCost), kept.pinHash)
}

/** One digit repeated, or all digits in a row up or down. */
export function isTooSimple(pin: string): boolean {
  const steps = new Set([...pin].slice(1).map((digit, index) => Number(digit) - Number(pin[index])))
  return steps.size === 1 && [-1, 0, 1].includes([...steps][0] ?? 0)
}

function slowHash(desk: Desk, pin: string, salt: Buffer, cost: number): Promise<Buffer> {
  const blockSize = 8
  return new Promise((resolve, reject) =>
    scrypt(desk.keys.mark('pin', pin), salt, 32, { N: cost, r: blockSize, p: 1, maxmem: 2 * 128 * cost * blockSize }, (error, hash) =>
      error ? reject(error) : resolve(hash),
    ),
  )
}
