import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, test } from 'vitest'
import { ar } from './ar.ts'
import { en } from './en.ts'
import { es } from './es.ts'
import { count, raceTime, shortDuration, wallClock, writeFiguresIn, decimalMark, figure } from './figures.ts'
import { emergencyCardWords } from './emergency-card.ts'
import { englishOnly } from './english-only.ts'
import { floorScreens } from './floor-screens.ts'
import { neverSay } from './never-say.ts'
import { standingApart } from './standing-apart.ts'

const screens = fileURLToPath(new URL('..', import.meta.url))
const mains = readdirSync(screens)
  .map((name) => `${name}/main.tsx`)
  .filter((main) => existsSync(join(screens, main)))

type Told = readonly (string | number | boolean)[]
const { en: cardEn, es: cardEs, ar: cardAr } = emergencyCardWords
const spoken = {
  en: { ...en, ...floorScreens, ...englishOnly, emergencyCard: cardEn },
  es: { ...es, emergencyCard: cardEs },
  ar: { ...ar, emergencyCard: cardAr },
} as const
type Tongue = keyof typeof spoken
const translated: readonly Tongue[] = ['es', 'ar']
const everywhere: readonly Tongue[] = ['en', ...translated]

afterEach(() => writeFiguresIn('en'))

describe.each(everywhere)('the words in %s', (tongue) => {
  test('never make a claim that is not ours to make', () => {
    const said = [...sentences(tongue).values()].flat()
    expect(said.length).toBeGreaterThan(300)
    expect(said.filter((sentence) => neverSay[tongue].some((claim) => claim.test(plain(sentence))))).toEqual([])
  })

  test('leave no sentence empty', () => {
    expect([...sentences(tongue)].filter(([, said]) => plain(said[ofThree] ?? said[0] ?? '').trim() === '').map(([path]) => path)).toEqual(
      [],
    )
  })
})

describe.each(translated)('the words in %s, beside the English', (tongue) => {
  const english = sentences('en')
  const other = sentences(tongue)
  const floor = [...english.keys()].filter((path) => Object.hasOwn(spoken[tongue], path.split('.')[0]!))

  test('have every sentence, also where English lists them by a key', () => {
    expect(floor.filter((path) => !other.has(path) && !path.startsWith('siteRefusals'))).toEqual([])
    expect([...other.keys()].filter((path) => !english.has(path) && !path.startsWith('siteRefusals'))).toEqual([])
  })

  test('leave none in English by accident', () => {
    const same = floor.filter((path) => {
      const [first] = english.get(path) ?? []
      return /[a-z]{3}/i.test(withoutParams(first ?? '')) && other.get(path)?.some((sentence) => plain(sentence) === first)
    })
    expect(same.filter((path) => !sameInEvery.some((name) => withoutParams(english.get(path)![0]!).trim() === name))).toEqual([])
  })

  test('say everything that they are told', () => {
    const lost = floor.filter((path) => {
      const [first = ''] = english.get(path) ?? []
      const said = other.get(path) ?? []
      return [...first.matchAll(param)].some(([one]) => !said.some((sentence) => sentence.includes(one)))
    })
    expect(lost).toEqual([])
  })
})

describe('what is put into a sentence stands apart in it', () => {
  const name = 'ليلى حداد'
  const isolated = `\u2068${name}\u2069`

  test.each(['en', 'es'] as const)('a name from the right, in %s', (tongue) => {
    const said = standingApart(spoken[tongue])
    expect(said.common.by(name)).toContain(isolated)
    expect(said.refusals['holdInForce']!.says({ zone: name, since: '10:25' })).toContain(isolated)
    expect(said.raiseHold.raise('heat', name)).toContain(isolated)
    // Names and keys from the left are left as they are, and lists by key go on being found.
    expect(said.common.by('Ada Marsh')).toBe(spoken[tongue].common.by('Ada Marsh'))
    expect(standingApart(said.common.by)).toBe(standingApart(said.common.by))
  })

  test('everything that is told, in Arabic', () => {
    const bare = [...sentences('ar')].flatMap(([path, said]) =>
      said.filter((one) => [...one.matchAll(param)].some(({ index }) => standsBare(one.slice(0, index)))).map((one) => `${path}: ${one}`),
    )
    expect(bare).toEqual([])
  })
})

/** Names and units that are the same in each language. */
const sameInEvery = ['Musterbook', 'PIN', 'WBGT', 'English', 'Español', 'min:s', '150 mm', 'hPa', 'No', 'Provisional', 'Abdomen', 'Natural']

describe('a screen', () => {
  const beyond = { 'floor-screens.ts': floorScreens, 'english-only.ts': englishOnly }

  test.each(mains)('%s loads the words that it says', (main) => {
    const files = reachedFrom(join(screens, main))
    const loaded = Object.entries(beyond).flatMap(([file, its]) => (files.has(join(screens, 'words', file)) ? Object.keys(its) : []))
    const own = [...files].filter((file) => !file.startsWith(join(screens, 'words')))
    const said = new Set(own.flatMap((file) => [...readFileSync(file, 'utf8').matchAll(/(?<![-/])\bwords\.(\w+)/g)].map(([, key]) => key!)))
    expect([...said].filter((key) => !Object.hasOwn(en, key) && !loaded.includes(key))).toEqual([])
  })
})

