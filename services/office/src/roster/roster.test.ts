import iconv from 'iconv-lite'
import type { ClassId } from '@musterbook/vocabulary/ids'
import type { RosterOptions, RosterPreview, RosterTaken } from '@musterbook/vocabulary/office'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, type told } from '../controls.ts'

let desk: Desked
let asInes: () => ReturnType<typeof told>
beforeEach(async () => {
  desk = await desked()
  ;({ asInes } = await settled(desk))
})
afterEach(() => desk.end())

const header = 'Code;Family name;Given name;Birth date;Norm sex;Class;Language'
const file = (...rows: string[]): Uint8Array => Buffer.from([header, ...rows].join('\r\n'), 'utf8')
const preview = async (bytes: Uint8Array, options: Partial<RosterOptions> = {}): Promise<RosterPreview> =>
  granted(await desk.office.previewRoster(bytes, { dateOrder: 'ymd', ...options }))
const accept = async (previewId: string, choices: Record<string, 'take' | 'leave'> = {}): Promise<RosterTaken> =>
  granted(await desk.office.acceptRoster({ previewId, choices }, asInes()))
const fates = ({ rows }: RosterPreview) => rows.map(({ line, fate }) => [line, fate])
const lark = 'lark-7' as ClassId
const names = async () => (await desk.office.studentsOfClass(lark)).map(({ name }) => name)

const ada = 'L7-101;Marsh;Ada;2002-09-14;W;Lark-7;en'
const marek = 'L7-107;Dune;Marek;2001-07-19;M;Lark-7;en'

test('nothing is saved by looking', async () => {
  const heads = await desk.ledger.streams('')
  const shown = await preview(file(ada, marek))
  expect(shown).toMatchObject({ encoding: 'utf-8', delimiter: ';', ignoredColumns: [], hint: null, counts: { new: 2 } })
  expect(await desk.ledger.streams('')).toEqual(heads)
  expect(await desk.office.classes()).toEqual([])
})

test('what was seen is saved when it is accepted', async () => {
  const { previewId } = await preview(file(ada, marek))
  const { taken, newClasses } = await accept(previewId)
  expect(newClasses).toEqual([lark])
  expect(taken.map(({ line, code }) => [line, code])).toEqual([
    [2, 'L7-101'],
    [3, 'L7-107'],
  ])
  expect(await desk.office.student(taken[0]!.studentId)).toMatchObject({
    code: 'L7-101',
    name: 'Ada Marsh',
    birthDate: '2002-09-14',
    normSex: 'W',
    classId: lark,
    language: 'en',
    left: false,
  })
  expect(await desk.office.classes()).toEqual([{ classId: lark, name: 'Lark-7', students: 2 }])
})

test('a bad row never loses a good one', async () => {
  const shown = await preview(
    file(
      ada,
      'L7-102;;Adam;2001-02-03;M;Lark-7;en',
      'L7-103;Ferrán;Lucía;;W;Lark-7;es',
      'L7-104;Karam;Yusuf;2000-02-30;M;Lark-7;ar',
      'L7-105;Brandt;Kofi;1897-05-11;M;Lark-7;en',
      'L7-106;Dorst;Hanneke;2029-01-08;W;Lark-7;en',
      'L7-108;Pell;Sunniva;2003-03-02;?;Lark-7;en',
      'L7-109;Vask;Oren;1998-12-12;M;;en',
      'L7-110;"Sand;hal;Priya;2002-04-27;W;Lark-7;en',
      'L7-111;Åsgard;Björn;1996-08-05;M;Lark-7;en;surplus',
      marek,
    ),
  )
  expect(fates(shown)).toEqual([[2, 'new'], ...[3, 4, 5, 6, 7, 8, 9, 10, 11].map((line) => [line, 'unusable']), [12, 'new']])
  expect(shown.rows.filter(({ fate }) => fate === 'unusable').every(({ says }) => says.length > 0)).toBe(true)
  const { taken, left } = await accept(shown.previewId, { 3: 'take' })
  expect(taken.map(({ line }) => line)).toEqual([2, 12])
  expect(left.map(({ line }) => line)).toEqual([3, 4, 5, 6, 7, 8, 9, 10, 11])
  expect(await names()).toEqual(['Ada Marsh', 'Marek Dune'])
})

