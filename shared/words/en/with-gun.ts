/** Null: the machine names no guns apart. */
export type Gun = { gun: string | null };

export const withGun = (gun: string | null) => (gun === null ? '' : `With its “${gun}” gun: `);
