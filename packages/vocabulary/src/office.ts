import { z } from 'zod'
import type { AccessLog } from './access.ts'
import { type Case, caseActs, type CaseBrief, type CaseId } from './case.ts'
import type { PinnedEmergencyCard } from './emergency-card.ts'
import type { By, Envelope } from './envelope.ts'
import {
  type BadgeNumber,
  ClassId,
  DayId,
  DeviceId,
  EntitlementId,
  EquipmentId,
  PersonId,
  SiteId,
  StationId,
  StudentId,
  type TextId,
  ZoneId,
} from './ids.ts'
import { DevicePurpose, Equipment, NormSex, PlacedStation, PlacedZone, Qualification, RuleKind, UnsentTold } from './office-events.ts'
import type { OfficeRefusal } from './office-refusals.ts'
import type { OpenDay } from './opening.ts'
import { Language, Role, type SealedText } from './people.ts'
import { type Erasure, recordActs, type RecordsPolicy } from './records.ts'

/** As people write their names, in any script; no control characters. */
export const PersonName = z
  .string()
  .trim()
  .min(1)
  .max(120)
  .regex(/^\P{Cc}+$/u)
export const Pin = z.string().regex(/^[0-9]{4,12}$/)
/** What stands on a student's card: upper and lower case are one. */
export const StudentCode = z
  .string()
  .trim()
  .min(1)
  .max(40)
  .regex(/^\P{Cc}+$/u)
const FreeText = z.string().trim().min(1).max(2000)
/** A person's roles: what a device is, nobody is. */
const PersonRoles = z
  .array(Role.exclude(['kiosk', 'device']))
  .min(1)
  .max(7)

// Bodies of what may be asked of the office

export const SetUp = z.strictObject({
  code: z.string().min(1).max(40),
  site: z.strictObject({
    siteId: SiteId.optional(),
    name: z.string().trim().min(1).max(120),
    /** IANA name. */
    timeZone: z.string().min(1).max(60),
    zones: z.array(PlacedZone).max(20).default([]),
    stations: z.array(PlacedStation).max(20).default([]),
  }),
  coordinator: z.strictObject({ name: PersonName, pin: Pin }),
  /** The device on which the set-up is done is the first one enrolled. */
  deviceName: z.string().trim().min(1).max(60).default('Set-up'),
})
export type SetUp = z.infer<typeof SetUp>

export const AddPerson = z.strictObject({
  name: PersonName,
  roles: PersonRoles,
  qualifications: z.array(Qualification).max(20),
  /** A first PIN, to be changed by its person; null: none yet. */
  pin: Pin.nullable(),
})
export type AddPerson = z.infer<typeof AddPerson>
/** `seen`, here and below: the thing as the screen showed it. Changed since by somebody else, the later save is refused; null: it was not there. */
export const RenamePerson = z.strictObject({ personId: PersonId, name: PersonName, seen: z.strictObject({ name: z.string() }).optional() })
export const ChangeRoles = z.strictObject({
  personId: PersonId,
  roles: PersonRoles,
  seen: z.strictObject({ roles: z.array(Role) }).optional(),
})
export const Qualify = z.strictObject({ personId: PersonId, ...Qualification.shape })
export const EndQualification = z.strictObject({ personId: PersonId, stationId: StationId })
export const SetPin = z.strictObject({ personId: PersonId, pin: Pin })
export const ChangeOwnPin = z.strictObject({ oldPin: Pin, newPin: Pin })
export const LetPersonGo = z.strictObject({ personId: PersonId })
/** A new badge for each; who had one loses it. */
export const MakeBadges = z.strictObject({ personIds: z.array(PersonId).min(1).max(400) })
export const TakeBadgeBack = z.strictObject({ personId: PersonId })

