import { AccessDenied } from '@/lib/access';

/** Acts; where the actor may not, gives what `denied` makes of the reason. Other errors go on. */
export async function unlessDenied<Value, Denied>(
  act: () => Promise<Value>,
  denied: (why: string) => Denied,
): Promise<Value | Denied> {
  try {
    return await act();
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return denied(`${error.message}.`);
  }
}
