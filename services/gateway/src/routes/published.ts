import { z } from 'zod'
import { asyncApi } from '@musterbook/vocabulary/published'
import { route, type Route } from '../http/route.ts'

/** What the record is made of, for whoever reads an export years from now. */
export const publishedRoutes = (): Route[] => [
  route('get', '/api/asyncapi.json', {
    says: 'Every event of the ledger’s streams as an AsyncAPI 3 document with JSON Schemas.',
    may: 'anyone',
    answer: z.looseObject({ asyncapi: z.string() }),
    go: (c) => c.json(asyncApi()),
  }),
]