export const InviteDevice = z.strictObject({
  name: z.string().trim().min(1).max(60),
  purpose: DevicePurpose,
  stationId: StationId.nullable().default(null),
})
export type InviteDevice = z.infer<typeof InviteDevice>
export const RevokeDevice = z.strictObject({ deviceId: DeviceId })
/** `unsentShown`: what the screen said that the device alone keeps; null: that it is not known. */
export const LockDevice = z.strictObject({
  deviceId: DeviceId,
  reason: z.string().trim().min(1).max(200),
  unsentShown: UnsentTold.nullable(),
})
export const UnlockDevice = z.strictObject({ deviceId: DeviceId, reason: z.string().trim().min(1).max(200) })

export const NameClass = z.strictObject({ classId: ClassId.optional(), name: z.string().trim().min(1).max(60) })
export const EnrolStudent = z.strictObject({
  classId: ClassId,
  code: StudentCode,
  familyName: PersonName,
  givenName: PersonName,
  birthDate: z.iso.date(),
  normSex: NormSex,
  language: Language,
})
export type EnrolStudent = z.infer<typeof EnrolStudent>
export const LetStudentGo = z.strictObject({ studentId: StudentId })
export const CorrectNormSex = z.strictObject({ studentId: StudentId, to: NormSex, reason: FreeText })
export const CorrectBirthDate = z.strictObject({ studentId: StudentId, to: z.iso.date(), reason: FreeText })

/** `take` or `leave` by line. Unsaid, what is new or changed is taken, what asks is left. What is unusable is never taken. */
export const AcceptRoster = z.strictObject({
  previewId: z.string().min(1).max(96),
  choices: z.record(z.string().regex(/^[0-9]{1,7}$/), z.enum(['take', 'leave'])).default({}),
})
export type AcceptRoster = z.infer<typeof AcceptRoster>

export const PlaceZone = z.strictObject({ ...PlacedZone.shape, seen: PlacedZone.nullable().optional() })
export const RemoveZone = z.strictObject({ zoneId: ZoneId })
export const PlaceStation = z.strictObject({ ...PlacedStation.shape, seen: PlacedStation.nullable().optional() })
export const RemoveStation = z.strictObject({ stationId: StationId })
export const RegisterEquipment = Equipment
export const ChangeEquipment = z.strictObject({ ...Equipment.shape, seen: Equipment.optional() })
export const RetireEquipment = z.strictObject({ equipmentId: EquipmentId })

const Bound = z.strictObject({ tenths: z.int(), included: z.boolean() })
/** What no published heat table prints and each site decides. Tenths of the table's own unit. */
export const HeatHoldRules = z.strictObject({
  population: z.enum(['everyone', 'acclimatised', 'unacclimatised']),
  readingsNeeded: z.boolean(),
  raise: Bound,
  lift: Bound,
  dwellMinutes: z.int().nonnegative(),
  settledReadingsToLift: z.int().positive(),
  readingAgeMinutes: z.int().positive(),
  contactAgeMinutes: z.int().positive(),
  derivedWetBulbMayLift: z.boolean(),
  latched: z.boolean(),
})
export type HeatHoldRules = z.infer<typeof HeatHoldRules>
export const ProposeAdoption = z.strictObject({
  kind: RuleKind,
  id: z.string().min(1).max(80),
  /** For a published heat table: when this site raises and lifts. There is no default that nobody chose. */
  holdRules: HeatHoldRules.optional(),
  /** Of a file that was changed outside: the whole content that it shall have, instead of what is offered under this id. */
  content: z.looseObject({}).optional(),
})
export const ConfirmAdoption = z.strictObject({ proposalId: z.string().min(1).max(96) })
export const WithdrawProposal = z.strictObject({ proposalId: z.string().min(1).max(96) })
export const EndAdoption = z.strictObject({ kind: RuleKind, id: z.string().min(1).max(80) })

export const ComposeDay = z.strictObject({
  dayId: DayId.optional(),
  date: z.iso.date(),
  title: z.string().trim().min(1).max(120),
  rehearsal: z.boolean(),
  classIds: z.array(ClassId).max(20),
  /** Who comes on a retest entitlement, and the day that granted it: beside the classes, or on a day of retests alone. */
  retests: z
    .array(z.strictObject({ dayId: DayId, entitlementId: EntitlementId }))
    .max(400)
    .default([]),
  /** Which stations stand on that day; absent: all of the venue. */
  stationIds: z.array(StationId).min(1).max(20).optional(),
  /** Which adopted heat policy governs; absent: the only one in force. */
  heatPolicyId: z.string().min(1).max(60).optional(),
})
export type ComposeDay = z.infer<typeof ComposeDay>

