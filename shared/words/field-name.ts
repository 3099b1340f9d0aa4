/** Says where in a value something stands by the words for its fields: "supply 1 I₁max". */
export const fieldNamer =
  (names: Readonly<Record<string, string>>) =>
  /** @param path Such as `supply[0].I1max`. */
  (path: string): string =>
    path
      .split('.')
      .map((part) => {
        const [key = '', place] = part.split(/[[\]]/);
        return (names[key] ?? key) + (place === undefined ? '' : ` ${Number(place) + 1}`);
      })
      .join(' ');
