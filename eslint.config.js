import tseslint from 'typescript-eslint'

/** Engines may differ in the last bit of these; what needs them is computed once, when decided, and stored in its event. */
const engineDependentMath = [
  'exp',
  'expm1',
  'pow',
  'log',
  'log10',
  'log1p',
  'log2',
  'sin',
  'cos',
  'tan',
  'asin',
  'acos',
  'atan',
  'atan2',
  'sinh',
  'cosh',
  'tanh',
  'asinh',
  'acosh',
  'atanh',
  'cbrt',
  'hypot',
]

/** Who may import whom. Services never know each other: only `ops/` puts them together. */
const allowed = {
  vocabulary: [],
  evidence: [],
  stations: ['vocabulary'],
  heat: ['vocabulary'],
  scoring: ['vocabulary'],
  student: ['vocabulary', 'stations', 'heat', 'scoring'],
  day: ['vocabulary', 'stations', 'heat', 'scoring', 'student'],
  replay: ['vocabulary', 'day', 'scoring', 'evidence'],
  privacy: ['vocabulary', 'evidence'],
  ledger: ['vocabulary', 'evidence'],
  wire: [],
}
const domain = ['vocabulary', 'evidence', 'stations', 'heat', 'scoring', 'student', 'day', 'replay', 'privacy']
const packages = Object.keys(allowed)
const services = ['testday', 'weather', 'office', 'projections', 'gateway']

export default tseslint.config(
  { ignores: ['**/dist/**', '**/node_modules/**', '.tools/**', '.data/**'] },
  ...tseslint.configs.recommended,
  {
    files: ['**/*.{ts,tsx}'],
    rules: {
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
    },
  },
  ...packages.map((name) => ({
    files: [`packages/${name}/src/**/*.{ts,tsx}`],
    ignores: ['**/*.test.ts', '**/contract.ts', '**/controls.ts'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: [...packages.filter((other) => other !== name && !allowed[name]?.includes(other)), ...services].map(
                (other) => `@musterbook/${other}/*`,
              ),
              message: `packages/${name} may only know: ${allowed[name]?.join(', ') || 'nobody'}.`,
            },
            ...(domain.includes(name)
              ? [
                  {
                    group: ['node:*', 'hono', 'hono/*', 'better-sqlite3', '@nats-io/*', 'preact', 'preact/*'],
                    message: 'A domain package does no I/O.',
                  },
                ]
              : []),
            {
              group: ['**/services/**', '**/kiosk/**', '../../*/src/**', '../../../*/src/**'],
              message: 'Packages never know services or screens, and reach each other by name.',
            },
          ],
        },
      ],
    },
  })),
  ...domain.map((name) => ({
    files: [`packages/${name}/src/**/*.{ts,tsx}`],
    ignores: ['**/*.test.ts', '**/controls.ts'],
    rules: {
      'no-restricted-globals': [
        'error',
        ...['Date', 'crypto', 'fetch', 'setTimeout', 'setInterval', 'process', 'performance', 'localStorage', 'indexedDB'].map((name) => ({
          name,
          message: 'Time, chance and ids come in as arguments; a domain package does no I/O.',
        })),
      ],
      'no-restricted-properties': ['error', { object: 'Math', property: 'random', message: 'Chance comes in as an argument.' }],
    },
  })),
  {
    files: ['packages/day/src/**/*.ts', 'packages/student/src/**/*.ts', 'packages/replay/src/**/*.ts', 'services/projections/src/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Chance comes in as an argument.' },
        ...engineDependentMath.map((property) => ({
          object: 'Math',
          property,
          message: 'S11: its last bit differs between engines; compute once when decided and store it.',
        })),
      ],
    },
  },
  ...services.map((name) => ({
    files: [`services/${name}/src/**/*.{ts,tsx}`],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: services.filter((other) => other !== name).map((other) => `@musterbook/${other}/*`),
              message: 'Services never know each other: facts meet in the ledger, commands pass a port.',
            },
            { group: ['**/kiosk/**'], message: 'Services never know screens.' },
          ],
        },
      ],
    },
  })),
  {
    files: ['kiosk/src/**/*.{ts,tsx}'],
    ignores: ['**/*.test.{ts,tsx}'],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: [...services.filter((other) => other !== 'gateway'), 'ledger'].map((other) => `@musterbook/${other}/*`),
              message: 'Screens know packages that run in a browser, and of services only the gateway’s types.',
            },
            { group: ['@musterbook/gateway/*'], allowTypeImports: true, message: 'Only the types of the gateway.' },
            { group: ['node:*'], message: 'Screens run in a browser.' },
          ],
        },
      ],
    },
  },
)
