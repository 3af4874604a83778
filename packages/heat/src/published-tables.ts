import type { BandAdvice, Bound, HeatBand, HeatTable } from './policies.ts'

// Figures as printed, each end with its own inclusivity. Actions are restated in our words. Nothing here is in force.

const on = (degrees: number): Bound => ({ tenths: Math.round(degrees * 10), included: true })
const off = (degrees: number): Bound => ({ tenths: Math.round(degrees * 10), included: false })
const everyone = (says: string, stops = false): BandAdvice[] => [{ population: 'everyone', says, stops }]
const noTraining = 'No training outdoors.'

/** TB MED 507 / AFPAM 48-152(I). Public domain: may be offered for adoption. */
export const tbmed507: HeatTable = {
  id: 'tbmed507',
  edition: 'card as reprinted 2003 to 2019; a 2022 issue reworked it',
  citation: 'TB MED 507 / AFPAM 48-152(I), heat categories, as reprinted by US Army and DoD medical pages',
  terms: 'publicDomain',
  unit: 'degF',
  activity: 'training',
  bands: [
    { id: 'below category 1', to: off(78), advice: everyone('No limit by this table.') },
    { id: 'category 1', from: on(78), to: on(81.9), advice: everyone('Hard work 40 minutes in the hour.') },
    { id: 'category 2 (green)', flag: 'green', from: on(82), to: on(84.9), advice: everyone('Hard work 30 minutes in the hour.') },
    {
      id: 'category 3 (yellow)',
      flag: 'yellow',
      from: on(85),
      to: on(87.9),
      advice: everyone('Hard work 30, moderate 40 minutes in the hour.'),
    },
    { id: 'category 4 (red)', flag: 'red', from: on(88), to: on(89.9), advice: everyone('Hard work 20, moderate 30 minutes in the hour.') },
    {
      id: 'category 5 (black)',
      flag: 'black',
      from: off(90),
      advice: everyone('Training stops; needed work only, 10 minutes hard in the hour.', true),
    },
  ],
  clothing: [
    { id: 'bodyArmour', name: 'body armour, humid climate', tenths: 50, unit: 'degF' },
    { id: 'chemicalSuitEasy', name: 'chemical suit, easy work', tenths: 100, unit: 'degF' },
    { id: 'chemicalSuitModerateOrHard', name: 'chemical suit, moderate or hard work', tenths: 200, unit: 'degF' },
  ],
  disagreements: [
    'Exactly 90.0 belongs to no category in most prints ("> 90"); an Army course text prints "90 or more". The hotter category governs here.',
    'Category 1 flies no flag on the Army card and a white one in US Air Force use.',
    'Secondary copies carry misprints such as "84 - 87.9" and "85 - 97.9".',
  ],
}

/** NAVMED P-5010-3. Public domain: may be offered for adoption. */
export const navmedUsmc: HeatTable = {
  id: 'navmed_usmc',
  edition: 'as reprinted on Navy and Marine Corps readiness pages',
  citation: 'NAVMED P-5010-3, flag conditions',
  terms: 'publicDomain',
  unit: 'degF',
  activity: 'training',
  bands: [
    { id: 'no flag', to: off(80), advice: everyone('No limit by this table.') },
    { id: 'green', flag: 'green', from: on(80), to: on(84.9), advice: everyone('Heavy work with care, watched.') },
    {
      id: 'yellow',
      flag: 'yellow',
      from: on(85),
      to: on(87.9),
      advice: [{ population: 'unacclimatised', says: 'Strenuous work curtailed in the first 3 weeks.', stops: false }],
    },
    {
      id: 'red',
      flag: 'red',
      from: on(88),
      to: on(89.9),
      advice: [
        { population: 'unacclimatised', says: 'Strenuous work curtailed under 12 weeks of training in heat.', stops: false },
        { population: 'acclimatised', says: 'Limited work, at most 6 hours a day.', stops: false },
      ],
    },
    { id: 'black', flag: 'black', from: on(90), advice: everyone('Training stops.', true) },
  ],
  clothing: [{ id: 'bodyArmourOrChemicalSuit', name: 'body armour or chemical suit', tenths: 100, unit: 'degF' }],
  disagreements: [
    'Green begins at 80 here and at 82 in TB MED 507: one reading, two colours.',
    'An installation may declare black by order, whatever the reading.',
    'One Marine recruit depot flew its first flag from 75 (1998).',
  ],
}

const acsm = (
  id: string,
  from: Bound | undefined,
  to: Bound | undefined,
  others: string,
  acclimatised: string,
  cancels: { others: boolean; acclimatised: boolean },
): HeatBand => ({
  id,
  ...(from && { from }),
  ...(to && { to }),
  advice: [
    { population: 'unacclimatised', says: others, stops: cancels.others },
    { population: 'acclimatised', says: acclimatised, stops: cancels.acclimatised },
  ],
})
const goesOn = { others: false, acclimatised: false }
const cancelled = { others: true, acclimatised: true }

