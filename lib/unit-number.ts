/** A unit's number as it stands on its tag and in every file: capitals, figures and hyphens. */
export const unitNumberPattern = /^[A-Z0-9][A-Z0-9-]{0,15}$/;
