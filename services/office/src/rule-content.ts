import { type HeatPolicy, type HeatTable, policyProblems, tableProblems } from '@musterbook/heat/policies'
import type { MinimumStandard } from '@musterbook/scoring/minimum-standard'
import { type NormTable, normTableProblems } from '@musterbook/scoring/norms'
import { type Protocol, protocolProblems } from '@musterbook/stations/protocol'
import { type ReadingUnit, scoreUnits } from '@musterbook/stations/units'
import { EmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { Unit } from '@musterbook/vocabulary/measured'
import { HeatHoldRules } from '@musterbook/vocabulary/office'
import type { RuleKind } from '@musterbook/vocabulary/office-events'
import { RecordsPolicy } from '@musterbook/vocabulary/records'
import { PinnedProtocol } from '@musterbook/vocabulary/rules'
import { z } from 'zod'
import { DayPolicy } from './day-policy.ts'
import { HealthQuestionSet } from './health-questions.ts'

/** What is wrong with a content, and where: an empty path is the whole of it. */
export interface ContentProblem {
  path: readonly (string | number)[]
  says: string
}

/** Everything that keeps this from being a rule of its kind. A key that the kind does not know is one: it would be passed over in silence. */
export function contentProblems(kind: RuleKind, content: unknown): ContentProblem[] {
  const parsed = schemaOf(kind, content).safeParse(content, { reportInput: true })
  if (parsed.success) return sense[kind](parsed.data as never)
  return parsed.error.issues.flatMap(issueProblems)
}

function issueProblems(issue: z.core.$ZodIssue): ContentProblem[] {
  const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step))
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({ path: [...path, key], says: `${key} is not known here: it would be passed over` }))
  if (issue.code === 'invalid_union' && issue.errors.length > 0) return [{ path, says: 'it is none of the forms that may stand here' }]
  const where = path.length === 0 ? '' : `${path.join('.')}: `
  return [{ path, says: `${where}${inPlainWords(issue)}` }]
}

const counted: Record<string, string> = { string: ' characters', array: ' entries' }
const kinds: Record<string, string> = {
  int: 'a whole number',
  array: 'a list',
  object: 'an object',
  boolean: 'true or false',
  string: 'text',
}

/** Whoever brings the file is no programmer. */
function inPlainWords(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_type')
    return issue.input === undefined ? 'is missing' : `must be ${kinds[issue.expected] ?? `a ${issue.expected}`}`
  if (issue.code === 'too_small')
    return `must be ${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}${counted[issue.origin] ?? ''}`
  if (issue.code === 'too_big')
    return `must be ${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}${counted[issue.origin] ?? ''}`
  if (issue.code === 'invalid_value') return `must be one of ${issue.values.map(String).join(', ')}`
  return issue.message
}

const Line = z.string().min(1).max(1000)
const Lines = z.array(Line).max(60)
const Id = z.string().min(1).max(80)
const Count = z.int().nonnegative()
const ScoreUnit = z.enum(scoreUnits)
const ReadingUnits = z.enum(scoreUnits.filter((unit): unit is ReadingUnit => Unit.safeParse(unit).success))
const Sex = z.enum(['M', 'W', 'any'])
const Timing = z.enum(['hand', 'electronic'])

const common = {
  protocolId: Id,
  version: z.int().positive(),
  name: Id,
  measures: Line,
  steps: Lines,
  voids: Lines,
  faults: Lines,
  noFaults: Lines,
  tries: PinnedProtocol.shape.tries,
  official: z.enum(['best', 'last', 'mean']),
  betterIs: PinnedProtocol.shape.betterIs,
  unit: ReadingUnits,
  resolution: z.int().positive(),
  scoreUnit: ScoreUnit,
  rounding: z.strictObject({ rule: z.enum(['up', 'down', 'nearest', 'none']), to: z.int().positive() }),
  plausible: z.strictObject({ min: z.number(), max: z.number() }),
  askJump: z.number().nonnegative(),
  minimumRestMs: Count,
  prerequisites: z.array(z.enum(['warmUp', 'bodyMass'])),
  outdoor: z.boolean(),
  maximalEffort: z.boolean(),
  witnessRule: z.enum(['slowerCounts', 'lowerCounts', 'personDecides']),
  timing: Timing.exactOptional(),
  judgedBy: z.array(z.enum(['stationStaff', 'spotter', 'lapCounter'])),
  stopWhen: Lines,
  tellWhom: Line,
  cautions: Lines,
  source: Line,
  invented: z.boolean(),
}