/** The screen's own files that a page loads, at once or when they are asked for. */
function reachedFrom(file: string, reached = new Set<string>()): Set<string> {
  if (reached.has(file)) return reached
  reached.add(file)
  const imports = readFileSync(file, 'utf8').matchAll(/^(?:import|export) (?!type)[^'"]*'(\.[^']+\.tsx?)'|import\('(\.[^']+\.tsx?)'\)/gm)
  for (const [, atOnce, later] of imports) reachedFrom(join(file, '..', (atOnce ?? later)!), reached)
  return reached
}

describe('the list of what is never said', () => {
  test.each([
    ['en', ['The track is safe.', 'Failed', 'She is fit for duty', 'The time improved.']],
    [
      'es',
      ['La pista es segura.', 'Apto para el servicio', 'Suspendido', 'Ha sido un golpe de calor.', 'El tiempo mejoró.', 'Riesgo bajo'],
    ],
    ['ar', ['المضمار آمن.', 'المتدرب لائق', 'أُغمي عليه', 'وضربة شمس', 'تحسّن الزمن', 'لقد رسب']],
  ] as const)('catches it in %s', (tongue, planted) => {
    expect(planted.filter((sentence) => !neverSay[tongue].some((claim) => claim.test(sentence)))).toEqual([])
  })

  test.each([
    ['es', ['Responsable de seguridad', 'Suspensión en vigor', 'Captura de pantalla']],
    ['ar', ['مسؤول السلامة', 'تراجع عن اللمسة', 'محاولة حتى الآن']],
  ] as const)('lets the house’s own words stand in %s', (tongue, ours) => {
    expect(ours.filter((sentence) => neverSay[tongue].some((claim) => claim.test(sentence)))).toEqual([])
  })
})

describe('figures', () => {
  test('ages are short and never rounded up', () => {
    expect(shortDuration(59_999)).toBe('59 s')
    expect(shortDuration(12 * 60_000 + 59_000)).toBe('12 min')
    expect(shortDuration(125 * 60_000)).toBe('2 h 05 min')
  })

  test('a race time keeps the decimals that were read', () => {
    expect(raceTime(1742)).toBe('17.42')
    expect(raceTime(1690, 1)).toBe('16.9')
    expect(raceTime(77_700, 0)).toBe('12:57')
  })

  test('the clock is that of the site, not of the device', () => {
    expect(wallClock(Date.UTC(2026, 4, 11, 9, 31), 'Europe/Oslo')).toBe('11:31')
  })

  test('the decimal mark follows the language', () => {
    writeFiguresIn('es')
    expect(decimalMark()).toBe(',')
    expect(raceTime(1742)).toBe('17,42')
  })

  test('Arabic keeps Western digits, and what would change places from the right stands apart', () => {
    writeFiguresIn('ar', 'rtl')
    expect(figure(1234)).toBe('1234')
    expect(raceTime(77_700, 0)).toBe('\u206612:57\u2069')
    expect(figure(-4.5, 1)).toBe('\u2066-4.5\u2069')
    expect(shortDuration(125 * 60_000)).toBe('2 س 05 د')
  })

  // Unicode CLDR, cardinal plural rules of Arabic: zero, one, two, few (3–10), many (11–99), other.
  test.each([
    [0, 'zero'],
    [1, 'one'],
    [2, 'two'],
    [3, 'few'],
    [10, 'few'],
    [11, 'many'],
    [99, 'many'],
    [100, 'other'],
    [103, 'few'],
  ])('%i is counted in the Arabic form %s', (n, form) => {
    writeFiguresIn('ar', 'rtl')
    expect(count(n, { zero: 'zero', one: 'one', two: 'two', few: 'few', many: 'many', other: 'other' })).toBe(form)
  })
})

const standsBare = (before: string) => before.split(/[\u2066-\u2068]/).length <= before.split('\u2069').length
const param = /⟨[^⟩]*⟩/g
const params = ['⟨a⟩', '⟨b⟩', '⟨c⟩', '⟨d⟩', '⟨e⟩']
const withoutParams = (sentence: string) => sentence.replaceAll(/⟨[^⟩]*⟩|NaN|\d+/g, '')
const plain = (sentence: string) => sentence.replaceAll(/[\u2066-\u2069\u064B-\u0652]/g, '')

/** Every sentence by where it stands; one that is told something, with plausible arguments of each kind. */
function sentences(tongue: Tongue): Map<string, string[]> {
  writeFiguresIn(tongue, tongue === 'ar' ? 'rtl' : 'ltr')
  const found = new Map<string, string[]>()
  const walk = (value: unknown, path: string): void => {
    if (typeof value === 'string') found.set(path, [value])
    else if (typeof value === 'function')
      found.set(
        path,
        told(path).map((args) => String((value as (...args: Told) => unknown)(...args))),
      )
    else if (typeof value === 'object' && value !== null)
      for (const [key, inner] of Object.entries(value)) walk(inner, path === '' ? key : `${path}.${key}`)
  }
  walk(spoken[tongue], '')
  writeFiguresIn('en')
  return found
}

/** Where, of the arguments below, each is three: nothing that three of something say is empty. */
const ofThree = 4

/** Names first: what is told must be said. Then counts of each plural form, and what a choice decides. */
const told = (path: string): readonly Told[] =>
  path.startsWith('refusals') || path.startsWith('siteRefusals')
    ? [[everyParam as never]]
    : [
        params,
        ...[0, 1, 2, 3, 11, 100].map((n) => [n, n, n, n, n]),
        ['⟨a⟩', true, 3, 4, 5],
        ['⟨a⟩', false, 3, 4, 5],
        ['⟨a⟩', '⟨b⟩', true],
        ['⟨a⟩', '⟨b⟩', 3, 'slowest'],
      ]

/** Whatever a refusal asks for, it gets. */
const everyParam = new Proxy({}, { get: (_, name) => `⟨${String(name)}⟩` })
