import serialize from 'canonicalize'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { canonical, digest, digestOfText } from './canonical.ts'

// RFC 8785 appendix B: the bits of a double and what it is written as.
const numbers = [
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
] as const

describe('the canonical form', () => {
  test.each(numbers)('writes the double %s as RFC 8785 appendix B does: %s', (bits, text) => {
    expect(canonical(Buffer.from(bits, 'hex').readDoubleBE())).toBe(text)
  })

  test('is the one of the example in RFC 8785 section 3.2.4, byte for byte', () => {
    const example = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`)
    expect(Buffer.from(canonical(example)).toString('hex')).toBe(
      '7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c226e756d62657273223a5b3333333333333333332e333333333333332c31652b33302c342e35' +
        '2c302e3030322c31652d32375d2c22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d',
    )
  })

  test('sorts keys by their UTF-16 units, as in the example of RFC 8785 section 3.2.3', () => {
    const example = JSON.parse(String.raw`{
      "\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"
    }`)
    expect([...canonical(example).matchAll(/:"([^"]+)"/g)].map((match) => match[1])).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ])
  })

  test('does not depend on the order of keys, and gives back every JSON value', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonical(value)
        expect(canonical(JSON.parse(text))).toBe(text)
        expect(canonical(backwards(value))).toBe(text)
      }),
    )
  })

  test('is byte for byte the one that an implementation by an author of RFC 8785 writes', () => {
    // Keys of many kinds and more than a few of them, texts of any units, absent properties.
    const text = fc.oneof(fc.string({ unit: 'grapheme' }), fc.string({ unit: 'binary' }))
    const { value } = fc.letrec((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        text,
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer(),
        fc.constantFrom(null, true, false),
        fc.array(tie('value'), { maxLength: 6 }),
        fc.dictionary(text, fc.oneof(tie('value'), fc.constant(undefined)), { maxKeys: 40, noNullPrototype: false }),
      ),
    }))
    fc.assert(
      fc.property(
        value.filter((one) => one !== undefined),
        (one) => void expect(canonical(one)).toBe(serialize(one)),
      ),
      { numRuns: 500 },
    )
  })

  test('leaves out what is absent', () => {
    expect(canonical({ a: 1, b: undefined })).toBe('{"a":1}')
  })

  test.each([
    ['a number that is none', { a: Number.NaN }],
    ['an infinity', [Number.NEGATIVE_INFINITY]],
    ['nothing', undefined],
    ['a hole in a list', [undefined]],
    ['a function', { a: () => 1 }],
    ['a big integer', 1n],
    ['a date', new Date(0)],
    ['a map', new Map()],
    ['half of a pair in a text', '\ud83d'],
    ['half of a pair in a key', { '\ude00': 1 }],
  ])('refuses %s', (_, value) => {
    expect(() => canonical(value)).toThrow(TypeError)
  })

  test('says where the fault lies', () => {
    expect(() => canonical({ a: [1, { b: Number.NaN }] })).toThrow('the value.a[1].b is NaN, which JSON cannot say')
  })
})

test('a digest is SHA-256 over the text in UTF-8', () => {
  // The one-block and two-block examples that NIST publishes with FIPS 180-4.
  expect(digestOfText('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
  expect(digestOfText('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe(
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  )
  expect(digest({ b: 'é', a: 1 })).toBe(digestOfText('{"a":1,"b":"é"}'))
})

function backwards(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(backwards)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, child]) => [key, backwards(child)]),
  )
}