const ProtocolForm: z.ZodType<Protocol> = z.discriminatedUnion('kind', [
  z.strictObject({
    ...common,
    kind: z.literal('skinfold'),
    details: z.strictObject({
      equation: z.enum(['jacksonPollock3', 'jacksonPollock7', 'durninWomersley']),
      conversion: z.enum(['siri', 'brozek']),
      repeatRule: z.union([
        z.strictObject({ name: z.literal('nsca') }),
        z.strictObject({ name: z.literal('acsm'), limitMm: z.literal([1, 2]) }),
        z.strictObject({ name: z.literal('isak') }),
      ]),
      foldMin: Count,
      foldMax: Count,
    }),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('timed'),
    details: z.strictObject({
      course: z.strictObject({
        name: Line,
        lengthMm: Count,
        widthMm: Count.exactOptional(),
        markers: Count.exactOptional(),
        turningSide: z.enum(['left', 'right']).exactOptional(),
      }),
      start: Line,
      finish: Line,
    }),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('measured'),
    details: z.strictObject({
      instrument: Line,
      footLineMm: Count.exactOptional(),
      boxMm: z.strictObject({ length: Count, width: Count, height: Count }).exactOptional(),
      feetApartMm: Count.exactOptional(),
      negativeAllowed: z.boolean(),
    }),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('loaded'),
    details: z.strictObject({
      bar: Count,
      loadStep: z.int().positive(),
      aimWithin: z.int().positive(),
      spotters: Count,
      stepUpTenths: z.strictObject({ min: Count, max: Count }),
      stepDownTenths: Count,
      firstLoadPercentOfMass: z.strictObject({ M: Count, W: Count }),
    }),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('counted'),
    details: z.strictObject({
      counts: Line,
      windowMs: z.int().positive().exactOptional(),
      cadencePerMinute: z.number().positive().exactOptional(),
    }),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('run'),
    details: z.strictObject({
      track: z.strictObject({ lapMm: z.int().positive(), laps: z.int().positive(), startOffsetMm: Count }),
      distanceMm: z.int().positive(),
      toleranceMm: Count,
      minimumLapMs: Count,
      askUnderLapMs: Count,
      missedCrossingHundredths: z.strictObject({ from: z.int().positive(), to: z.int().positive() }),
      doubleTapUnderHundredths: Count,
      didNotFinish: Lines,
    }),
  }),
])

const NormsForm: z.ZodType<{ tables: NormTable[] }> = z.strictObject({
  tables: z
    .array(
      z.strictObject({
        id: Id,
        edition: Id,
        test: Id,
        source: Line,
        population: Line,
        invented: z.boolean(),
        unit: ScoreUnit,
        betterIs: z.enum(['higher', 'lower']),
        lookup: z.enum(['step', 'linear']),
        outsideAges: z.enum(['noNorm', 'nearestGroup']),
        groups: z
          .array(
            z.strictObject({
              sex: Sex,
              ageFrom: Count,
              ageTo: Count.nullable(),
              points: z.array(z.strictObject({ percentile: z.number(), value: z.number() })).max(200),
              tails: z.strictObject({ above: z.string(), below: z.string() }).exactOptional(),
            }),
          )
          .min(1)
          .max(60),
        footLineMm: Count.exactOptional(),
        timing: Timing.exactOptional(),
        method: Line.exactOptional(),
        note: Line.exactOptional(),
      }),
    )
    .min(1)
    .max(20),
})

const Bound = z.strictObject({ tenths: z.int(), included: z.boolean() })
const Population = z.enum(['everyone', 'acclimatised', 'unacclimatised'])
const heatTable = {
  id: Id,
  edition: Line,
  citation: Line,
  terms: z.enum(['publicDomain', 'askThePublisher', 'invented']),
  unit: z.enum(['degC', 'degF']),
  activity: z.enum(['training', 'continuous']),
  bands: z
    .array(
      z.strictObject({
        id: Id,
        flag: Id.exactOptional(),
        from: Bound.exactOptional(),
        to: Bound.exactOptional(),
        advice: z.array(z.strictObject({ population: Population, says: Line, stops: z.boolean() })),
      }),
    )
    .max(20),
  clothing: z.array(
    z.strictObject({ id: Id, name: Line, tenths: z.int(), unit: z.enum(['degC', 'degF']), readAs: Population.exactOptional() }),
  ),
  disagreements: Lines,
}
const HeatTableForm: z.ZodType<HeatTable> = z.strictObject(heatTable)
const HeatPolicyForm: z.ZodType<HeatPolicy> = z.strictObject({ ...heatTable, ...HeatHoldRules.shape })

const StandardForm: z.ZodType<MinimumStandard> = z.strictObject({
  id: Id,
  edition: Id,
  source: Line,
  invented: z.boolean(),
  rule: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('percentile'), atLeast: z.number().min(0).max(100) }),
    z.strictObject({
      kind: z.literal('value'),
      unit: ScoreUnit,
      groups: z.array(z.strictObject({ sex: Sex, ageFrom: Count, ageTo: Count.nullable(), value: z.number() })).max(60),
    }),
  ]),
})

/** A published heat table stands by itself until a site has said when it raises and lifts. */
const hasHoldRules = (content: unknown): boolean =>
  typeof content === 'object' && content !== null && Object.keys(HeatHoldRules.shape).some((name) => name in content)

const schemas = {
  protocol: ProtocolForm,
  norms: NormsForm,
  standard: StandardForm,
  dayPolicy: DayPolicy,
  recordsPolicy: RecordsPolicy,
  healthQuestions: HealthQuestionSet,
  emergencyCard: EmergencyCard,
} as const satisfies Record<Exclude<RuleKind, 'heatPolicy'>, z.ZodType>

const schemaOf = (kind: RuleKind, content: unknown): z.ZodType =>
  kind === 'heatPolicy' ? (hasHoldRules(content) ? HeatPolicyForm : HeatTableForm) : schemas[kind]

const at = (path: ContentProblem['path'], says: readonly string[]): ContentProblem[] => says.map((one) => ({ path, says: one }))

/** What a schema cannot see: whether the parts make sense together. */
const sense: { [Kind in RuleKind]: (content: never) => ContentProblem[] } = {
  protocol: (content: Protocol) => at([], protocolProblems(content)),
  norms: ({ tables }: { tables: NormTable[] }) => tables.flatMap((table, index) => at(['tables', index], normTableProblems(table))),
  heatPolicy: (content: HeatTable | HeatPolicy) =>
    at([], 'raise' in content ? policyProblems(content) : [...tableProblems(content), 'say first when this site raises and lifts a hold']),
  standard: () => [],
  dayPolicy: () => [],
  recordsPolicy: () => [],
  healthQuestions: () => [],
  emergencyCard: () => [],
}
