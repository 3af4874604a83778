import iconv from 'iconv-lite'
import { describe, expect, test } from 'vitest'
import { decode } from './decode.ts'
import { readTable } from './table.ts'

const cellsOf = (text: string) => readTable(text)?.rows.map(({ line, cells }) => [line, cells])

describe('decode', () => {
  const text = 'Code;Name\r\n1;Ångström, Zoë\r2;Łukasz\n'
  const plain = 'Code;Name\n1;Ångström, Zoë\n2;Łukasz\n'
  test.each([
    ['utf-8', Buffer.from(text, 'utf8'), 'utf-8'],
    ['utf-8 with a mark', Buffer.from(`\ufeff${text}`, 'utf8'), 'utf-8'],
    ['utf-16 little-endian with a mark', iconv.encode(text, 'utf-16le', { addBOM: true }), 'utf-16le'],
    ['utf-16 big-endian with a mark', iconv.encode(text, 'utf-16be', { addBOM: true }), 'utf-16be'],
  ] as const)('%s', (_, bytes, encoding) => {
    expect(decode(bytes)).toEqual({ text: plain, encoding })
  })

  test('Windows-1252, with its quotation marks and the euro sign', () => {
    const western = 'Ångström;“Zoë”;€'
    expect(decode(iconv.encode(western, 'win1252'))).toEqual({ text: western, encoding: 'windows-1252' })
  })

  test('what is declared governs', () => {
    expect(decode(Buffer.from('Zoë', 'utf8'), 'windows-1252').text).toBe('ZoÃ«')
  })
})

describe('readTable', () => {
  test.each([',', ';', '\t', '|'])('separated by %j', (delimiter) => {
    const text = ['Code', 'Name', 'Born'].join(delimiter) + '\n' + ['1', 'Pell', '2003-03-02'].join(delimiter)
    expect(readTable(text)).toEqual({
      delimiter,
      header: ['Code', 'Name', 'Born'],
      rows: [{ line: 2, cells: ['1', 'Pell', '2003-03-02'] }],
    })
  })

  test('the separator of the header, not the one inside a quoted heading', () => {
    expect(readTable('"Name, first, last";Code\nAda;1')?.delimiter).toBe(';')
  })

  test('quoted line breaks, doubled quotes, empty lines, and the line on which each row begins', () => {
    const text = '\n\nCode,Name,Note\n1,"Pell\nthe younger","says ""no"""\n\n,,\n2,Dune,\n'
    expect(cellsOf(text)).toEqual([
      [4, ['1', 'Pell\nthe younger', 'says "no"']],
      [8, ['2', 'Dune', '']],
    ])
  })

  test('a quote that is never closed loses its own line alone', () => {
    const text = 'Code,Name,Born\n1,Pell,2003-03-02\n2,"Dune,2001-07-19\n3,Vask,1998-12-12\n4,Quist,2001-05-29\n'
    expect(cellsOf(text)).toEqual([
      [2, ['1', 'Pell', '2003-03-02']],
      [3, undefined],
      [4, ['3', 'Vask', '1998-12-12']],
      [5, ['4', 'Quist', '2001-05-29']],
    ])
  })

  test('two stray quotes never fold the rows between them into one cell', () => {
    const text = 'Code,Name,Given,Born,Sex\n1,"Pell,Sunniva,2003-03-02,W\n2,Dune",Marek,2001-07-19,M\n3,Vask,Oren,1998-12-12,M\n'
    expect(cellsOf(text)).toEqual([
      [2, undefined],
      [3, ['2', 'Dune"', 'Marek', '2001-07-19', 'M']],
      [4, ['3', 'Vask', 'Oren', '1998-12-12', 'M']],
    ])
  })

  test('nor does it swallow rows up to the next quote', () => {
    const text = 'Code,Name,Born\n1,"Pell,2003-03-02,x\n2,Dune,2001-07-19\n3,"Vask",1998-12-12\n4,Quist,2001-05-29\n'
    expect(cellsOf(text)).toEqual([
      [2, undefined],
      [3, ['2', 'Dune', '2001-07-19']],
      [4, ['3', 'Vask', '1998-12-12']],
      [5, ['4', 'Quist', '2001-05-29']],
    ])
  })

  test('a quote in the middle of a name stays', () => {
    expect(cellsOf('Code,Name\n1,Anna "Nan" Berg\n2,Dune')).toEqual([
      [2, ['1', 'Anna "Nan" Berg']],
      [3, ['2', 'Dune']],
    ])
  })

  test('rows with fewer or more cells are kept as they are', () => {
    expect(cellsOf('a,b,c\n1\n1,2,3,4')).toEqual([
      [2, ['1']],
      [3, ['1', '2', '3', '4']],
    ])
  })

  test('nothing, and hundreds of broken lines, are no table', () => {
    expect(readTable('')).toBeUndefined()
    expect(readTable('\n \n')).toBeUndefined()
    expect(readTable('a,b\n' + '1,"x"y"z,q\n'.repeat(300))).toBeUndefined()
  })
})

test('a text that our own file keeps from being a formula is read as it was', () => {
  expect(readTable("Code;Family name\r\nL7-1;'=1+1\r\nL7-2;'t Hooft")?.rows.map(({ cells }) => cells?.[1])).toEqual(['=1+1', "'t Hooft"])
})
