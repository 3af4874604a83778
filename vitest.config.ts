import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: { name: 'unit', include: ['packages/**/*.test.ts', 'services/**/*.test.ts', 'kiosk/**/*.test.ts{,x}', 'ops/**/*.test.ts'] },
      },
      {
        extends: true,
        test: { name: 'whole', include: ['tests/**/*.test.ts'], exclude: ['tests/journeys/**'] },
      },
      {
        extends: true,
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
})