export const LookUp = z.strictObject({ code: z.string().min(1).max(60), birthDate: z.iso.date() })
export type LookUp = z.infer<typeof LookUp>

export const AnswerHealth = z.strictObject({
  dayId: DayId,
  studentId: StudentId,
  setId: z.string().min(1).max(60),
  /** By question: a choice's id, or words. */
  answers: z.record(z.string().min(1).max(40), z.string().max(2000)),
})
export type AnswerHealth = z.infer<typeof AnswerHealth>
export const NoteHealth = z.strictObject({
  dayId: DayId.nullable(),
  studentId: StudentId,
  kind: z.enum(['note', 'clearanceReason']),
  /** The clearance that it explains. */
  about: z.string().max(96).nullable(),
  text: FreeText,
})
export type NoteHealth = z.infer<typeof NoteHealth>
export const OpenHealth = z.strictObject({ studentId: StudentId, dayId: DayId.nullable().default(null) })
export type OpenHealth = z.infer<typeof OpenHealth>
export const OpenHealthInEmergency = z.strictObject({ ...OpenHealth.shape, reason: FreeText })
export type OpenHealthInEmergency = z.infer<typeof OpenHealthInEmergency>
export const ReviewOpening = z.strictObject({
  openingId: z.string().min(1).max(96),
  finding: z.enum(['accepted', 'notAccepted']),
  note: FreeText.nullable(),
})
export type ReviewOpening = z.infer<typeof ReviewOpening>

interface OfficeAct<Body extends z.ZodType> {
  body: Body
  /** `POST /api/office/<noun>`. */
  noun: string
  roles: readonly Role[]
  /** The gateway proves a second person's PIN and puts them into `by.countersigned`. */
  countersign: boolean
}
const act = <Body extends z.ZodType>(noun: string, body: Body, roles: readonly Role[], countersign = false): OfficeAct<Body> => ({
  body,
  noun,
  roles,
  countersign,
})
const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator']
const lead: readonly Role[] = ['supervisor', 'coordinator']
const coordinator: readonly Role[] = ['coordinator']

/** Which role may ask what of the office: each name is a method `(body, told)` of `Office`. */
export const officeActs = {
  addPerson: act('people', AddPerson, coordinator),
  renamePerson: act('people-names', RenamePerson, coordinator),
  changeRoles: act('people-roles', ChangeRoles, coordinator),
  qualify: act('qualifications', Qualify, coordinator),
  endQualification: act('qualification-ends', EndQualification, coordinator),
  setPin: act('pins', SetPin, coordinator),
  /** `device`: whoever signed on with a first PIN is no more than that until it is changed. */
  changeOwnPin: act('own-pins', ChangeOwnPin, [...staff, 'auditor', 'device']),
  letPersonGo: act('people-departures', LetPersonGo, coordinator),
  makeBadges: act('badges', MakeBadges, coordinator),
  takeBadgeBack: act('badge-returns', TakeBadgeBack, coordinator),

  inviteDevice: act('device-codes', InviteDevice, lead),
  revokeDevice: act('device-revocations', RevokeDevice, lead),
  lockDevice: act('device-locks', LockDevice, lead),
  unlockDevice: act('device-unlocks', UnlockDevice, lead),

  nameClass: act('classes', NameClass, coordinator),
  enrolStudent: act('students', EnrolStudent, lead),
  letStudentGo: act('student-departures', LetStudentGo, coordinator),
  correctNormSex: act('norm-sex-corrections', CorrectNormSex, coordinator, true),
  correctBirthDate: act('birth-date-corrections', CorrectBirthDate, coordinator, true),
  acceptRoster: act('rosters', AcceptRoster, coordinator),

  placeZone: act('zones', PlaceZone, coordinator),
  removeZone: act('zone-removals', RemoveZone, coordinator),
  placeStation: act('stations', PlaceStation, coordinator),
  removeStation: act('station-removals', RemoveStation, coordinator),
  registerEquipment: act('equipment', RegisterEquipment, lead),
  changeEquipment: act('equipment-changes', ChangeEquipment, lead),
  retireEquipment: act('equipment-retirements', RetireEquipment, lead),

  proposeAdoption: act('adoption-proposals', ProposeAdoption, lead),
  confirmAdoption: act('adoptions', ConfirmAdoption, lead),
  withdrawProposal: act('proposal-withdrawals', WithdrawProposal, lead),
  endAdoption: act('adoption-ends', EndAdoption, lead),

  ...caseActs,
  ...recordActs,
} as const
export type OfficeActName = keyof typeof officeActs

