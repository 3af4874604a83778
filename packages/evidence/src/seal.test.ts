import { ed25519 } from '@noble/curves/ed25519.js'
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import { describe, expect, test } from 'vitest'
import { keyFingerprint, sealFault, sealWith, type SealStatement } from './seal.ts'

const statement: SealStatement = {
  stream: 'day/lark-7',
  version: 812,
  hash: 'ab'.repeat(32),
  events: { root: 'cd'.repeat(32), size: 1300 },
  records: { root: 'ef'.repeat(32), size: 40 },
  sealedAt: 1_790_000_000_000,
}
// Secret key of RFC 8032 section 7.1, test 1: a published key, for tests alone.
const secretKey = hexToBytes('9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60')
const seal = sealWith(secretKey, statement)
const fingerprint = keyFingerprint(seal.publicKey)

// RFC 8032 section 7.1, tests 1 and 2: the library that signs for us.
test.each([
  [
    '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    '72',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
])('signs as RFC 8032 section 7.1 says: key %s', (secret, publicKey, message, signature) => {
  expect(bytesToHex(ed25519.getPublicKey(hexToBytes(secret)))).toBe(publicKey)
  expect(bytesToHex(ed25519.sign(hexToBytes(message), hexToBytes(secret)))).toBe(signature)
})

describe('a seal', () => {
  test('holds under the fingerprint of the key that made it', () => {
    expect(seal.publicKey).toBe('d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a')
    expect(sealFault(seal, fingerprint)).toBeUndefined()
    expect(sealFault(JSON.parse(JSON.stringify(seal)), fingerprint.toUpperCase())).toBeUndefined()
  })

  test('made anew by somebody else is found by the fingerprint', () => {
    expect(sealFault(sealWith(new Uint8Array(32).fill(7), statement), fingerprint)).toContain('another key')
  })

  test.each([
    { ...statement, version: 811 },
    { ...statement, stream: 'day/lark-8' },
    { ...statement, sealedAt: statement.sealedAt + 1 },
    { ...statement, records: { ...statement.records, size: 41 } },
  ])('over another statement does not hold', (other) => {
    expect(sealFault({ ...seal, statement: other }, fingerprint)).toContain('does not fit')
  })

  test('with any bit of its signature flipped does not hold', () => {
    for (let bit = 0; bit < 512; bit += 3) {
      const bytes = hexToBytes(seal.signature)
      bytes[bit >> 3]! ^= 1 << (bit & 7)
      expect(sealFault({ ...seal, signature: bytesToHex(bytes) }, fingerprint)).toContain('does not fit')
    }
  })

  test.each(['', 'zz', 'ff'.repeat(32)])('with a key that is none is found: %s', (publicKey) => {
    expect(sealFault({ ...seal, publicKey }, fingerprint)).toContain('another key')
    expect(sealFault({ ...seal, publicKey }, keyFingerprint(publicKey))).toBeDefined()
  })
})
