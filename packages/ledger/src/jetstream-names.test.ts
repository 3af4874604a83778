import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Names } from './jetstream-names.ts'

const names = new Names('musterbook')

describe('a stream in JetStream', () => {
  test('is called so that permissions can name its kind', () => {
    expect(names.stream('day/lark-7')).toBe('musterbook_day_2flark-7')
    expect(names.entries('day/lark-7')).toBe('musterbook.entry.day.day_2flark-7')
    expect(names.live('day/lark-7')).toBe('musterbook.live.day.day_2flark-7')
    expect(names.entriesUnder('day/')).toBe('musterbook.entry.day.*')
    expect(names.entriesUnder('')).toBe('musterbook.entry.*.*')
  })

  test('keeps every name apart, within the letters that JetStream allows, and gives it back', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 }), (text) => {
        const stream = `day/${text}`
        expect(names.stream(stream)).toMatch(/^[A-Za-z0-9_-]+$/)
        expect(names.parse(names.stream(stream))).toBe(stream)
        expect(names.parseSubject(names.live(stream))).toBe(stream)
      }),
    )
  })

  test('of another space is none of ours', () => {
    expect(names.parse('other_day_2f1')).toBeUndefined()
    expect(names.parse(names.probe.name)).toBeUndefined()
  })

  test('with a name that is too long, or a space with a dot in it, is refused', () => {
    expect(() => names.stream(`day/${'x'.repeat(300)}`)).toThrow('too long')
    expect(() => new Names('a.b')).toThrow('letters, digits and hyphens')
  })
})
