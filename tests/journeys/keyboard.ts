import type { Page } from 'playwright-core'
import { expect } from 'vitest'

interface Walk {
  /** Everything that a hand may press or fill, in the order of the page; of a group of radio buttons the one that Tab reaches. */
  stops: string[]
  /** Where Tab stood, and whether that could be seen. */
  went: { at: number; seen: boolean }[]
}

/** Tab alone goes round everything on the page, in its order, into no trap, and shows where it stands. */
export async function goesRoundByTab(page: Page): Promise<void> {
  const count = await page.evaluate(() => {
    const isRadio = (one: Element): one is HTMLInputElement => one instanceof HTMLInputElement && one.type === 'radio'
    const reached = (one: HTMLElement) => {
      if (!isRadio(one)) return true
      const group = [...document.querySelectorAll<HTMLInputElement>(`input[type=radio][name="${one.name}"]`)]
      return one === (group.find(({ checked }) => checked) ?? group[0])
    }
    const stops = [
      ...document.querySelectorAll<HTMLElement>(
        'a[href], button:enabled, input:enabled, select:enabled, textarea:enabled, summary, [tabindex]',
      ),
    ].filter((one) => one.tabIndex >= 0 && one.checkVisibility({ visibilityProperty: true }) && reached(one))
    const walk: Walk = { stops: stops.map((one) => one.outerHTML.slice(0, 100)), went: [] }
    Object.assign(window, { walk })
    document.addEventListener('focusin', ({ target }) => {
      // A file is chosen through its label: there the ring stands.
      const shown = [target as HTMLElement, (target as HTMLElement).closest('label'), (target as HTMLElement).parentElement]
      const seen = shown.some((one) => {
        if (!one) return false
        const { outlineStyle, outlineWidth } = getComputedStyle(one)
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2
      })
      walk.went.push({ at: stops.indexOf(target as HTMLElement), seen })
    })
    ;(document.activeElement as HTMLElement | null)?.blur()
    getSelection()?.setPosition(document.body, 0)
    return stops.length
  })
  // From wherever the last hand was, past the browser's own stop between the last and the first.
  for (let pressed = 0; pressed < count + 2; pressed++) await page.keyboard.press('Tab')
  const { stops, went } = await page.evaluate(() => (window as unknown as { walk: Walk }).walk)
  const missed = stops.filter((_, at) => !went.some((one) => one.at === at))
  expect(missed).toEqual([])
  const turns = went.filter(({ at }, i) => i > 0 && at < went[i - 1]!.at).length
  expect(turns, 'goes back once at most: from the last to the first').toBeLessThanOrEqual(1)
  expect(went.filter(({ seen }) => !seen).map(({ at }) => stops[at] ?? 'elsewhere')).toEqual([])
}

/** A dialog takes the keyboard, lets it go with Escape, and gives it back to what opened it. */
export async function dialogGivesBack(page: Page, name: string): Promise<void> {
  const opener = page.getByRole('button', { name, exact: true })
  await opener.focus()
  await page.keyboard.press('Enter')
  await page.locator('dialog[open]').waitFor()
  expect(await page.evaluate(() => document.activeElement?.closest('dialog[open]') !== null)).toBe(true)
  await page.keyboard.press('Escape')
  await page
    .locator('dialog[open]')
    .waitFor({ state: 'detached' })
    .catch(() => page.locator('dialog[open]').waitFor({ state: 'hidden' }))
  expect(await opener.evaluate((one) => one === document.activeElement)).toBe(true)
}
