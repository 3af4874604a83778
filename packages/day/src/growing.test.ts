import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Growing } from './growing.ts'

test('each list stays what it was, whatever grows from it', () => {
  const steps = fc.array(fc.record({ from: fc.nat(), item: fc.nat() }), { minLength: 1, maxLength: 60 })
  fc.assert(
    fc.property(steps, (all) => {
      const lists = [{ is: Growing.of<number>(), should: [] as number[] }]
      for (const { from, item } of all) {
        const { is, should } = lists[from % lists.length]!
        lists.push({ is: is.with(item), should: [...should, item] })
      }
      for (const { is, should } of lists) {
        expect([...is]).toEqual(should)
        expect([is.length, is.at(0), is.at(-1), is.at(should.length)]).toEqual([should.length, should[0], should.at(-1), undefined])
        expect(JSON.stringify({ is })).toBe(JSON.stringify({ is: should }))
      }
    }),
  )
})