test('however the rows are broken, the good ones stand', async () => {
  const good = (index: number) => `G-${index};Good${'abcdefghij'[index]};Person;2000-01-0${index + 1};M;Lark-7;en`
  const bad = fc.constantFrom('"', 'x"y;z', ';;;;;;', '"open;2;3', ';', 'a;b', '"a"b;c', '\u0000', ada.replace('2002', '20x2'))
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(bad, fc.nat(8)), { maxLength: 6 }), async (broken) => {
      const rows = Array.from({ length: 9 }, (_, index) => good(index))
      for (const [row, at] of broken) rows.splice(at, 0, row)
      const shown = await preview(file(...rows))
      expect(shown.rows.filter(({ fate }) => fate === 'new').map(({ values }) => values.code)).toEqual(
        Array.from({ length: 9 }, (_, index) => `G-${index}`),
      )
    }),
    { numRuns: 60 },
  )
})

describe('files as offices make them', () => {
  const people = [
    ['L7-119', 'Vukmar', 'Đorđe', '18.04.1995', 'M'],
    ['L7-111', 'Åsgard', 'Björn', '05.08.1996', 'M'],
    ['L7-103', 'Ferrán', 'Lucía', '21.06.2003', 'W'],
  ]
  const western = people.slice(1)
  const rowsOf = (rows: string[][], delimiter: string, head: string[]) => [head, ...rows].map((row) => row.join(delimiter)).join('\r\n')

  test.each([
    [
      'UTF-8 with a mark, commas, English',
      rowsOf(people, ',', ['Student no', 'Surname', 'First name', 'Date of birth', 'Sex']),
      'utf8',
      true,
      'utf-8',
      ',',
    ],
    [
      'UTF-8, tabs, French',
      rowsOf(people, '\t', ['Matricule', 'Nom', 'Prénom', 'Date de naissance', 'Sexe']),
      'utf8',
      false,
      'utf-8',
      '\t',
    ],
    [
      'UTF-16 with tabs, Norwegian',
      rowsOf(people, '\t', ['Nr', 'Etternavn', 'Fornavn', 'Fødselsdato', 'Kjønn']),
      'utf-16le',
      true,
      'utf-16le',
      '\t',
    ],
    [
      'Windows-1252, semicolons, German',
      rowsOf(western, ';', ['Nr.', 'Nachname', 'Vorname', 'Geburtsdatum', 'Geschlecht']),
      'win1252',
      false,
      'windows-1252',
      ';',
    ],
  ] as const)('%s', async (_, text, code, addBOM, encoding, delimiter) => {
    const shown = await preview(iconv.encode(text, code, { addBOM }), { dateOrder: 'dmy', className: 'Lark-7' })
    expect(shown).toMatchObject({ encoding, delimiter, hint: null, counts: { unusable: 0, asks: 0 } })
    await accept(shown.previewId)
    const saved = await desk.office.studentsOfClass(lark)
    expect(saved.find(({ code }) => code === 'L7-111')).toMatchObject({ name: 'Björn Åsgard', birthDate: '1996-08-05' })
    expect(saved.find(({ code }) => code === 'L7-103')).toMatchObject({ name: 'Lucía Ferrán', birthDate: '2003-06-21', normSex: 'W' })
  })

  test('names in any script, and line breaks inside quotes', async () => {
    const shown = await preview(
      file('1;الكرم;يوسف;2000-11-30;M;Lark-7;العربية', '2;"Ngo\n bese";Thandiwe;2003-11-04;W;Lark-7;', '3;竹森;浩;2001-09-26;M;Lark-7;en'),
    )
    expect(fates(shown)).toEqual([
      [2, 'new'],
      [3, 'new'],
      [5, 'new'],
    ])
    await accept(shown.previewId)
    expect(await names()).toEqual(['يوسف الكرم', 'Thandiwe Ngo bese', '浩 竹森'])
  })

  test('the order of the dates is declared, never guessed; a better one is said', async () => {
    const dates = file('1;Marsh;Ada;03/04/2002;W;Lark-7;en', '2;Dune;Marek;07/19/2001;M;Lark-7;en')
    const dmy = await preview(dates, { dateOrder: 'dmy' })
    expect(dmy.rows.map(({ fate, values }) => [fate, values.birthDate])).toEqual([
      ['new', '2002-04-03'],
      ['unusable', '07/19/2001'],
    ])
    expect(dmy.hint).toBe('More of the dates fit month, day, year.')
    expect((await preview(dates, { dateOrder: 'mdy' })).rows.map(({ values }) => values.birthDate)).toEqual(['2002-03-04', '2001-07-19'])
  })

  test('headings of nobody’s can be named', async () => {
    const bytes = Buffer.from('Kennung,Zuname,Rufname,Geb,Gruppe,Bemerkung\n7,Dune,Marek,2001-07-19,M,keine')
    expect(await desk.office.previewRoster(bytes, { dateOrder: 'ymd' })).toMatchObject({
      refused: { rule: 'columnsMissing', params: { missing: 'family name, given name, birth date, norm sex' } },
    })
    const columns = { code: 'Kennung', familyName: 'Zuname', givenName: 'Rufname', birthDate: 'Geb', normSex: 'Gruppe' }
    const shown = await preview(bytes, { className: 'Lark-7', columns })
    expect(shown).toMatchObject({ counts: { new: 1 }, ignoredColumns: ['Bemerkung'] })
  })

  test('what is no table is refused with a reason', async () => {
    const why = async (bytes: Uint8Array) => {
      const said = await desk.office.previewRoster(bytes, { dateOrder: 'ymd' })
      return 'refused' in said ? said.refused.params['why'] : undefined
    }
    expect(await why(new Uint8Array())).toBe('it is empty')
    expect(await why(Buffer.from('PK\u0003\u0004 sheet'))).toBe('it is a spreadsheet or an archive, not CSV')
    expect(await why(Buffer.alloc(1_000_001, 'a'))).toBe('it is larger than 1 MB')
    expect(await why(file(...Array<string>(2001).fill(ada)))).toBe('it has more than 2000 rows')
  })
})

