import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, it } from 'vitest';
import { openApiDocument } from '@/app/api/v1/_openapi';

// Judge: @seriousme/openapi-schema-validator, which holds the official schemas of the OpenAPI Initiative.
describe('the OpenAPI document', () => {
  const document = () => JSON.parse(JSON.stringify(openApiDocument('http://localhost:3000')));

  it('is OpenAPI 3.1 in the eyes of a general-purpose validator', async () => {
    const validator = new Validator();
    const { valid, errors } = await validator.validate(document());
    expect(errors ?? []).toEqual([]);
    expect(valid).toBe(true);
    expect(validator.version).toBe('3.1');
  });

  it('is refused by the same validator when it is broken', async () => {
    const broken = document();
    delete broken.paths['/api/v1/readings'].post.responses['201'].description;
    expect((await new Validator().validate(broken)).valid).toBe(false);
  });

  it('refers to nothing that it does not hold', () => {
    const text = JSON.stringify(document());
    const named = [...text.matchAll(/"#\/components\/schemas\/(\w+)"/g)].map(([, name]) => name);
    expect(new Set(named)).toEqual(new Set(Object.keys(document().components.schemas)));
  });
});
