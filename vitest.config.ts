import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['packages/**/*.test.ts', 'services/**/*.test.ts', 'kiosk/**/*.test.ts{,x}', 'ops/**/*.test.ts'],
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'whole',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/journeys/**', 'tests/demo/**'],
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
          // A browser on a busy machine may miss a moment: what fails once is run once more, and the report says that it was.
          retry: 1,
          // What is told at one screen comes to another when the machine lets it.
          expect: { poll: { timeout: 15_000 } },
          sequence: { groupOrder: 2 },
        },
      },
      {
        // A whole day at six hundred times its speed wants the machine to itself: a reading's half hour is three seconds.
        extends: true,
        test: { name: 'demo', include: ['tests/demo/**/*.test.ts'], sequence: { groupOrder: 3 } },
      },
    ],
  },
})