/** Who asks, on what, when: as every command carries it. */
export interface Told {
  by: By
  envelope: Envelope
}
/** The thing asked for, or the office's refusal. */
export type Said<T> = T | { refused: OfficeRefusal }
type Act<A extends OfficeActName, T> = (body: z.infer<(typeof officeActs)[A]['body']>, told: Told) => Promise<Said<T>>

export interface Site {
  siteId: SiteId
  name: string
  timeZone: string
}
export interface Person {
  personId: PersonId
  name: string
  roles: readonly Role[]
  qualifications: readonly Qualification[]
  /** `first`: set by a coordinator and not yet changed by its person. */
  pin: 'none' | 'first' | 'own'
  left: boolean
  badge: BadgeNumber | null
  badgesTakenBack: readonly BadgeNumber[]
}
export interface Device {
  deviceId: DeviceId
  name: string
  purpose: DevicePurpose
  stationId: StationId | null
  state: 'invited' | 'enrolled' | 'revoked'
  /** Of the code, while invited. */
  expiresAt: number
  /** Lost, until somebody has it back. */
  locked: { personId: PersonId; at: number; reason: string } | null
}
/** What staff see of a student. `lookAlike`: ids of the others, among those asked for, whose names could be taken for this one. */
export interface StudentOnDay {
  studentId: StudentId
  name: string
  familyName: string
  givenName: string
  code: string
  classId: ClassId
  /** From it the screen draws a face that is always the same. */
  face: string
  /** Of an uploaded photo; null: the drawn face. */
  photoDigest: string | null
  lookAlike: StudentId[]
  language: Language
}
/** What the office itself sees. */
export interface Student extends StudentOnDay {
  birthDate: string
  normSex: NormSex
  left: boolean
}
export interface Class {
  classId: ClassId
  name: string
  students: number
}

export interface RosterOptions {
  dateOrder: 'dmy' | 'mdy' | 'ymd'
  /** Absent: found out from the file. */
  delimiter?: ',' | ';' | '\t' | '|'
  encoding?: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252'
  /** The class of rows that name none. */
  className?: string
  /** Header by field, where ours are not recognised. */
  columns?: Partial<Record<RosterField, string>>
}
export type RosterField = 'code' | 'familyName' | 'givenName' | 'birthDate' | 'normSex' | 'class' | 'language'
/** What will become of one row. `asks`: left unless somebody takes it; `unusable`: cannot be taken. */
export type RosterFate = 'new' | 'changed' | 'unchanged' | 'asks' | 'unusable'
export interface RosterRow {
  /** Line of the file on which the row begins, from 1. */
  line: number
  fate: RosterFate
  /** Sentences: why it asks or is unusable, what will change, what was assumed. */
  says: string[]
  /** Lines or codes of whom this one could be taken for. */
  lookAlikes: string[]
  values: Partial<Record<RosterField, string>>
  /** The student it would change. */
  studentId: StudentId | null
}
export interface RosterPreview {
  previewId: string
  encoding: string
  delimiter: string
  columns: Partial<Record<RosterField, string>>
  ignoredColumns: string[]
  /** Something about the whole file, as that its dates fit another order better. */
  hint: string | null
  /** Of a file that was exported here: its class and version, and whether it is still as it was written. Null: a file of somebody else's. */
  exported: { class: string; version: string; checksum: 'matches' | 'changed' } | null
  rows: RosterRow[]
  counts: Record<RosterFate, number>
}
export interface RosterTaken {
  taken: { line: number; studentId: StudentId; code: string }[]
  left: { line: number; fate: RosterFate }[]
  newClasses: ClassId[]
}

