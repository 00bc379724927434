let opened: BroadcastChannel | undefined;

function channel(): BroadcastChannel {
  opened ??= new BroadcastChannel('idlemark outbox');
  return opened;
}

/** What the device keeps has changed: other tabs of the card read it again. */
export const tellOtherTabs = (): void => channel().postMessage('look again');

/** Returns what stops the hearing. */
export function hearOtherTabs(lookAgain: () => void): () => void {
  channel().onmessage = lookAgain;
  return () => {
    channel().onmessage = null;
  };
}
