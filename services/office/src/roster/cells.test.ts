import { describe, expect, test } from 'vitest'
import { birthDateIn, languageIn, nameIn, normSexIn } from './cells.ts'

const today = '2027-05-11'

describe('birth dates', () => {
  test.each([
    ['11.05.1997', 'dmy', '1997-05-11'],
    ['11/5/1997', 'dmy', '1997-05-11'],
    ['5/11/1997', 'mdy', '1997-05-11'],
    ['11-05-1997', 'mdy', '1997-11-05'],
    ['1997-05-11', 'dmy', '1997-05-11'],
    ['1997-05-11 00:00:00', 'mdy', '1997-05-11'],
    ['1997/5/1', 'ymd', '1997-05-01'],
    ['29.02.2000', 'dmy', '2000-02-29'],
    ['١١/٠٥/١٩٩٧', 'dmy', '1997-05-11'],
    ['１１．０５．１９９７', 'dmy', '1997-05-11'],
  ] as const)('%s as %s is %s', (cell, order, value) => {
    expect(birthDateIn(cell, order, today, 10)).toEqual({ value })
  })

  test.each([
    ['97', '1997'],
    ['17', '2017'],
    ['18', '1918'],
    ['05', '2005'],
  ])('two digits of the year, %s, are read as %s and said', (year, full) => {
    expect(birthDateIn(`11.05.${year}`, 'dmy', today, 10)).toEqual({
      value: `${full}-05-11`,
      assumed: expect.stringContaining(full) as string,
    })
  })

  test.each([
    '',
    '31.02.2001',
    '29.02.2001',
    '00.05.1997',
    '11.13.1997',
    '5 May 1997',
    '35561',
    '11.05',
    '11.05.997',
    '11.05-1997',
    '1997-05-111',
    'unknown',
  ])('“%s” is none', (cell) => {
    expect(birthDateIn(cell, 'dmy', today, 10)).toHaveProperty('wrong')
  })
})

test('norm sex in the words of several offices', () => {
  expect(['M', 'male', 'Mann', 'W', 'f', 'Kvinne', 'Female', 'ذكر', 'أنثى'].map(normSexIn)).toEqual(
    ['M', 'M', 'M', 'W', 'W', 'W', 'W', 'M', 'W'].map((value) => ({ value })),
  )
  expect(normSexIn('X')).toHaveProperty('wrong')
  expect(normSexIn('')).toHaveProperty('wrong')
})

test('language: ours, or English and it is said', () => {
  expect(languageIn('Español')).toEqual({ value: 'es' })
  expect(languageIn('AR')).toEqual({ value: 'ar' })
  expect(languageIn('')).toEqual({ value: 'en' })
  expect(languageIn('Finnish')).toEqual({ value: 'en', assumed: expect.stringContaining('Finnish') as string })
})

test('names keep their letters, on one line', () => {
  expect(nameIn(' Nguyễn\n Thị ', 'given name')).toEqual({ value: 'Nguyễn Thị' })
  expect(nameIn('Bj\ufffdrn', 'given name')).toHaveProperty('wrong')
  expect(nameIn('x'.repeat(121), 'given name')).toHaveProperty('wrong')
})
