'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { Field } from '@/app/_ui/field';
import { StatusLine } from '@/app/_ui/status-line';
import { makeAddress, revokeAddress } from './actions';

export function AddressForms({ hasAddress }: { readonly hasAddress: boolean }) {
  const [address, make, isMaking] = useActionState<string | null>(makeAddress, null);
  const [, revoke, isRevoking] = useActionState<null>(revokeAddress, null);
  return (
    <div className="stack">
      {address !== null && hasAddress && (
        <Field
          id="address"
          label="Your calendar address"
          hint="Shown this once. Whoever has it can read the plan as you see it: hand it to your own calendar program only."
          readOnly
          value={address}
          size={60}
          onFocus={(event) => event.currentTarget.select()}
        />
      )}
      <div className="row">
        <form action={make}>
          <Button type="submit" main disabled={isMaking}>
            {hasAddress ? 'Make a new address' : 'Make an address'}
          </Button>
        </form>
        {hasAddress && (
          <form action={revoke}>
            <Button type="submit" disabled={isRevoking}>
              Revoke it
            </Button>
          </form>
        )}
      </div>
      <StatusLine>{!hasAddress && 'No address works at present.'}</StatusLine>
    </div>
  );
}