/** Something that could be adopted, and how far it has come. */
export interface Offer {
  kind: RuleKind
  id: string
  edition: string
  name: string
  source: string
  invented: boolean
  /** Why it cannot be adopted; none when it can. */
  problems: string[]
  state: 'offered' | 'proposed' | 'inForce'
  proposalId: string | null
  proposedBy: PersonId | null
  adoptedBy: PersonId | null
  /** Local civil date of the site. */
  adoptedOn: string | null
  contentDigest: string
  content: Record<string, unknown>
  /** Of a proposal: the version in force that it would replace, and every field that differs. */
  replaces: { edition: string; differs: Difference[] } | null
}

/** One field in which a version differs from another; null: it is not there. */
export interface Difference {
  path: string
  before: string | null
  after: string | null
}
/** What a file of a rule would change. Nothing is saved by looking. */
export interface RuleFilePreview {
  kind: RuleKind
  id: string
  name: string
  edition: string
  /** `changed`: after it was exported. Nothing is wrong with that: it becomes a new draft version. `none`: the file names none. */
  checksum: 'matches' | 'changed' | 'none'
  /** What it was compared with; null: nothing of this id is known here. */
  against: { state: Offer['state']; edition: string } | null
  differs: Difference[]
  /** Why it cannot be proposed, each with its line in the file, from 1. */
  problems: { line: number; says: string }[]
  content: Record<string, unknown>
}

export interface HealthQuestion {
  questionId: string
  /** `choice`: one of `choices`; `words`: free. */
  kind: 'choice' | 'words'
  asks: Record<Language, string>
  choices: { choiceId: string; says: Record<Language, string> }[]
}
export interface HealthQuestions {
  id: string
  edition: string
  /** Whose wording it is, shown unedited with name and date. */
  wordingBy: string
  wordingOn: string
  invented: boolean
  intro: Record<Language, string>
  questions: HealthQuestion[]
}
/** One student's medical compartment, opened. */
export interface HealthRecord {
  studentId: StudentId
  answers: { dayId: DayId; setId: string; answers: Record<string, string>; givenAt: number }[]
  notes: { dayId: DayId | null; kind: NoteHealth['kind']; about: string | null; text: string; writtenBy: PersonId; writtenAt: number }[]
}
export interface EmergencyOpening {
  openingId: string
  personId: PersonId
  studentId: StudentId
  dayId: DayId | null
  reason: string
  openedAt: number
}

/** The academy's own desk: people, devices, venue, rosters, rules, and everything personal that the ledger must not hold. */
export interface Office {
  // Set-up
  setUpNeeded(): Promise<boolean>
  /** A fresh one-time code, to be printed where the server was started; the one before is void. Null once the site is set up. */
  newSetUpCode(): Promise<string | null>
  setUp(body: SetUp, told: Told): Promise<Said<{ siteId: SiteId; personId: PersonId; deviceId: DeviceId; deviceToken: string }>>
  site(): Promise<Site | null>

  // People
  people(): Promise<Person[]>
  person(personId: PersonId): Promise<Person | null>
  addPerson: Act<'addPerson', { personId: PersonId }>
  renamePerson: Act<'renamePerson', { personId: PersonId }>
  changeRoles: Act<'changeRoles', { personId: PersonId }>
  qualify: Act<'qualify', { personId: PersonId }>
  endQualification: Act<'endQualification', { personId: PersonId }>
  setPin: Act<'setPin', { personId: PersonId }>
  changeOwnPin: Act<'changeOwnPin', { personId: PersonId }>
  letPersonGo: Act<'letPersonGo', { personId: PersonId }>
  makeBadges: Act<'makeBadges', { made: number }>
  takeBadgeBack: Act<'takeBadgeBack', { personId: PersonId }>
  /** Whom a badge names, if it is good and they work here. */
  whoseBadge(read: string): Promise<Said<{ person: Person }>>
  /** Is this the person? For sign-on and for a second person's word. Wrong tries are counted by person and by device, and each makes the next wait longer. */
  provePerson(personId: string, pin: string, deviceId: DeviceId): Promise<Said<{ person: Person }>>
  /** Stations for which the person is listed as qualified on that date. */
  qualifiedFor(personId: PersonId, date: string): Promise<StationId[]>

