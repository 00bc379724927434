import { readFileSync } from 'node:fs';
import { describe, expect, inject, it } from 'vitest';
import { readingWith } from '../support/sound-payload';
import { signedInAs, Visitor } from '../support/visitor';

const origin = inject('origin');
const logFile = inject('logFile');

const logLines = (): { readonly [field: string]: unknown }[] =>
  readFileSync(logFile, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('{'))
    .map((line) => JSON.parse(line));

describe('the log', () => {
  it('holds a line with the id of each answer, and nobody by name', async () => {
    const technician = await signedInAs(origin, 'tal');
    const manager = await signedInAs(origin, 'ines');
    // A unit of the technician's own shed, whatever earlier journeys left first in the yard.
    const bay = await technician.get('/api/v1/bay');
    const [first] = ((await bay.json()) as { units: { id: string }[] }).units;
    const unitId = first?.id ?? '';
    const note = 'Pedal sank for Bela Quist at the depot';
    const sent = await technician.post(
      '/api/v1/readings',
      JSON.stringify(readingWith({ unitId, signedBy: 'tal', note })),
      { 'x-request-id': 'journey-of-the-log' },
    );
    expect(sent.headers.get('x-request-id')).toBe('journey-of-the-log');
    const sheet = await manager.get(`/units/${unitId}?search=Jory`);
    const html = await sheet.text();
    const [vin = 'no VIN on the sheet'] = /ZZ9[A-HJ-NPR-Z0-9]{14}/.exec(html) ?? [];
    expect(vin).toMatch(/^ZZ9/);
    await manager.get(`/yard?search=${vin}`);
    await new Visitor(origin).signIn('nobody@tarn.example', 'a-wrong-password');

    expect([201, 422]).toContain(sent.status);
    await expect
      .poll(() =>
        logLines().filter(
          ({ requestId, msg }) => requestId === 'journey-of-the-log' && msg === 'request',
        ),
      )
      .toMatchObject([{ level: 'info', route: '/api/v1/readings', status: sent.status }]);
    expect(logLines().filter(({ route }) => route === '/units/:id')).not.toEqual([]);
    // Request ids are made at random and may hold the digits of a unit.
    const text = JSON.stringify(logLines().map((line) => ({ ...line, requestId: '' })));
    const personal = ['@tarn', 'bela', 'quist', 'jory', 'pedal sank', unitId, vin];
    for (const word of [...personal, 'a-wrong-password']) {
      const told = new RegExp(`(?<!\\d)${word}(?!\\d)`, 'i').exec(text);
      expect({ word, told: told?.[0] }).toEqual({ word, told: undefined });
    }
  });
});
