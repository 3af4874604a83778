import { z } from 'zod'

interface JsonSchema {
  type?: string
  const?: unknown
  enum?: unknown[]
  anyOf?: JsonSchema[]
  oneOf?: JsonSchema[]
  allOf?: JsonSchema[]
  properties?: Record<string, JsonSchema>
  required?: string[]
  items?: JsonSchema
  minItems?: number
  minimum?: number
  exclusiveMinimum?: number
  pattern?: string
  format?: string
}

/** For tests: the smallest value that a schema takes. */
export function exampleOf(schema: z.ZodType): unknown {
  const example = smallest(z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as JsonSchema)
  schema.parse(example)
  return example
}

const texts = ['a1', '1', '4711', '0'.repeat(64), '2027-05-11', 'bench']

function smallest(schema: JsonSchema): unknown {
  if ('const' in schema) return schema.const
  if (schema.enum) return schema.enum[0]
  const one = schema.anyOf?.[0] ?? schema.oneOf?.[0] ?? schema.allOf?.[0]
  if (one) return smallest(one)
  switch (schema.type) {
    case 'object':
      return Object.fromEntries((schema.required ?? []).map((name) => [name, smallest(schema.properties![name]!)]))
    case 'array':
      return Array.from({ length: schema.minItems ?? 0 }, () => smallest(schema.items!))
    case 'integer':
    case 'number':
      return Math.max(schema.minimum ?? 0, schema.exclusiveMinimum === undefined ? 0 : schema.exclusiveMinimum + 1, 0)
    case 'boolean':
      return false
    case 'string': {
      const pattern = new RegExp(schema.pattern ?? '', 'u')
      return schema.format === 'date' ? '2027-05-11' : texts.find((text) => pattern.test(text))
    }
    default:
      return null
  }
}
