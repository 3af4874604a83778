import type { Page } from 'playwright-core'

/** The page's clocks, wall and steady, are the test's from its first line on. */
export async function withOwnClock(page: Page, path: string): Promise<void> {
  await page.clock.install({ time: Date.now() })
  await page.goto(path)
}

/** The touch falls on that instant of the site's time, to the millisecond, as this tablet knows that time. */
export async function touchAt(page: Page, instant: number, touch: () => Promise<void>): Promise<void> {
  const ahead = await page.evaluate(() => {
    const { site, wall } = JSON.parse(localStorage.getItem('musterbook.clock')!) as { site: number; wall: number }
    return Math.round(wall - site)
  })
  await page.clock.setFixedTime(instant + ahead)
  await touch()
  await page.clock.setSystemTime(instant + ahead)
}
