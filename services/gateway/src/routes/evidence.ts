import { z } from 'zod'
import type { Role } from '@musterbook/vocabulary/people'
import { officeSaid } from '../http/office-status.ts'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'

const takes: readonly Role[] = ['station', 'safety', 'supervisor', 'coordinator']
const sees: readonly Role[] = [...takes, 'auditor']
const limitBytes = 512 * 1024

/** Pictures of a display or a loaded bar. The result in the day names the digest; the bytes stand here. */
export const evidenceRoutes = ({ office }: Tools): Route[] => [
  route('post', '/api/evidence', {
    says: 'Keeps a picture of a display or a loaded bar by its digest: the bytes of a JPEG, PNG or WebP up to 400 kB.',
    may: takes,
    // A tablet that nobody is signed on at, or that was lost, still has what it has.
    alsoOn: ['staff'],
    onLocked: true,
    bytes: true,
    limitBytes,
    answer: z.object({ photoDigest: z.string() }),
    status: 201,
    go: async (c, { body }) => officeSaid(c, await office.keepEvidence(body)),
  }),
  route('get', '/api/evidence/:digest', {
    says: 'The picture with this digest.',
    may: sees,
    async go(c) {
      const picture = await office.evidence(c.req.param('digest')!)
      if (!picture) return problem(c, 404, 'There is no such picture here yet. The tablet that took it may still have it.')
      // The name is the digest of the bytes: they never change.
      return c.body(new Uint8Array(picture.bytes), 200, { 'content-type': picture.mediaType, 'cache-control': 'private, max-age=3600' })
    },
  }),
]
