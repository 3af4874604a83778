import { expect, test, vi } from 'vitest'
import { unmet, withoutServer } from './needs.ts'

const need = (works: () => boolean, packages = ['tool']) => ({ name: 'A tool', works, packages, otherwise: 'install it.' })

test('what works is not installed', () => {
  const install = vi.fn()
  expect(
    unmet(
      need(() => true),
      vi.fn(),
      install,
    ),
  ).toEqual([])
  expect(install).not.toHaveBeenCalled()
})

test('what is missing is installed and tried again', () => {
  let there = false
  const install = vi.fn(() => void (there = true))
  expect(
    unmet(
      need(() => there),
      vi.fn(),
      install,
    ),
  ).toEqual([])
  expect(install).toHaveBeenCalledWith(['tool'])
})

test('what still does not work is said, never passed over', () => {
  expect(
    unmet(
      need(() => false),
      vi.fn(),
      vi.fn(),
    ),
  ).toEqual(['A tool: install it.'])
  expect(
    unmet(
      need(() => false, []),
      vi.fn(),
      vi.fn(),
    ),
  ).toEqual(['A tool: install it.'])
})

test('no usable nats-server is a sentence, not a crash', () => {
  const none = () => {
    throw new Error('none here')
  }
  expect(withoutServer(none)).toEqual(['nats-server: none here'])
  expect(withoutServer(() => 'nats-server')).toEqual([])
})
