import { hexToBytes } from '@noble/hashes/utils.js'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { inclusionProof, leafHash, rootOf, saltedLeafHash, verifyInclusion } from './merkle.ts'

// The leaves, tree heads and proofs that the Certificate Transparency project publishes for RFC 6962 (its reference code's own tests);
// RFC 9162 keeps the same hashing.
const leaves = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f'].map((hex) =>
  leafHash(hexToBytes(hex)),
)
const roots = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
]

describe('the published tree', () => {
  test('has the published root at every size', () => {
    expect(roots.map((_, size) => rootOf(leaves.slice(0, size)))).toEqual(roots)
  })

  test('gives the published proofs', () => {
    expect(inclusionProof(leaves, 0).path).toEqual([
      '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7',
      '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
      '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4',
    ])
    expect(inclusionProof(leaves, 5).path).toEqual([
      'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
      'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
      'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
    ])
  })
})

describe('a proof', () => {
  const grown = Array.from({ length: 40 }, (_, index) => leafHash(Uint8Array.of(index)))

  test('verifies for every leaf of every size, and for no other leaf, place or size', () => {
    for (let size = 1; size <= grown.length; size++) {
      const tree = grown.slice(0, size)
      const root = rootOf(tree)
      for (let index = 0; index < size; index++) {
        const proof = inclusionProof(tree, index)
        expect(verifyInclusion(tree[index]!, proof, root)).toBe(true)
        for (let other = 0; other < size; other++) {
          if (other === index) continue
          expect(verifyInclusion(tree[other]!, proof, root)).toBe(false)
          expect(verifyInclusion(tree[index]!, { ...proof, index: other }, root)).toBe(false)
        }
        if (size > 1) expect(verifyInclusion(tree[index]!, { ...proof, path: proof.path.slice(1) }, root)).toBe(false)
        expect(verifyInclusion(tree[index]!, { ...proof, path: [...proof.path, root] }, root)).toBe(false)
      }
    }
  })

  test('with one bit flipped anywhere does not verify', () => {
    const root = rootOf(grown)
    fc.assert(
      fc.property(fc.nat(grown.length - 1), fc.nat(), fc.nat(255), (index, pick, bit) => {
        const proof = inclusionProof(grown, index)
        const at = pick % (proof.path.length + 2)
        const flipped = [...proof.path, grown[index]!, root].map((hash, place) => (place === at ? flipBit(hash, bit) : hash))
        const path = flipped.slice(0, proof.path.length)
        expect(verifyInclusion(flipped.at(-2)!, { ...proof, path }, flipped.at(-1)!)).toBe(false)
      }),
    )
  })

  test.each([
    { index: -1, size: 3, path: [] },
    { index: 3, size: 3, path: [] },
    { index: 0.5, size: 3, path: [] },
    { index: 0, size: Number.NaN, path: [] },
    { index: 0, size: 2, path: ['not a hash'] },
  ])('that is no proof at all does not verify: %j', (proof) => {
    expect(verifyInclusion(grown[0]!, proof, rootOf(grown.slice(0, 3)))).toBe(false)
  })
})

test('a salted leaf depends on its salt, and a short salt is refused', () => {
  expect(saltedLeafHash('00'.repeat(16), { score: 65 })).not.toBe(saltedLeafHash('01'.repeat(16), { score: 65 }))
  expect(() => saltedLeafHash('00', { score: 65 })).toThrow(RangeError)
})

function flipBit(hex: string, bit: number): string {
  const bytes = hexToBytes(hex)
  bytes[bit >> 3]! ^= 1 << (bit & 7)
  return Buffer.from(bytes).toString('hex')
}
