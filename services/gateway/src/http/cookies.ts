import type { CookieOptions } from 'hono/utils/cookie'

/** No script reads it, no other site sends it. Without an age it ends with the browser. */
export const cookieOptions = ({ secure }: { secure: boolean }, ageDays?: number): CookieOptions => ({
  path: '/',
  httpOnly: true,
  sameSite: 'Strict',
  secure,
  ...(ageDays !== undefined && { maxAge: ageDays * 86_400 }),
})

/** As long as browsers keep a cookie; a device is taken out at the office, not by age. */
export const deviceCookieDays = 400
