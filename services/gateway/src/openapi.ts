import { z } from 'zod'
import { Envelope } from '@musterbook/vocabulary/envelope'
import { Problem, problemType } from './http/problem.ts'
import type { Route } from './http/route.ts'

type Json = Record<string, unknown>

/** What a route may answer beside its success, by status. */
const problems: Record<string, string> = {
  400: 'Not JSON',
  401: 'This device is not enrolled, or nobody is signed on',
  403: 'Outside the role, or refused by a rule that names who may',
  404: 'No such thing',
  409: 'Refused: it conflicts with what stands',
  413: 'Too large',
  415: 'Not the content type',
  422: 'Fields that are not as the schema says',
  423: 'Refused: blocked until something else has happened',
  429: 'Too many attempts',
}

/** Describes every route from the very schemas that parse it. */
export function openApi(routes: readonly Route[]): Json {
  const components: Record<string, Json> = { Problem: schemaOf(Problem, 'output', {}) }
  const paths: Record<string, Record<string, Json>> = {}
  for (const one of routes) (paths[pathOf(one.path)] ??= {})[one.method] = operation(one, components)
  return {
    openapi: '3.1.0',
    info: {
      title: 'Musterbook',
      version: '1',
      description:
        'Runs a physical-fitness test day and keeps its record. Times are epoch milliseconds; a refusal is a problem document that names its rule, what to do next and who can resolve it.',
    },
    paths,
    components: {
      schemas: components,
      securitySchemes: {
        device: { type: 'apiKey', in: 'cookie', name: 'musterbook-device' },
        person: { type: 'apiKey', in: 'cookie', name: 'musterbook-person' },
      },
    },
  }
}

function operation(one: Route, components: Record<string, Json>): Json {
  const success = one.answer ? { content: { 'application/json': { schema: schemaOf(one.answer, 'output', components) } } } : {}
  return {
    summary: one.says,
    ...(one.may === 'anyone' ? { security: [] } : { security: [one.may === 'enrolled' ? { device: [] } : { device: [], person: [] }] }),
    ...(typeof one.may !== 'string' && { 'x-roles': one.may }),
    parameters: [...pathParameters(one.path), ...queryParameters(one.query, components)],
    ...(one.body && { requestBody: { required: true, content: bodyContent(one.body, components) } }),
    responses: { [one.status]: { description: 'Done', ...success }, ...problemsOf(one) },
  }
}

function bodyContent(body: z.ZodType | 'bytes', components: Record<string, Json>): Json {
  return body === 'bytes' ? { 'application/octet-stream': {} } : { 'application/json': { schema: schemaOf(body, 'input', components) } }
}

function problemsOf(one: Route): Json {
  const refers = { content: { [problemType]: { schema: { $ref: '#/components/schemas/Problem' } } } }
  const may = Object.entries(problems).filter(([status]) => one.may !== 'anyone' || !['401', '403'].includes(status))
  return Object.fromEntries(
    may
      .filter(([status]) => one.body || ['401', '403', '404'].includes(status))
      .map(([status, description]) => [status, { description, ...refers }]),
  )
}

const pathOf = (path: string): string => path.replaceAll(/:([A-Za-z]+)/g, '{$1}')

const pathParameters = (path: string): Json[] =>
  [...path.matchAll(/:([A-Za-z]+)/g)].map(([, name]) => ({ name, in: 'path', required: true, schema: { type: 'string' } }))

function queryParameters(query: z.ZodObject | null, components: Record<string, Json>): Json[] {
  if (!query) return []
  const { properties = {}, required = [] } = schemaOf(query, 'input', components) as {
    properties?: Record<string, Json>
    required?: string[]
  }
  return Object.entries(properties).map(([name, schema]) => ({ name, in: 'query', required: required.includes(name), schema }))
}

const named = z.registry<{ id: string }>()
named.add(Envelope, { id: 'Envelope' })

/** A schema in JSON Schema 2020-12, which OpenAPI 3.1 speaks; what has a name of its own goes to the components once. */
function schemaOf(schema: z.ZodType, io: 'input' | 'output', components: Record<string, Json>): Json {
  const {
    $schema: _,
    $defs,
    ...rest
  } = z.toJSONSchema(schema, { io, metadata: named, unrepresentable: 'any' }) as Json & { $defs?: Record<string, Json> }
  for (const [name, def] of Object.entries($defs ?? {})) components[name] = def
  return JSON.parse(JSON.stringify(rest).replaceAll('"#/$defs/', '"#/components/schemas/')) as Json
}
