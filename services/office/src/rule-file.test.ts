import type { RuleFilePreview } from '@musterbook/vocabulary/office'
import { ComposeDay } from '@musterbook/vocabulary/office'
import { RuleKind } from '@musterbook/vocabulary/office-events'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, told } from './controls.ts'
import { offers } from './offers.ts'
import { contentProblems } from './rule-content.ts'

let desk: Desked
let asInes: () => ReturnType<typeof told>
const asTomas = () => told('tomas', ['supervisor'])
beforeEach(async () => {
  desk = await desked()
  ;({ asInes } = await settled(desk))
})
afterEach(() => desk.end())

const fileOf = async (kind: RuleKind, id: string): Promise<string> => (await desk.office.ruleFile(kind, id, null))!.text
const look = async (text: string): Promise<RuleFilePreview> => granted(await desk.office.previewRuleFile(text))
const adopt = async (kind: RuleKind, id: string, content?: Record<string, unknown>) => {
  const { proposalId } = granted(await desk.office.proposeAdoption({ kind, id, content }, asInes()))
  granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
}
const problemsOf = async (text: string) => (await look(text)).problems

// The emergency card is the site's own words alone, and nobody offers one.
test('every rule of every kind goes out and comes back, and nothing differs', async () => {
  await adopt('dayPolicy', 'DP-1')
  expect(new Set(offers.map(({ kind }) => kind))).toEqual(new Set(RuleKind.options.filter((kind) => kind !== 'emergencyCard')))
  for (const { kind, id } of offers) {
    const shown = await look(await fileOf(kind, id))
    expect(shown).toMatchObject({ kind, id, checksum: 'matches', differs: [] })
    expect(shown.problems.map(({ says }) => says).filter((says) => says !== 'say first when this site raises and lifts a hold')).toEqual([])
  }
})

test('the file says kind, id, version, who wrote and who approved it', async () => {
  await adopt('dayPolicy', 'DP-1')
  expect(JSON.parse(await fileOf('dayPolicy', 'DP-1'))).toMatchObject({
    kind: 'dayPolicy',
    id: 'DP-1',
    version: 'invented, 1',
    state: 'inForce',
    writtenBy: 'Ines Varga',
    approvedBy: 'tomas',
    approvedOn: '2027-05-11',
    checksum: expect.stringMatching(/^sha256:[0-9a-f]{64}$/),
  })
  expect(await desk.office.ruleFile('dayPolicy', 'DP-9', null)).toBeNull()
})

test('spaces and the order of keys change nothing: the checksum is over the canonical form', async () => {
  const { content, ...head } = JSON.parse(await fileOf('protocol', 'run')) as Record<string, unknown>
  expect(await look(JSON.stringify({ content, ...head }))).toMatchObject({ checksum: 'matches', differs: [] })
})

test('changed outside, it is a new draft: told field by field, in force only when a second person has confirmed', async () => {
  await adopt('norms', 'FX-1')
  const heads = await desk.ledger.streams('')
  const changed = (await fileOf('norms', 'FX-1'))
    .replaceAll('"edition": "FX-1"', '"edition": "FX-1b"')
    .replace('"value": 840', '"value": 841')
  const shown = await look(changed)
  expect(shown).toMatchObject({ checksum: 'changed', edition: 'FX-1b', against: { state: 'inForce', edition: 'FX-1' }, problems: [] })
  expect(shown.differs.filter(({ path }) => !path.endsWith('edition'))).toEqual([
    { path: expect.stringMatching(/^tables › FX-1\/run › groups › . \d+–\d* › points › \d+th › value$/), before: '840', after: '841' },
  ])
  expect(await desk.ledger.streams('')).toEqual(heads)

  const { content } = shown
  const { proposalId } = granted(await desk.office.proposeAdoption({ kind: 'norms', id: 'FX-1', content }, asInes()))
  const both = (await desk.office.rules()).filter(({ kind, id }) => kind === 'norms' && id === 'FX-1')
  expect(both.map(({ state, edition }) => [state, edition])).toEqual([
    ['inForce', 'FX-1'],
    ['proposed', 'FX-1b'],
  ])
  expect((await desk.office.ruleFile('norms', 'FX-1', proposalId))?.text).toContain('"value": 841')
  expect(both[1]?.replaces?.differs).toEqual(shown.differs)
  expect(ruleOf(await desk.office.confirmAdoption({ proposalId }, asInes()))).toBe('secondPersonSame')
  granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
  expect((await look(changed)).differs).toEqual([])
  expect(await problemsOf(changed.replace('"value": 841', '"value": 842'))).toMatchObject([
    { says: 'FX-1b is known here with other content: a changed one needs an edition of its own' },
  ])
})

test('a table of the site’s own, of an id that nobody offered, is adopted from its file', async () => {
  const own = (await fileOf('standard', 'FX-1/minimum')).replaceAll('FX-1/minimum', 'Own-1').replace('"atLeast": 40', '"atLeast": 50')
  const shown = await look(own)
  expect(shown).toMatchObject({ against: null, problems: [], name: 'Minimum standard Own-1' })
  await adopt('standard', 'Own-1', shown.content)
  expect((await desk.office.rules()).find(({ id }) => id === 'Own-1')).toMatchObject({ state: 'inForce', name: 'Minimum standard Own-1' })
})

