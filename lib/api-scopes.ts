/** What a token may be used for; its person's own rights bound it further, on every request. */
export const apiScopes = ['units:read', 'readings:read', 'readings:write'] as const;
export type ApiScope = (typeof apiScopes)[number];

export const scopeWords: Readonly<Record<ApiScope, string>> = {
  'units:read': 'List units with their marks',
  'readings:read': 'Read the readings of a unit',
  'readings:write': 'Record readings',
};
