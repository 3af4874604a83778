import type { RosterField } from '@musterbook/vocabulary/office'
import { plainName } from '../look-alike.ts'

/** How offices head their columns, without case and accents. The first of a field is how we would. */
const headings: Record<RosterField, readonly string[]> = {
  code: [
    'code',
    'student code',
    'student id',
    'student no',
    'student number',
    'number',
    'no',
    'nr',
    'id',
    'service number',
    'matricule',
    'codigo',
    'studentnummer',
    'personalnummer',
  ],
  familyName: [
    'family name',
    'surname',
    'last name',
    'lastname',
    'familyname',
    'etternavn',
    'nachname',
    'familienname',
    'apellido',
    'apellidos',
    'nom',
    'nom de famille',
    'efternamn',
    'اسم العائلة',
  ],
  givenName: [
    'given name',
    'given names',
    'first name',
    'firstname',
    'forename',
    'forenames',
    'givenname',
    'fornavn',
    'vorname',
    'nombre',
    'nombres',
    'prenom',
    'fornamn',
    'الاسم الاول',
    'الاسم',
  ],
  birthDate: [
    'birth date',
    'birthdate',
    'date of birth',
    'dob',
    'd o b',
    'birthday',
    'born',
    'fodselsdato',
    'fodt',
    'geburtsdatum',
    'geboren',
    'fecha de nacimiento',
    'date de naissance',
    'fodelsedatum',
    'تاريخ الميلاد',
  ],
  normSex: ['norm sex', 'norm group', 'sex', 'norms', 'm w', 'm f', 'kjonn', 'geschlecht', 'sexo', 'sexe', 'kon', 'الجنس'],
  class: ['class', 'class name', 'course', 'cohort', 'intake', 'platoon', 'klasse', 'clase', 'classe', 'klass', 'الصف'],
  language: ['language', 'lang', 'sprak', 'sprache', 'idioma', 'langue', 'اللغة'],
}
const fields = Object.keys(headings) as RosterField[]
const needed: readonly RosterField[] = ['familyName', 'givenName', 'birthDate', 'normSex']

export interface Columns {
  at: Partial<Record<RosterField, number>>
  missing: RosterField[]
  ignored: string[]
}

/** Which column holds what. `declared` names the heading of a field where ours do not fit. */
export function columnsOf(header: readonly string[], declared: Partial<Record<RosterField, string>> = {}): Columns {
  const plain = header.map(plainName)
  const at: Columns['at'] = {}
  for (const field of fields) {
    const wanted = declared[field] === undefined ? headings[field].map(plainName) : [plainName(declared[field])]
    const index = wanted.map((heading) => plain.indexOf(heading)).find((found) => found >= 0)
    if (index !== undefined) at[field] = index
  }
  const used = new Set(Object.values(at))
  return {
    at,
    missing: needed.filter((field) => at[field] === undefined),
    ignored: header.filter((name, index) => name !== '' && !used.has(index)),
  }
}

export const sayField: Record<RosterField, string> = {
  code: 'code',
  familyName: 'family name',
  givenName: 'given name',
  birthDate: 'birth date',
  normSex: 'norm sex',
  class: 'class',
  language: 'language',
}
