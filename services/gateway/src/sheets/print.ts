import type { DayView } from '@musterbook/day/views'
import type { HouseContext } from '../http/route.ts'
import type { GatewayParts } from '../parts.ts'
import { page, type PageProps } from './page.tsx'

/** Without a date, a page over more than one day. */
type PrintedDay = Pick<DayView, 'timeZone' | 'rehearsal'> & { date?: string }

/** Answers with a page to print that says whose it is, of which day and when it was printed, and that no browser keeps. */
export const printer =
  ({ office, clock }: Pick<GatewayParts, 'office' | 'clock'>) =>
  async (
    c: HouseContext,
    { date, timeZone, rehearsal }: PrintedDay,
    asked: Pick<PageProps, 'paper' | 'language' | 'say'>,
    title: string,
    children: PageProps['children'],
  ) => {
    const printedAt = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'medium', timeStyle: 'short' }).format(clock())
    const dated = (text = '') => [text, date].filter(Boolean).join(', ')
    c.header('cache-control', 'no-store')
    return c.html(page({ ...asked, of: dated((await office.site())?.name), title: dated(title), rehearsal, printedAt, children }))
  }