/** Upper bounds belong to their band. `unacclimatised` reads as unacclimatised, unfit or at high risk. */
const acsm2007Training: HeatTable = {
  id: 'acsm2007_training',
  edition: '2007',
  citation: 'Armstrong et al. 2007, Med Sci Sports Exerc 39:556, training and non-continuous activity',
  terms: 'askThePublisher',
  unit: 'degF',
  activity: 'training',
  bands: [
    acsm('<=50.0', undefined, on(50), 'Usual activity.', 'Usual activity.', goesOn),
    acsm('50.1-65.0', on(50.1), on(65), 'Usual activity.', 'Usual activity.', goesOn),
    acsm('65.1-72.0', on(65.1), on(72), 'More rest; watch fluids.', 'Usual activity.', goesOn),
    acsm('72.1-78.0', on(72.1), on(78), 'More rest, shorter.', 'Usual activity; watch fluids.', goesOn),
    acsm('78.1-82.0', on(78.1), on(82), 'More rest, easier and shorter.', 'Usual activity; watch fluids.', goesOn),
    acsm('82.1-86.0', on(82.1), on(86), 'As much rest as work; limit intensity.', 'Plan hard or long work with discretion.', goesOn),
    acsm('86.1-90.0', on(86.1), on(90), 'Cancel.', 'Limit intense work and total exposure.', { others: true, acclimatised: false }),
    acsm('>=90.1', on(90.1), undefined, 'Cancel.', 'Cancel.', cancelled),
  ],
  clothing: [],
  disagreements: [
    'The Celsius column does not cut where the Fahrenheit one does: 27.8 °C is 82.04 °F, 32.2 °C is 89.96 °F.',
    '82.1 to 86.0 is the same source’s cancel level for continuous activity and competition, to which a timed run is closer.',
  ],
}

const acsmRace: HeatTable = {
  id: 'acsm_race',
  edition: 'flags at 10, 18, 23 and 28 °C',
  citation: 'ACSM road-race flag guidance',
  terms: 'askThePublisher',
  unit: 'degC',
  activity: 'continuous',
  bands: [
    { id: 'white', flag: 'white', to: off(10), advice: [] },
    { id: 'green', flag: 'green', from: on(10), to: off(18), advice: [] },
    { id: 'yellow', flag: 'yellow', from: on(18), to: off(23), advice: [] },
    { id: 'red', flag: 'red', from: on(23), to: on(28), advice: [] },
    { id: 'black', flag: 'black', from: off(28), advice: everyone('Cancel.', true) },
  ],
  clothing: [],
  disagreements: [
    'Bands printed as 18-22 and 23-28 leave 22.1 to 22.9 to nobody in one edition; another shares 23 between both.',
    'Its Fahrenheit figures (50, 65, 73, 82) are roundings of these.',
  ],
}

const ghsa267: HeatTable = {
  id: 'ghsa_2_67',
  edition: 'by-law 2.67, with the memo of 24 August 2023',
  citation: 'Georgia High School Association, by-law 2.67',
  terms: 'askThePublisher',
  unit: 'degF',
  activity: 'training',
  bands: [
    { id: 'under 82.0', to: off(82), advice: everyone('Usual activity, with breaks.') },
    { id: '82.0-86.9', from: on(82), to: on(86.9), advice: everyone('With discretion; longer breaks.') },
    { id: '87.0-89.9', from: on(87), to: on(89.9), advice: everyone('Two hours at most.') },
    { id: '90.0-92.0', from: on(90), to: on(92), advice: everyone('One hour at most, no gear, no conditioning.') },
    { id: 'no outdoor workouts', from: off(92), advice: everyone(noTraining, true) },
  ],
  clothing: [],
  disagreements: ['87.0 and 90.0 open the hotter band here and close the cooler one in FHSAA Policy 41.'],
}

const fhsaa41: HeatTable = {
  id: 'fhsaa_41',
  edition: 'as reported by the press; not read in the policy itself',
  citation: 'Florida High School Athletic Association, Policy 41',
  terms: 'askThePublisher',
  unit: 'degF',
  activity: 'training',
  bands: [
    { id: 'under 82.0', to: off(82), advice: everyone('Usual activity.') },
    { id: '82.1-87.0', from: on(82.1), to: on(87), advice: everyone('With discretion.') },
    { id: '87.1-90.0', from: on(87.1), to: on(90), advice: everyone('Shorter.') },
    { id: '90.1-92.0', from: on(90.1), to: on(92), advice: everyone('Shortest.') },
    { id: 'over 92.1', from: off(92.1), advice: everyone(noTraining, true) },
  ],
  clothing: [],
  disagreements: ['82.0 and 92.1 belong to no band. The hotter band governs here.'],
}

const canadianForces: HeatTable = {
  id: 'canadian_forces',
  edition: 'annex; separate columns for the unacclimatised are not carried',
  citation: 'Canadian forces annex on heat stress',
  terms: 'askThePublisher',
  unit: 'degC',
  activity: 'training',
  bands: [
    { id: 'below 20.0', to: off(20), advice: [] },
    { id: '20.0-25.4', from: on(20), to: on(25.4), advice: [] },
    { id: '25.5-26.4', from: on(25.5), to: on(26.4), advice: [] },
    { id: '26.5-29.4', from: on(26.5), to: on(29.4), advice: [] },
    { id: '29.5-30.9', from: on(29.5), to: on(30.9), advice: [] },
    { id: '31.0-31.9', from: on(31), to: on(31.9), advice: [] },
    { id: '32.0 and above', from: on(32), advice: [] },
  ],
  clothing: [{ id: 'protectiveSuit', name: 'protective suit; no heavy work', tenths: 50, unit: 'degC', readAs: 'unacclimatised' }],
  disagreements: [],
}

/** Every table that is carried, by its id: to compare with, and to read one reading as several sources would. */
export const publishedTables: Readonly<Record<string, HeatTable>> = Object.fromEntries(
  [tbmed507, navmedUsmc, acsm2007Training, acsmRace, ghsa267, fhsaa41, canadianForces].map((table) => [table.id, table]),
)

/** What a site may be offered. Each still needs its own hold rules, two adopters and a date before it is in force. */
export const offeredTables: readonly HeatTable[] = [tbmed507, navmedUsmc]
