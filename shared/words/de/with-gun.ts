export const withGun = (gun: string | null) => (gun === null ? '' : `Mit dem Brenner „${gun}“: `);
