import { z } from 'zod';
import { marks } from '@/lib/analysis/assessment';
import { type ApiScope, apiScopes, scopeWords } from '@/lib/api-scopes';
import { readingPayload } from '@/lib/intake/reading-payload';

const recorded = z.looseObject({
  readingId: z.uuid(),
  entry: z.number().int().describe('Order of arrival among all readings.'),
  verdict: z.looseObject({
    unitId: z.string(),
    mark: z.enum(marks).nullable(),
    why: z.string(),
    asOf: z.string().describe('Day of the shed, ISO 8601.'),
  }),
});

const units = z.looseObject({
  asOf: z.string(),
  total: z.number().int(),
  page: z.number().int().describe('From 0.'),
  rows: z.array(
    z.looseObject({
      unit: z.string(),
      shed: z.string(),
      mark: z.enum(marks).nullable(),
      idle: z.number().nullable().describe('Idle vacuum as read, kPa below ambient.'),
      bulletinsOpen: z.number().int(),
    }),
  ),
});

const problem = z.looseObject({
  type: z.string(),
  status: z.number().int(),
  title: z.string(),
  problems: z
    .array(z.looseObject({ field: z.string(), message: z.string(), mend: z.string() }))
    .optional(),
  questions: z
    .array(z.looseObject({ id: z.string(), field: z.string(), message: z.string() }))
    .optional()
    .describe('Odd values: send their ids in `confirmed` to let them stand.'),
});

const jsonSchema = (schema: z.ZodType) => {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io: 'input' });
  return rest;
};

const refer = (name: string) => ({ $ref: `#/components/schemas/${name}` });
const answer = (description: string, schema: string, type = 'application/json') => ({
  description,
  content: { [type]: { schema: refer(schema) } },
});
const refused = (description: string) => answer(description, 'Problem', 'application/problem+json');
const csv = (description: string) => ({
  description,
  content: { 'text/csv': { schema: { type: 'string' } } },
});
const needs = (scope: ApiScope) => ({ security: [{ token: [] }], description: `Scope ${scope}.` });
const notLetIn = {
  '401': refused('The token is not known, or is over.'),
  '403': refused('Beyond the scopes of the token, or the rights of its person.'),
};

/** OpenAPI 3.1 of the routes that other programs may call, from the schemas that the routes themselves use. */
export const openApiDocument = (origin: string) => ({
  openapi: '3.1.0',
  info: {
    title: 'Idlemark',
    version: '1',
    description:
      'Brake-vacuum readings of a fleet. A verdict defers to the service information in force, local law and a licensed technician.',
  },
  servers: [{ url: origin }],
  paths: {
    '/api/v1/readings': {
      post: {
        operationId: 'recordReading',
        summary: 'Record a reading; sent any number of times it is recorded once',
        ...needs('readings:write'),
        requestBody: {
          required: true,
          content: { 'application/json': { schema: refer('Reading') } },
        },
        responses: {
          '201': answer('On record.', 'Recorded'),
          '200': answer('Was on record already; nothing changed.', 'Recorded'),
          '400': refused('Not JSON in UTF-8, or a key stands twice.'),
          ...notLetIn,
          '404': refused('No such unit.'),
          '409': refused('Another reading is on record under this id.'),
          '413': refused('Too large.'),
          '415': refused('Not application/json.'),
          '422': refused(
            'Cannot be taken as it is: each field to mend, or each odd value to confirm.',
          ),
        },
      },
    },
    '/api/v1/units': {
      get: {
        operationId: 'listUnits',
        summary: 'One page of the yard, earliest need first; filters as in the address of the yard',
        ...needs('units:read'),
        parameters: [
          {
            name: 'page',
            in: 'query',
            description: 'From 0.',
            schema: { type: 'integer', minimum: 0, maximum: 10_000 },
          },
          {
            name: 'mark',
            in: 'query',
            description: '`all`, or one mark.',
            schema: { type: 'string' },
          },
        ],
        responses: {
          '200': answer('A hundred units at most.', 'Units'),
          '400': refused('The place in the list is not understood.'),
          ...notLetIn,
        },
      },
    },
    '/api/v1/units/csv': {
      get: {
        operationId: 'listUnitsAsCsv',
        summary: 'The whole list as a file',
        ...needs('units:read'),
        responses: { '200': csv('RFC 4180.'), ...notLetIn },
      },
    },
    '/api/v1/units/{unit}/readings': {
      get: {
        operationId: 'readingsOfUnit',
        summary: 'Every reading of a unit as a file, the first value beside each amended one',
        ...needs('readings:read'),
        parameters: [{ name: 'unit', in: 'path', required: true, schema: { type: 'string' } }],
        responses: { '200': csv('RFC 4180.'), ...notLetIn, '404': refused('No such unit.') },
      },
    },
  },
  components: {
    securitySchemes: {
      token: {
        type: 'http',
        scheme: 'bearer',
        description: `Issued by an admin. Scopes: ${apiScopes.map((scope) => `${scope} (${scopeWords[scope]})`).join(', ')}.`,
      },
    },
    schemas: {
      Reading: jsonSchema(readingPayload),
      Recorded: jsonSchema(recorded),
      Units: jsonSchema(units),
      Problem: jsonSchema(problem),
    },
  },
});
