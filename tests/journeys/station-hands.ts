import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import type { Journey } from './academy.ts'

/** A hand on a station screen: touches, counted. */
export interface Hands {
  page: Page
  touches: number
  /** One touch on a button by its words. */
  press(name: string | RegExp): Promise<void>
  /** One touch on a place in the line. */
  choose(name: string): Promise<void>
  /** One touch a key of the number pad. */
  type(digits: string): Promise<void>
  /** Waits until a sentence stands on the screen. */
  sees(says: string | RegExp): Promise<void>
  /** Waits until this value is read back as it stands in the record. */
  saved(value: string | RegExp): Promise<void>
  /** Starts over counting. */
  count(): void
}

const keys: Record<string, string> = { '.': 'Decimal mark', '-': 'Minus' }

export function handsOn(page: Page): Hands {
  const hands: Hands = {
    page,
    touches: 0,
    count: () => void (hands.touches = 0),
    async press(name) {
      hands.touches += 1
      await page
        .getByRole('button', { name, ...(typeof name === 'string' && { exact: true }) })
        .first()
        .click()
    },
    async choose(name) {
      hands.touches += 1
      const place = page.locator('.line-place').filter({ hasText: name })
      await place.waitFor({ state: 'attached' })
      // Whoever is not in this line stands behind one more touch.
      if (!(await place.isVisible())) await page.getByText('Here today, not in this line').click()
      await place.click()
    },
    async type(digits) {
      for (const digit of digits) {
        hands.touches += 1
        await page
          .locator('.pad-keys')
          .getByRole('button', { name: keys[digit] ?? digit, exact: true })
          .click()
      }
    },
    saved: (value) =>
      page
        .locator('.read-back', { has: page.locator('.read-back-value', { hasText: value }) })
        .locator('[data-said="recorded"]')
        .waitFor({ timeout: 15_000 }),
    sees: (says) => page.getByText(says).first().waitFor({ timeout: 15_000 }),
  }
  return hands
}

/** The stations' staff at their posts and everybody but the last one briefed: what an opened day looks like at half past seven. */
export async function staffAndBrief(journey: Journey): Promise<void> {
  const { staff, students } = journey.open.academy
  const posts = { skinfold: 'juno', reach: 'juno', agility: 'mira', bench: 'colm' } as const
  for (const [stationId, who] of Object.entries(posts))
    await journey.tell('Office desk', 'tomas', 'assignStaff', { personId: staff[who].personId, stationId, acceptedBecause: null })
  await journey.tell('Office desk', 'tomas', 'briefClass', {
    briefingId: 'briefing-1',
    studentIds: students.filter(({ bib }) => bib !== '140').map(({ studentId }) => studentId),
    stationIds: ['skinfold', 'reach', 'agility', 'bench', 'run'],
    language: 'en',
  })
}

/** Puts students into a station's line. */
export async function lineUp(journey: Journey, stationId: string, ...bibs: string[]): Promise<void> {
  for (const bib of bibs) await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId(bib), stationId })
}

/** Nothing was refused by the content security policy, and nothing of ours broke. A refusal of the day is an answer and no complaint. */
export const nothingBroke = (complaints: readonly string[]): void =>
  expect(complaints.filter((one) => !/status of (403|404|409|422|423)/.test(one))).toEqual([])

/** Keys as a scanner sends them, each with its own instant. */
export const burst = (page: Page, text: string, everyMs: number) =>
  page.evaluate(
    ([text, everyMs]) => {
      for (const [i, key] of [...text, 'Enter'].entries()) {
        const event = new KeyboardEvent('keydown', { key, bubbles: true })
        Object.defineProperty(event, 'timeStamp', { value: 1_000 + i * everyMs })
        document.activeElement?.dispatchEvent(event)
      }
    },
    [text, everyMs] as const,
  )