  // Devices
  devices(): Promise<Device[]>
  inviteDevice: Act<'inviteDevice', { code: string; deviceId: DeviceId; expiresAt: number }>
  /** The token goes into the device's cookie and is told once; only its digest is kept. */
  enrolDevice(code: string, told: Told): Promise<Said<{ device: Device; token: string }>>
  deviceOf(token: string): Promise<Device | null>
  revokeDevice: Act<'revokeDevice', { deviceId: DeviceId }>
  lockDevice: Act<'lockDevice', { deviceId: DeviceId }>
  unlockDevice: Act<'unlockDevice', { deviceId: DeviceId }>

  // Classes, students, rosters
  classes(): Promise<Class[]>
  nameClass: Act<'nameClass', { classId: ClassId }>
  studentsOfClass(classId: ClassId): Promise<Student[]>
  student(studentId: StudentId): Promise<Student | null>
  enrolStudent: Act<'enrolStudent', { studentId: StudentId }>
  letStudentGo: Act<'letStudentGo', { studentId: StudentId }>
  correctNormSex: Act<'correctNormSex', { studentId: StudentId }>
  correctBirthDate: Act<'correctBirthDate', { studentId: StudentId }>
  /** In the order asked for; who is not known is left out. Look-alikes are marked among those asked for. */
  studentsOnDay(studentIds: readonly StudentId[]): Promise<StudentOnDay[]>
  /** Code and second identifier together, one answer for either being wrong; counted by device. Age in completed years on `date`. */
  lookUp(body: LookUp, date: string, deviceId: DeviceId): Promise<Said<{ student: StudentOnDay; normSex: NormSex; ageYears: number }>>
  keepPhoto(studentId: StudentId, bytes: Uint8Array): Promise<Said<{ photoDigest: string }>>
  photo(photoDigest: string): Promise<{ bytes: Uint8Array; mediaType: string } | null>
  /** A picture of a display or a loaded bar, kept by the digest of its bytes; the day's own entry names the digest. */
  keepEvidence(bytes: Uint8Array): Promise<Said<{ photoDigest: string }>>
  evidence(photoDigest: string): Promise<{ bytes: Uint8Array; mediaType: string } | null>
  /** Nothing is saved by looking. */
  previewRoster(bytes: Uint8Array, options: RosterOptions): Promise<Said<RosterPreview>>
  acceptRoster: Act<'acceptRoster', RosterTaken>
  /** A class as a file that `previewRoster` reads again; null: there is no such class. */
  rosterFile(classId: ClassId): Promise<{ name: string; text: string } | null>

  // Venue and equipment
  venue(): Promise<{ zones: PlacedZone[]; stations: PlacedStation[] }>
  placeZone: Act<'placeZone', { zoneId: ZoneId }>
  removeZone: Act<'removeZone', { zoneId: ZoneId }>
  placeStation: Act<'placeStation', { stationId: StationId }>
  removeStation: Act<'removeStation', { stationId: StationId }>
  equipment(): Promise<Equipment[]>
  registerEquipment: Act<'registerEquipment', { equipmentId: EquipmentId }>
  changeEquipment: Act<'changeEquipment', { equipmentId: EquipmentId }>
  retireEquipment: Act<'retireEquipment', { equipmentId: EquipmentId }>