describe('duplicates and look-alikes', () => {
  test('within one file: the same code is unusable, the same person asks, a similar name is only marked', async () => {
    const shown = await preview(
      file(
        ada,
        ada,
        'l7-101;Quist;Tilda;2001-05-29;W;Lark-7;en',
        'L7-999;MARSH;Adá;2002-09-14;W;Lark-7;en',
        'L7-102;Marsh;Adam;2001-02-03;M;Lark-7;en',
      ),
    )
    expect(fates(shown)).toEqual([
      [2, 'new'],
      [3, 'unusable'],
      [4, 'unusable'],
      [5, 'asks'],
      [6, 'new'],
    ])
    expect(shown.rows[0]?.lookAlikes).toEqual(['line 5', 'line 6'])
    expect(shown.rows[4]?.lookAlikes).toEqual(['line 2', 'line 5'])
    expect((await accept(shown.previewId)).taken.map(({ line }) => line)).toEqual([2, 6])
  })

  test('what asks is taken when somebody says so', async () => {
    const shown = await preview(file('1;Old;Very;1950-01-01;M;Lark-7;en', '2;Young;Very;2013-01-01;M;Lark-7;en', marek))
    expect(fates(shown)).toEqual([
      [2, 'asks'],
      [3, 'asks'],
      [4, 'new'],
    ])
    expect((await accept(shown.previewId, { 3: 'take', 4: 'leave' })).taken.map(({ line }) => line)).toEqual([3])
  })

  test('against who is here: unchanged, changed, moved, another person under the same code, the same person under another', async () => {
    await accept(
      (await preview(file(ada, marek, 'L7-108;Pell;Sunniva;2003-03-02;W;Lark-7;en', 'L7-109;Vask;Oren;1998-12-12;M;Lark-7;en'))).previewId,
    )
    const before = await desk.office.studentsOfClass(lark)
    const again = await preview(
      file(
        ada,
        'L7-107;Dune;Mareck;2001-07-19;M;Lark-7;es',
        'L7-108;Pell;Sunniva;2003-03-02;W;Wren-2;en',
        'L7-109;Takemori;Hiro;2001-09-26;M;Lark-7;en',
        'L7-555;Marsh;Ada;2002-09-14;W;Lark-7;en',
      ),
    )
    expect(fates(again)).toEqual([
      [2, 'unchanged'],
      [3, 'changed'],
      [4, 'changed'],
      [5, 'asks'],
      [6, 'asks'],
    ])
    expect(again.rows[1]?.says).toEqual(['Given name: Marek → Mareck.', 'Language: en → es.'])
    expect(again.rows[2]?.says).toEqual(['Class: Lark-7 → Wren-2.'])
    await accept(again.previewId)
    const idOf = (code: string) => before.find((each) => each.code === code)!.studentId
    expect(await desk.office.student(idOf('L7-107'))).toMatchObject({ name: 'Mareck Dune', language: 'es', classId: lark })
    expect(await desk.office.student(idOf('L7-108'))).toMatchObject({ classId: 'wren-2', left: false })
    expect(await desk.office.student(idOf('L7-109'))).toMatchObject({ name: 'Oren Vask', birthDate: '1998-12-12' })
    expect(await names()).toEqual(['Ada Marsh', 'Mareck Dune', 'Oren Vask'])
  })

  test('a birth date or norm group on record never changes by a file, even when the row is taken', async () => {
    await accept((await preview(file(ada))).previewId)
    expect(fates(await preview(file('L7-101;Marsh;Ada;2002-09-14;M;Lark-7;en')))).toEqual([[2, 'asks']])
    expect(fates(await preview(file('L7-101;Marsh;Ada;2002-09-15;W;Lark-7;en')))).toEqual([[2, 'asks']])
    const again = await preview(file('L7-101;Marsh;Ada;2002-09-15;M;Lark-7;en'))
    expect(fates(again)).toEqual([[2, 'asks']])
    await accept(again.previewId, { 2: 'take' })
    expect((await desk.office.studentsOfClass(lark))[0]).toMatchObject({ birthDate: '2002-09-14', normSex: 'W' })
  })
})

