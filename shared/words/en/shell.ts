/** What the page says without its server, and when the server has a newer page. */
export const shell = {
  heading: 'No connection',
  since: (since: string | null) =>
    since === null ? 'No connection to the server.' : `No connection to the server since ${since}.`,
  what:
    'What you see is the shell of the page, kept on this device. No volts, no arcs and no ' +
    'verdicts are kept: nothing here is live. It goes on by itself once the server answers.',
  notFetched: 'This part of the page could not be fetched.',
  tryNow: 'Try now',
  help:
    'Is this device on the shop’s network? Is the computer that runs Stiffline switched on? ' +
    'Sensors keep the arcs they measured until the server has taken them.',
  newer: 'The server has a newer page than this one.',
  loadNewer: 'Load it',
  printed: (when: string, where: string) => `Printed ${when}, from ${where}`,
};