  // Rules
  /** What is offered and what is in force. Nothing is in force until two different people adopted it. */
  rules(): Promise<Offer[]>
  /** A rule as it is shown, as a file to read and change outside; of several under one id the one of that proposal. Null: there is none. */
  ruleFile(kind: RuleKind, id: string, proposalId: string | null): Promise<{ name: string; text: string } | null>
  previewRuleFile(text: string): Promise<Said<RuleFilePreview>>
  proposeAdoption: Act<'proposeAdoption', { proposalId: string }>
  confirmAdoption: Act<'confirmAdoption', { proposalId: string }>
  withdrawProposal: Act<'withdrawProposal', { proposalId: string }>
  endAdoption: Act<'endAdoption', { id: string }>
  /** The card in force now, as a day that opens would pin it; null: there is none. */
  emergencyCard(): Promise<PinnedEmergencyCard | null>
  /** The body of `openDay` from what is in force, or everything that is missing, as sentences. */
  composeDay(body: ComposeDay): Promise<{ openDay: z.infer<typeof OpenDay> } | { missing: string[] }>

  // Records
  /** Those who answer to a code, a part of a name, or a class: at most `atMost`, and nobody where nothing is asked. */
  findStudents(asked: string, atMost: number): Promise<Student[]>
  /** As adopted; null: none is in force. */
  recordsPolicy(): Promise<RecordsPolicy | null>
  erasures(): Promise<Erasure[]>
  askErasure: Act<'askErasure', { studentId: StudentId }>
  withdrawErasure: Act<'withdrawErasure', { studentId: StudentId }>
  /** By another person than asked. From then on the student is a pseudonym. */
  confirmErasure: Act<'confirmErasure', { studentId: StudentId }>

  // Cases
  /** Of one day, or of all. */
  cases(dayId: DayId | null): Promise<CaseBrief[]>
  case(caseId: CaseId): Promise<Case | null>
  openCase: Act<'openCase', { caseId: CaseId }>
  addExhibit: Act<'addExhibit', { exhibitId: string }>
  attachStatement: Act<'attachStatement', { caseId: CaseId }>
  attachAccount: Act<'attachAccount', { caseId: CaseId }>
  draftDecision: Act<'draftDecision', { decisionId: string }>
  /** By another person than drafted it. */
  approveDecision: Act<'approveDecision', { caseId: CaseId }>
  returnDecision: Act<'returnDecision', { caseId: CaseId }>
  referCorrection: Act<'referCorrection', { caseId: CaseId }>
  sendLetter: Act<'sendLetter', { caseId: CaseId }>
  closeCase: Act<'closeCase', { caseId: CaseId }>
  keepCase: Act<'keepCase', { caseId: CaseId }>

  // Sealed words
  /** Words that people typed. `medical` ones lie in the medical compartment and open only there. */
  seal(text: string, about: 'general' | 'medical', studentId: StudentId | null): Promise<SealedText>
  /** Null: there are none under this id. Medical ones are never opened here. */
  openText(textId: TextId): Promise<string | null>

  // Medical compartment
  healthQuestions(): Promise<HealthQuestions | null>
  /** By the student at kiosk or desk: goes in and is not read back. */
  answerHealth(body: AnswerHealth): Promise<Said<{ kept: true }>>
  /** Screener only. */
  noteHealth(body: NoteHealth, told: Told): Promise<Said<{ kept: true }>>
  /** Screener only. Opens nothing before `log` has kept the opening. */
  openHealth(body: OpenHealth, told: Told, log: AccessLog): Promise<Said<HealthRecord>>
  /** A medical free text of a day (`reportHealthEvent`). Screener only, logged as `openHealth` is. */
  openMedicalText(textId: TextId, studentId: StudentId, told: Told, log: AccessLog): Promise<Said<{ text: string | null }>>
  /** Any other signed-on person, with a reason; waits for somebody else's review. Opens nothing before `log` has kept the opening. */
  openHealthInEmergency(body: OpenHealthInEmergency, told: Told, log: AccessLog): Promise<Said<HealthRecord & { openingId: string }>>
  openingsToReview(): Promise<EmergencyOpening[]>
  reviewOpening(body: ReviewOpening, told: Told, log: AccessLog): Promise<Said<{ openingId: string }>>

  close(): Promise<void>
}