test('two thousand rows are looked at in a few seconds', async () => {
  const rows = Array.from({ length: 2_000 }, (_, index) => {
    const name = [...String(10_000 + index * 7)].map((digit) => 'abcdefghij'[Number(digit)]).join('')
    return `N-${index};${name}mount;${name}river;2000-01-01;M;Lark-7;en`
  })
  const started = performance.now()
  expect((await preview(file(...rows))).counts).toMatchObject({ new: 2_000 })
  expect(performance.now() - started).toBeLessThan(10_000)
})

test('a row without a code gets one, and it is told', async () => {
  const shown = await preview(file(';Marsh;Ada;2002-09-14;W;Lark-7;en', ';Marsh;Adam;2001-02-03;M;Lark-7;en'))
  expect(shown.rows[0]?.says).toEqual(['There is no code; one will be made.'])
  const { taken } = await accept(shown.previewId)
  expect(new Set(taken.map(({ code }) => code)).size).toBe(2)
  expect(taken[0]?.code).toMatch(/^[2-9A-HJKMNP-Z]{6}$/)
})

describe('a preview', () => {
  test('is accepted once; told twice it answers the same', async () => {
    const { previewId } = await preview(file(ada))
    const once = asInes()
    const first = granted(await desk.office.acceptRoster({ previewId, choices: {} }, once))
    expect(await desk.office.acceptRoster({ previewId, choices: {} }, once)).toEqual(first)
    expect(ruleOf(await desk.office.acceptRoster({ previewId, choices: {} }, asInes()))).toBe('noSuchPreview')
    expect(await names()).toEqual(['Ada Marsh'])
  })

  test('is outdated when students were changed meanwhile', async () => {
    const [one, other] = [await preview(file(ada)), await preview(file(marek))]
    await accept(one.previewId)
    expect(ruleOf(await desk.office.acceptRoster({ previewId: other.previewId, choices: {} }, asInes()))).toBe('previewOutdated')
    expect(await names()).toEqual(['Ada Marsh'])
  })

  test('is gone after a restart, and nothing of it was saved', async () => {
    const { previewId } = await preview(file(ada))
    await desk.reopen()
    expect(ruleOf(await desk.office.acceptRoster({ previewId, choices: {} }, asInes()))).toBe('noSuchPreview')
    expect(await desk.office.classes()).toEqual([])
  })
})

describe('a class as a file', () => {
  const exported = async () => (await desk.office.rosterFile(lark))!.text
  const other = 'L7-114;"Quist; ""T""";Tilda;2001-05-29;W;Lark-7;es'

  test('goes out and comes back, and nothing differs', async () => {
    await accept((await preview(file(ada, marek, other))).previewId)
    const text = await exported()
    expect(text.split('\r\n')[0]).toMatch(/^#musterbook roster;Lark-7;version 1;written by Ines Varga;2027-05-11;sha256:[0-9a-f]{64}$/)
    const shown = await preview(Buffer.from(text), { dateOrder: 'dmy' })
    expect(shown.exported).toEqual({ class: 'Lark-7', version: 'version 1', checksum: 'matches' })
    expect(fates(shown)).toEqual([
      [3, 'unchanged'],
      [4, 'unchanged'],
      [5, 'unchanged'],
    ])
    expect(await desk.office.rosterFile('none' as ClassId)).toBeNull()
  })

  test('saved again by a spreadsheet it is the same; with a changed cell it says so, and each row what differs', async () => {
    await accept((await preview(file(ada, marek))).previewId)
    const text = await exported()
    const resaved = Buffer.from(`\ufeff${text.replaceAll(';', '\t').replaceAll('\r\n', '\n')}`, 'utf16le')
    expect((await preview(resaved)).exported?.checksum).toBe('matches')
    const shown = await preview(Buffer.from(text.replace('Marek;2001-07-19;M;Lark-7;en', 'Marek;2001-07-19;M;Lark-7;es')))
    expect(shown.exported?.checksum).toBe('changed')
    expect(shown.rows.map(({ line, fate, says }) => [line, fate, says])).toEqual([
      [3, 'unchanged', []],
      [4, 'changed', ['Language: en → es.']],
    ])
  })
})
