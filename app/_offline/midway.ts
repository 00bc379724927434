/** Tells the desk, with the request for the page, that this device is in the middle of a reading. */
export const midwayCookie = 'idlemark-midway';

const days = 14;

export function noteMidway(isMidway: boolean): void {
  const seconds = isMidway ? days * 86_400 : 0;
  // biome-ignore lint/suspicious/noDocumentCookie: the cookie store's own interface is not everywhere
  document.cookie = `${midwayCookie}=1; path=/bay; max-age=${seconds}; samesite=lax`;
}