describe('what cannot be taken is refused with its line, and nothing is changed', () => {
  const refusalOf = async (text: string) => {
    const said = await desk.office.previewRuleFile(text)
    return 'refused' in said ? said.refused.says : undefined
  }

  test('what is no rule file', async () => {
    expect(await refusalOf('')).toBe('Line 1: this is not JSON here (ValueExpected). Nothing was changed.')
    expect(await refusalOf('{\n  "file": "musterbook rule",,\n}')).toContain('Line 2: this is not JSON here')
    expect(await refusalOf('{"file": "a shopping list"}')).toContain('Line 1: file:')
    const file = await fileOf('dayPolicy', 'DP-1')
    expect(await refusalOf(file.replace('"state"', '"mood"'))).toMatch(/^Line \d+: /)
    expect(await refusalOf(file.replace('  "id": "DP-1",\n', '  "id": "DP-1",\n  "id": "DP-2",\n'))).toBe(
      'Line 5: id stands twice in one place. Nothing was changed.',
    )
  })

  test('a key that is not known is named, not passed over', async () => {
    const file = (await fileOf('dayPolicy', 'DP-1')).replace('"retestDays": 14', '"retestDays": 14,\n    "retestWeeks": 2')
    const line = file.split('\n').findIndex((each) => each.includes('retestWeeks')) + 1
    const { problems, content } = await look(file)
    expect(problems).toEqual([{ line, says: 'retestWeeks is not known here: it would be passed over' }])
    const heads = await desk.ledger.streams('')
    expect(await desk.office.proposeAdoption({ kind: 'dayPolicy', id: 'DP-1', content }, asInes())).toMatchObject({
      refused: { rule: 'notAdoptable', params: { problems: 'retestWeeks is not known here: it would be passed over' } },
    })
    expect(await desk.ledger.streams('')).toEqual(heads)
  })

  test.each([
    ['protocol', 'run', '"tries": 1', '"tries": 0', 'tries: must be more than 0'],
    ['protocol', 'run', '"laps": 6', '"laps": "six"', 'laps: must be a number'],
    ['norms', 'FX-1', '"percentile": 60', '"percentile": 160', 'rows must stand from the best'],
    ['norms', 'FX-1', '"unit": "wholeSeconds"', '"unit": "fortnights"', 'unit'],
    ['heatPolicy', 'HP-1', '"settledReadingsToLift": 1', '"settledReadingsToLift": 0', 'settledReadingsToLift'],
    ['standard', 'FX-1/minimum', '"atLeast": 40', '"atLeast": 400', 'atLeast'],
    ['dayPolicy', 'DP-1', '"leapBirthday": "march1"', '"leapBirthday": "march2"', 'leapBirthday: must be one of '],
    ['recordsPolicy', 'RP-1', '"leastShown": 5', '"leastShown": 2', 'leastShown'],
    ['healthQuestions', 'HQ-1', '"invented": true', '"invented": "yes"', 'invented: must be true or false'],
  ] as const)('%s %s: %s as %s', async (kind, id, is, becomes, says) => {
    const file = await fileOf(kind, id)
    expect(file).toContain(is)
    const problems = await problemsOf(file.replace(is, becomes))
    expect(problems.map((problem) => problem.says).join()).toContain(says)
    const line = file.split('\n').findIndex((each) => each.includes(is)) + 1
    expect(problems.map((problem) => problem.line)).toContainEqual(says.startsWith('rows') ? expect.any(Number) : line)
  })

  test('head and content of two different rules', async () => {
    const file = (await fileOf('dayPolicy', 'DP-1')).replace('"id": "DP-1"', '"id": "DP-2"')
    expect(await problemsOf(file)).toMatchObject([{ says: 'the file is of DP-2 and its content of DP-1' }])
  })
})

test('no day opens on adopted rules of the day that name something unknown, and the key is named', async () => {
  const { content } = offers.find(({ kind }) => kind === 'dayPolicy')!
  expect(contentProblems('dayPolicy', { ...content, answerDays: {} })).toMatchObject([{ path: ['answerDays'] }])
  const event = {
    type: 'adoptionProposed',
    proposalId: 'p',
    kind: 'dayPolicy',
    id: 'DP-1',
    edition: 'old',
    contentDigest: '',
    proposedBy: 'a',
  }
  const events = (more: object) => [
    { ...event, content: { ...content, ...more } },
    { type: 'adopted', proposalId: 'p', adoptedBy: 'b' },
  ]
  const meta = { ...told(null, []).envelope, command: 'x', bodyDigest: '0'.repeat(64), personId: null, deviceId: 'device-1' }
  await desk.ledger.append('rules/hill', 0, { meta, recordedAt: 1, events: events({ retestWeeks: 2 }) })
  const day = ComposeDay.parse({ date: '2027-05-11', title: 'Entry test', rehearsal: false, classIds: ['lark-7'] })
  const missing = async () => {
    const composed = await desk.office.composeDay(day)
    return 'missing' in composed ? composed.missing[0] : undefined
  }
  expect(await missing()).toBe('The rules of the day name retestWeeks, which is not known here: propose them without it.')
  // Days to answer a case stood here once, and a site that adopted them then still opens its days.
  const again = { ...meta, ...told(null, []).envelope }
  await desk.ledger.append('rules/hill', 1, { meta: again, recordedAt: 2, events: events({ answerDays: { inspect: 45 } }) })
  expect(await missing()).toBe('The venue has no stations yet.')
})
