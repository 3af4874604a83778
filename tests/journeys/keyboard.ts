import type { Page } from 'playwright-core'
import { expect } from 'vitest'

interface Walk {
  /** Everything that a hand may press or fill, in the order of the page; of a group of radio buttons the one that Tab reaches. */
  stops: string[]
  /** Where Tab stood, whether that could be seen, and what cut the ring around it. */
  went: { at: number; seen: boolean; cutBy: string | null }[]
}

/**
 * Tab alone goes round everything on the page (in the dialog, where one is open), in its order, into no trap, and shows where it stands
 * whole; Shift and Tab go back. Everything on the way is the browser's own control, which Enter and Space press, or a region that scrolls.
 */
export async function goesRoundByTab(page: Page): Promise<void> {
  const count = await page.evaluate(() => {
    const isRadio = (one: Element): one is HTMLInputElement => one instanceof HTMLInputElement && one.type === 'radio'
    const reached = (one: HTMLElement) => {
      if (!isRadio(one)) return true
      const group = [...document.querySelectorAll<HTMLInputElement>(`input[type=radio][name="${one.name}"]`)]
      return one === (group.find(({ checked }) => checked) ?? group[0])
    }
    const cutting = (one: HTMLElement) => {
      const { outlineWidth, outlineOffset } = getComputedStyle(one)
      const ring = parseFloat(outlineWidth) + parseFloat(outlineOffset) - 1
      const { left, right, top, bottom } = one.getBoundingClientRect()
      for (let around = one.parentElement; around && around !== document.body; around = around.parentElement) {
        if (getComputedStyle(around).overflow === 'visible') continue
        const box = around.getBoundingClientRect()
        const cut = left - ring < box.left || right + ring > box.right || top - ring < box.top || bottom + ring > box.bottom
        if (cut) return around.className || around.tagName
      }
      return null
    }
    const root = document.querySelector('dialog:modal') ?? document
    const stops = [
      ...root.querySelectorAll<HTMLElement>(
        'a[href], button:enabled, input:enabled, select:enabled, textarea:enabled, summary, [tabindex]',
      ),
    ].filter((one) => one.tabIndex >= 0 && one.checkVisibility({ visibilityProperty: true }) && reached(one))
    const walk: Walk = { stops: stops.map((one) => one.outerHTML.slice(0, 100)), went: [] }
    Object.assign(window, { walk })
    document.addEventListener('focusin', ({ target }) => {
      // A file is chosen through its label: there the ring stands.
      const shown = [target as HTMLElement, (target as HTMLElement).closest('label'), (target as HTMLElement).parentElement]
      const ringed = shown.find((one) => {
        if (!one) return false
        const { outlineStyle, outlineWidth } = getComputedStyle(one)
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2
      })
      walk.went.push({ at: stops.indexOf(target as HTMLElement), seen: ringed != null, cutBy: ringed ? cutting(ringed) : null })
    })
    ;(document.activeElement as HTMLElement | null)?.blur()
    getSelection()?.setPosition(document.body, 0)
    return stops.length
  })
  // From wherever the last hand was, past the browser's own stop between the last and the first.
  for (let pressed = 0; pressed < count + 2; pressed++) await page.keyboard.press('Tab')
  // What has come since stands in between: a long table draws its rows where they are seen.
  for (let more = 0; more < 80 && (await missedOn(page)).length > 0; more++) await page.keyboard.press('Tab')
  expect(await missedOn(page)).toEqual([])
  const { stops, went } = await walkOn(page)
  const known = went.filter(({ at }) => at >= 0)
  const turns = known.filter(({ at }, i) => i > 0 && at < known[i - 1]!.at).length
  expect(turns, 'goes back once at most: from the last to the first').toBeLessThanOrEqual(1)
  expect(went.filter(({ seen }) => !seen).map(({ at }) => stops[at] ?? 'elsewhere')).toEqual([])
  expect(went.flatMap(({ at, cutBy }) => (cutBy ? [`${cutBy} cuts ${stops[at]}`] : []))).toEqual([])
  const own = /^<(a|button|input|select|textarea|summary)\b|^<[^>]*role="(group|region)"/
  expect(stops.filter((one) => !own.test(one))).toEqual([])

  const last = known.at(-1)!.at
  // The browser's own stop may lie between.
  for (let pressed = 0; pressed < 2; pressed++) await page.keyboard.press('Shift+Tab')
  const back = (await walkOn(page)).went.at(-1)!.at
  if (last > 1) expect(back, 'Shift and Tab go back').toBeLessThan(last)
}

const walkOn = (page: Page) => page.evaluate(() => (window as unknown as { walk: Walk }).walk)

async function missedOn(page: Page): Promise<string[]> {
  const { stops, went } = await walkOn(page)
  return stops.filter((_, at) => !went.some((one) => one.at === at))
}

/** Whatever of these keys opens a dialog: it keeps the keyboard, lets it go with Escape, and gives it back. How many did. */
export async function dialogsKeepAndGiveBack(page: Page, within: string): Promise<number> {
  const keys = page.locator(`${within} button:enabled`)
  let opened = 0
  for (let n = 0; n < (await keys.count()); n++) {
    const key = keys.nth(n)
    await key.focus()
    await page.keyboard.press(n % 2 === 0 ? 'Space' : 'Enter')
    const dialog = page.locator('dialog:modal')
    if ((await dialog.count()) === 0) continue
    opened++
    await goesRoundByTab(page)
    expect(
      await page.evaluate(() => document.activeElement?.closest('dialog:modal') != null || document.activeElement === document.body),
    ).toBe(true)
    await page.keyboard.press('Escape')
    await expect.poll(() => dialog.count()).toBe(0)
    expect(await key.evaluate((one) => one === document.activeElement)).toBe(true)
  }
  return opened
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
