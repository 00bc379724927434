/** The page's search as the browser's own type; of a name given twice the first counts. */
export const searchOf = (given: Record<string, string | string[] | undefined>): URLSearchParams =>
  new URLSearchParams(
    Object.entries(given).flatMap(([name, value]) => {
      const first = Array.isArray(value) ? value[0] : value;
      return first === undefined ? [] : [[name, first]];
    }),
  );
