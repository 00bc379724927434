import { expect, it } from 'vitest';
import { toldFault } from '@/db/log';

const withCause = (message: string, cause: Error) => new Error(message, { cause });

it('tells the fault of the database, not the values of the query', () => {
  const refused = Object.assign(
    new Error('duplicate key value violates unique constraint "person_email"'),
    {
      code: '23505',
      constraint: 'person_email',
      detail: 'Key (email)=(tal@tarn.example) already exists.',
    },
  );
  const told = toldFault(
    withCause('Failed query: insert into person\nparams: Tal Brook,tal@tarn.example', refused),
  );
  expect(told).toMatchObject({ code: '23505', constraint: 'person_email' });
  expect(told.message).toBe('duplicate key value violates unique constraint …');
  expect(JSON.stringify(told)).not.toMatch(/tarn|Brook|Key \(/);
  expect(told.frames[0]).toMatch(/^at /);
});

it('masks what a parser quotes, and addresses', () => {
  const spoilt = toldFault(new SyntaxError(`Unexpected token 'T', "Tal's note" is not JSON`));
  expect(spoilt.message).not.toMatch(/Tal|note/);
  expect(toldFault(new Error('mail to tal@tarn.example failed')).message).toBe('mail to … failed');
  expect(toldFault('Tal Brook')).toMatchObject({ name: 'string', message: '' });
});
