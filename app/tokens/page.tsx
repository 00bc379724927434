import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { ChoiceField, Field, SelectField } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import styles from '@/app/people/people.module.css';
import { PeopleForm } from '@/app/people/people-form';
import { database } from '@/db/handle';
import { apiTokens } from '@/db/reads/api-tokens';
import { people } from '@/db/reads/people';
import { may } from '@/lib/access';
import { apiScopes, scopeWords } from '@/lib/api-scopes';
import { issueAction, revokeAction } from './actions';

export const metadata: Metadata = { title: 'API tokens' };

const day = (date: Date) => date.toISOString().slice(0, 10);

export default async function TokensPage() {
  const person = await requireSignIn('/tokens');
  if (!may(person, 'change people')) forbidden();
  const { db } = await database();
  const now = new Date();
  const tokens = await apiTokens(db, person);
  const listed = await people(db, person, now);
  const standing = (token: (typeof tokens)[number]) => {
    if (token.revokedAt) return `Revoked ${day(token.revokedAt)}`;
    return token.expiresAt > now ? `Until ${day(token.expiresAt)}` : 'Run out';
  };
  return (
    <Shell person={person}>
      <Page
        title="API tokens"
        lede={
          <>
            Each lets one program act for one person, within its scopes and that person's rights.
            The routes are described in <a href="/api/v1/openapi.json">OpenAPI</a>.
          </>
        }
      >
        <div className="stack">
          <Panel title="Issued" flush={tokens.length > 0}>
            {tokens.length === 0 ? (
              <EmptyState>No token was issued yet.</EmptyState>
            ) : (
              <DataTable label="API tokens, newest first">
                <thead>
                  <tr>
                    <th scope="col">Used by</th>
                    <th scope="col">Acts for</th>
                    <th scope="col">Scopes</th>
                    <th scope="col">Standing</th>
                    <th scope="col">End it</th>
                  </tr>
                </thead>
                <tbody>
                  {tokens.map((token) => (
                    <tr key={token.id} className={token.revokedAt ? styles.barred : undefined}>
                      <th scope="row">{token.label}</th>
                      <td>{token.actsFor}</td>
                      <td>{token.scopes.join(', ')}</td>
                      <td>{standing(token)}</td>
                      <td>
                        {!token.revokedAt && (
                          <PeopleForm action={revokeAction}>
                            <Button type="submit" name="tokenId" value={token.id}>
                              Revoke<span className="visually-hidden"> {token.label}</span>
                            </Button>
                          </PeopleForm>
                        )}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            )}
          </Panel>
          <Panel title="Issue a token">
            <div className={styles.form}>
              <PeopleForm action={issueAction}>
                <Field id="label" name="label" label="What will use it" required />
                <SelectField id="personId" name="personId" label="Acts for">
                  {listed.people
                    .filter(({ isActive }) => isActive)
                    .map(({ id, name, role }) => (
                      <option key={id} value={id}>
                        {name}, {role}
                      </option>
                    ))}
                </SelectField>
                <fieldset id="scopes" tabIndex={-1}>
                  <legend className={styles.legend}>Scopes</legend>
                  {apiScopes.map((scope) => (
                    <ChoiceField
                      key={scope}
                      id={`scope-${scope}`}
                      name="scopes"
                      value={scope}
                      label={scopeWords[scope]}
                    />
                  ))}
                </fieldset>
                <SelectField id="days" name="days" label="Runs out after" defaultValue="365">
                  <option value="30">30 days</option>
                  <option value="90">90 days</option>
                  <option value="365">a year</option>
                </SelectField>
                <div>
                  <Button type="submit" main>
                    Issue the token
                  </Button>
                </div>
              </PeopleForm>
            </div>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
