import { render } from 'preact-render-to-string'
import { describe, expect, test } from 'vitest'
import { neverSay } from '../words/never-say.ts'
import type { Examples } from './examples.ts'

const parts = import.meta.glob<{ examples: Examples }>('./*/examples.tsx', { eager: true })
const states = Object.entries(parts).flatMap(([path, { examples }]) =>
  Object.entries(examples).map(([state, draw]) => ({ part: path.split('/')[1] ?? path, state, draw })),
)

test('there are parts, each with an example', () => {
  expect(Object.keys(parts).length).toBeGreaterThan(25)
})

describe.each(states)('$part, $state', ({ draw }) => {
  const html = render(draw())

  test('says something, and nothing that is not ours to say', () => {
    const text = html.replace(/<[^>]*>/g, ' ')
    expect(text.trim() === '' && !/aria-label=/.test(html)).toBe(false)
    expect(neverSay.en.filter((claim) => claim.test(text))).toEqual([])
  })

  test('brings no inline style and no inline script: the policy of the site turns both away', () => {
    expect(html).not.toMatch(/\sstyle=|<script|<style|\son[a-z]+=/)
  })

  test('names every button', () => {
    for (const [, attributes = '', inner = ''] of html.matchAll(/<button([^>]*)>(.*?)<\/button>/gs)) {
      const words = inner.replace(/<svg.*?<\/svg>/gs, '').replace(/<[^>]*>/g, '')
      expect(/aria-label="[^"]+"/.test(attributes) || words.trim() !== '', attributes).toBe(true)
    }
  })
})
